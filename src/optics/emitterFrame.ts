// A tilted emitter's own frame.
import * as FRAME from './frameRow.ts'
import { DX, DY, DZ, X, Y, Z } from './records.ts'

/**
 * The ray's place (mm) and direction from the emitter's own frame into the lamp's, in place: p = R q + t. `at`: offset of the frame record,
 * whose rotation holds single precision: the direction is made a unit vector again. Textbook geometry.
 */
export function leaveFrame(ray: Float64Array, frames: Float32Array, at: number): void {
  const m = at + FRAME.rotation
  const x = ray[X]!
  const y = ray[Y]!
  const z = ray[Z]!
  const dx = ray[DX]!
  const dy = ray[DY]!
  const dz = ray[DZ]!
  ray[X] = frames[m]! * x + frames[m + 1]! * y + frames[m + 2]! * z + frames[at + FRAME.x]!
  ray[Y] = frames[m + 3]! * x + frames[m + 4]! * y + frames[m + 5]! * z + frames[at + FRAME.y]!
  ray[Z] = frames[m + 6]! * x + frames[m + 7]! * y + frames[m + 8]! * z + frames[at + FRAME.z]!
  const ex = frames[m]! * dx + frames[m + 1]! * dy + frames[m + 2]! * dz
  const ey = frames[m + 3]! * dx + frames[m + 4]! * dy + frames[m + 5]! * dz
  const ez = frames[m + 6]! * dx + frames[m + 7]! * dy + frames[m + 8]! * dz
  const scale = 1 / Math.sqrt(ex * ex + ey * ey + ez * ez)
  ray[DX] = ex * scale
  ray[DY] = ey * scale
  ray[DZ] = ez * scale
}

/** Undoes `leaveFrame`: place and direction of `ray` in the emitter's own frame, into `own`, whose other slots become the ray's. */
export function enterFrame(own: Float64Array, ray: Float64Array, frames: Float32Array, at: number): void {
  own.set(ray)
  const m = at + FRAME.rotation
  const x = ray[X]! - frames[at + FRAME.x]!
  const y = ray[Y]! - frames[at + FRAME.y]!
  const z = ray[Z]! - frames[at + FRAME.z]!
  const dx = ray[DX]!
  const dy = ray[DY]!
  const dz = ray[DZ]!
  own[X] = frames[m]! * x + frames[m + 3]! * y + frames[m + 6]! * z
  own[Y] = frames[m + 1]! * x + frames[m + 4]! * y + frames[m + 7]! * z
  own[Z] = frames[m + 2]! * x + frames[m + 5]! * y + frames[m + 8]! * z
  const ex = frames[m]! * dx + frames[m + 3]! * dy + frames[m + 6]! * dz
  const ey = frames[m + 1]! * dx + frames[m + 4]! * dy + frames[m + 7]! * dz
  const ez = frames[m + 2]! * dx + frames[m + 5]! * dy + frames[m + 8]! * dz
  const scale = 1 / Math.sqrt(ex * ex + ey * ey + ez * ez)
  own[DX] = ex * scale
  own[DY] = ey * scale
  own[DZ] = ez * scale
}
