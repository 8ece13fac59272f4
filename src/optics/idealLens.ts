// The thin ideal lens: no loss, exact tangent law. A check mode; no real lens does this at large apertures.

import * as P from './params.ts'
import { DX, DY, DZ, X, Y } from './records.ts'

/**
 * Bends the ray at a thin ideal lens, in place: slopes change by −x/f and −y/f (exact tangent law), the sense along
 * the axis stays. No loss; f in mm from the parameters, not 0.
 */
export function passIdeal(ray: Float64Array, p: Float32Array): void {
  const f = p[P.lensFocal]!
  const along = Math.abs(ray[DZ]!)
  const u = ray[DX]! / along - ray[X]! / f
  const v = ray[DY]! / along - ray[Y]! / f
  const scale = 1 / Math.sqrt(1 + u * u + v * v)
  ray[DX] = u * scale
  ray[DY] = v * scale
  ray[DZ] = ray[DZ]! > 0 ? scale : -scale
}
