// A reflector cup: paraboloid of revolution about its own axis, vertex down, specular. r² = 4 f (z − z_vertex).
import { coneOut } from './cone.ts'
import * as KIND from './kindRow.ts'
import { DX, DY, DZ, W, X, Y, Z } from './records.ts'

const BOUNCES = 40

/**
 * Traces the ray from the emitter out of the cup's mouth, in place (mm, unit direction, weight × reflectance at each
 * bounce). (cx, cy): the cup's axis; zFocus: height of its focus, mm; `at`: offset of the kind record.
 * True when it leaves by the mouth; false when it comes down through the focal plane inside the cup (lost on the
 * board) or after 40 bounces. Weight lost is booked by the caller. Paraboloid and mirror law: textbook geometry.
 */
export function passCup(
  ray: Float64Array,
  kinds: Float32Array,
  at: number,
  cx: number,
  cy: number,
  zFocus: number,
): boolean {
  const f = kinds[at + KIND.cupFocal]!
  const half = 0.5 * kinds[at + KIND.cupExit]!
  const zVertex = zFocus - f
  const zMouth = zVertex + (half * half) / (4 * f)
  const zBase = Math.min(zFocus, ray[Z]!)
  for (let bounce = 0; bounce < BOUNCES; bounce++) {
    const x = ray[X]! - cx
    const y = ray[Y]! - cy
    const z = ray[Z]! - zVertex
    const dx = ray[DX]!
    const dy = ray[DY]!
    const dz = ray[DZ]!
    const s = coneOut(dx * dx + dy * dy, x * dx + y * dy - 2 * f * dz, Math.min(x * x + y * y - 4 * f * z, 0))
    const toMouth = dz > 0 ? (zMouth - ray[Z]!) / dz : Number.POSITIVE_INFINITY
    if (toMouth <= s || ray[Z]! >= zMouth) {
      const t = Math.max(toMouth, 0)
      ray[X]! += t * dx
      ray[Y]! += t * dy
      ray[Z]! += t * dz
      return dz > 0
    }
    ray[X]! += s * dx
    ray[Y]! += s * dy
    ray[Z]! += s * dz
    if (ray[Z]! < zBase - 1e-9) return false
    // inward normal of r² − 4 f z = 0
    let nx = -(ray[X]! - cx)
    let ny = -(ray[Y]! - cy)
    let nz = 2 * f
    const scale = 1 / Math.sqrt(nx * nx + ny * ny + nz * nz)
    nx *= scale
    ny *= scale
    nz *= scale
    const cos = dx * nx + dy * ny + dz * nz
    ray[DX] = dx - 2 * cos * nx
    ray[DY] = dy - 2 * cos * ny
    ray[DZ] = dz - 2 * cos * nz
    ray[W]! *= kinds[at + KIND.cupRho]!
  }
  return false
}
