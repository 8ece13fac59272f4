// A reflector cup traced backwards: in by its mouth, from wall to wall, until the ray crosses the emitter's plane on
// its way down. passCup ends what meets the wall below the focal plane or the emitter, whichever is lower; so does
// this.
import { coneOut } from './cone.ts'
import * as KIND from './kindRow.ts'
import { DX, DY, DZ, W, X, Y, Z } from './records.ts'

const BOUNCES = 40

/**
 * Height of the mouth, mm above the face: where the paraboloid r² = 4 f (z − z_vertex) has its exit diameter. `at`:
 * offset of the kind record.
 */
export function cupMouth(kinds: Float32Array, at: number): number {
  const f = kinds[at + KIND.cupFocal]!
  const half = 0.5 * kinds[at + KIND.cupExit]!
  return kinds[at + KIND.z]! - kinds[at + KIND.cupZ]! - f + (half * half) / (4 * f)
}

/**
 * Traces the ray on to the emitter's plane, in place. It starts in the mouth, or inside where an earlier call left
 * it. True when it stands in the emitter's plane, looking down: call again to go on from there.
 * False when it has left the cup or ended. `count[0]` counts the bounces of all calls, 40 at most.
 */
export function seekInCup(
  ray: Float64Array,
  kinds: Float32Array,
  at: number,
  cx: number,
  cy: number,
  count: Int32Array,
): boolean {
  const f = kinds[at + KIND.cupFocal]!
  const half = 0.5 * kinds[at + KIND.cupExit]!
  const zEmitter = kinds[at + KIND.z]!
  const zFocus = zEmitter - kinds[at + KIND.cupZ]!
  const zVertex = zFocus - f
  const zMouth = zVertex + (half * half) / (4 * f)
  const zBase = Math.min(zFocus, zEmitter)
  while (count[0]! < BOUNCES) {
    const x = ray[X]! - cx
    const y = ray[Y]! - cy
    const z = ray[Z]! - zVertex
    const dx = ray[DX]!
    const dy = ray[DY]!
    const dz = ray[DZ]!
    const s = coneOut(dx * dx + dy * dy, x * dx + y * dy - 2 * f * dz, Math.min(x * x + y * y - 4 * f * z, 0))
    if (dz < 0 && ray[Z]! > zEmitter) {
      const sEmitter = (zEmitter - ray[Z]!) / dz
      if (sEmitter <= s) {
        ray[X]! += sEmitter * dx
        ray[Y]! += sEmitter * dy
        ray[Z] = zEmitter
        return true
      }
    }
    if (dz > 0 && (zMouth - ray[Z]!) / dz <= s) return false
    ray[X]! += s * dx
    ray[Y]! += s * dy
    ray[Z]! += s * dz
    if (ray[Z]! < zBase - 1e-9) return false
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
    count[0]!++
  }
  return false
}
