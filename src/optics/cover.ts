// A plane parallel plate. Local frame as of a solid lens: z = 0 on the side towards the target, the other at z = −thickness.
// References: [1] M. Born, E. Wolf, Principles of Optics, 7th ed., 1.5.2 (Fresnel formulae), 7.6.1 (multiple reflections).
import { draw } from './draws.ts'
import { absorb, crossPlane } from './interface.ts'
import { outside, pastRim } from './outline.ts'
import * as P from './params.ts'
import {
  DX,
  DY,
  DZ,
  ENDS_AT_LIMIT,
  ENDS_AT_RIM,
  ETA,
  INDEX,
  LEAVES_FLAT,
  LEAVES_WORKED,
  LENS_STEP_LIMIT,
  PATH,
  X,
  Y,
  Z,
} from './records.ts'

/**
 * Traces one passage through a cover, in place (mm, local frame in and out); the ray stands on the side that it comes from, and goes to and
 * fro between the two as often as its draws say [1]. `coated`: reflectance of a surface at every angle; below 0, by Fresnel. Returns how it
 * ends: LEAVES_WORKED (towards the target), LEAVES_FLAT, ENDS_AT_RIM or ENDS_AT_LIMIT.
 */
export function passCover(ray: Float64Array, stream: Int32Array, p: Float32Array, coated: number): number {
  const thickness = p[P.lensThickness]!
  ray[PATH] = 0
  let state = 0
  ray[ETA] = 1 / ray[INDEX]!
  const down = ray[DZ]! < 0
  if (!crossSurface(ray, stream, coated)) return down ? LEAVES_WORKED : LEAVES_FLAT
  ray[ETA] = ray[INDEX]!
  for (let step = 0; state === 0 && step < LENS_STEP_LIMIT; step++) {
    const s = ray[DZ]! === 0 ? 0 : ((ray[DZ]! > 0 ? 0 : -thickness) - ray[Z]!) / ray[DZ]!
    ray[X]! += s * ray[DX]!
    ray[Y]! += s * ray[DY]!
    ray[PATH]! += s
    if (ray[DZ]! === 0 || outside(p, ray[X]!, ray[Y]!)) {
      ray[PATH]! -= Math.min(s, pastRim(p, ray[X]!, ray[Y]!, ray[DX]!, ray[DY]!))
      state = ENDS_AT_RIM
    } else {
      const up = ray[DZ]! > 0
      ray[Z] = up ? 0 : -thickness
      if (crossSurface(ray, stream, coated)) state = up ? LEAVES_WORKED : LEAVES_FLAT
    }
  }
  absorb(ray, p)
  return state === 0 ? ENDS_AT_LIMIT : state
}

/** As crossPlane, or with a stated reflectance in place of Fresnel's; light that Snell's law lets through nowhere is reflected. */
function crossSurface(ray: Float64Array, stream: Int32Array, coated: number): boolean {
  if (coated < 0) return crossPlane(ray, stream)
  const eta = ray[ETA]!
  const dz = ray[DZ]!
  const sin2 = eta * eta * (1 - dz * dz)
  if (sin2 < 1 && draw(stream) >= coated) {
    const cosOut = Math.sqrt(1 - sin2)
    ray[DX] = eta * ray[DX]!
    ray[DY] = eta * ray[DY]!
    ray[DZ] = dz < 0 ? -cosOut : cosOut
    return true
  }
  ray[DZ] = -dz
  return false
}
