// Into an element's own frame and out of it. Local coordinates: x and y from the optical axis, z as the lens's functions want it, out of
// the body on the worked side; a ray arrives there in its own direction.
import * as ELEMENT from './elementRow.ts'
import * as P from './params.ts'
import { DX, DY, DZ, INDEX, NM_COUNT, NM_FIRST, NM_STEP, WAVELENGTH, X, Y, Z } from './records.ts'

/** z of the ray in the frame of the element at offset `at` of `rows`, mm. */
export function frameZ(ray: Float64Array, rows: Float32Array, at: number): number {
  const z = ray[Z]! - rows[at + ELEMENT.z]!
  if (rows[at + ELEMENT.turned]! === 0) return z
  return (
    rows[at + ELEMENT.r02]! * (ray[X]! - rows[at + ELEMENT.x]!) +
    rows[at + ELEMENT.r12]! * (ray[Y]! - rows[at + ELEMENT.y]!) +
    rows[at + ELEMENT.r22]! * z
  )
}

/** The ray's direction along the frame's z: the cosine to the element's normal. */
export function frameDz(ray: Float64Array, rows: Float32Array, at: number): number {
  if (rows[at + ELEMENT.turned]! === 0) return ray[DZ]!
  return rows[at + ELEMENT.r02]! * ray[DX]! + rows[at + ELEMENT.r12]! * ray[DY]! + rows[at + ELEMENT.r22]! * ray[DZ]!
}

/**
 * The ray from the lamp's frame into the element's (Rᵀ of the rotation about the origin), in place; x and y stay measured from the piece's
 * middle. `at`: offset of the element's row.
 */
export function intoFrame(ray: Float64Array, rows: Float32Array, at: number): void {
  const x = ray[X]! - rows[at + ELEMENT.x]!
  const y = ray[Y]! - rows[at + ELEMENT.y]!
  const z = ray[Z]! - rows[at + ELEMENT.z]!
  ray[X] = x
  ray[Y] = y
  ray[Z] = z
  if (rows[at + ELEMENT.turned]! === 0) return
  const dx = ray[DX]!
  const dy = ray[DY]!
  const dz = ray[DZ]!
  const a = at + ELEMENT.r00
  ray[X] = rows[a]! * x + rows[a + 3]! * y + rows[a + 6]! * z
  ray[Y] = rows[a + 1]! * x + rows[a + 4]! * y + rows[a + 7]! * z
  ray[Z] = rows[a + 2]! * x + rows[a + 5]! * y + rows[a + 8]! * z
  ray[DX] = rows[a]! * dx + rows[a + 3]! * dy + rows[a + 6]! * dz
  ray[DY] = rows[a + 1]! * dx + rows[a + 4]! * dy + rows[a + 7]! * dz
  ray[DZ] = rows[a + 2]! * dx + rows[a + 5]! * dy + rows[a + 8]! * dz
}

/** The way back, in place. One Newton step keeps the direction's length at 1: the rotation is in single precision. */
export function outOfFrame(ray: Float64Array, rows: Float32Array, at: number): void {
  if (rows[at + ELEMENT.turned]! > 0) {
    const x = ray[X]!
    const y = ray[Y]!
    const z = ray[Z]!
    const dx = ray[DX]!
    const dy = ray[DY]!
    const dz = ray[DZ]!
    const a = at + ELEMENT.r00
    ray[X] = rows[a]! * x + rows[a + 1]! * y + rows[a + 2]! * z
    ray[Y] = rows[a + 3]! * x + rows[a + 4]! * y + rows[a + 5]! * z
    ray[Z] = rows[a + 6]! * x + rows[a + 7]! * y + rows[a + 8]! * z
    const ex = rows[a]! * dx + rows[a + 1]! * dy + rows[a + 2]! * dz
    const ey = rows[a + 3]! * dx + rows[a + 4]! * dy + rows[a + 5]! * dz
    const ez = rows[a + 6]! * dx + rows[a + 7]! * dy + rows[a + 8]! * dz
    const scale = 1.5 - 0.5 * (ex * ex + ey * ey + ez * ez)
    ray[DX] = ex * scale
    ray[DY] = ey * scale
    ray[DZ] = ez * scale
  }
  ray[X]! += rows[at + ELEMENT.x]!
  ray[Y]! += rows[at + ELEMENT.y]!
  ray[Z]! += rows[at + ELEMENT.z]!
}

/** From the frame to the local coordinates of the optics (solidLens.ts, grooves.ts), in place: mirrored where the worked side faces the source. */
export function intoLocal(ray: Float64Array, p: Float32Array): void {
  const sign = p[P.lensSign]!
  ray[X]! += p[P.lensMidX]!
  ray[Y]! += p[P.lensMidY]!
  ray[Z] = sign * (ray[Z]! - p[P.lensZ]!)
  ray[DZ] = sign * ray[DZ]!
}

/** The way back, in place. */
export function outOfLocal(ray: Float64Array, p: Float32Array): void {
  const sign = p[P.lensSign]!
  ray[X]! -= p[P.lensMidX]!
  ray[Y]! -= p[P.lensMidY]!
  ray[Z] = p[P.lensZ]! + sign * ray[Z]!
  ray[DZ] = sign * ray[DZ]!
}

/** Index of the element's material at the ray's wavelength into the ray's slot: linear between NM_COUNT values from `at` on. */
export function setIndex(ray: Float64Array, table: Float32Array, at: number): void {
  const s = (ray[WAVELENGTH]! - NM_FIRST) * (1 / NM_STEP)
  const i = Math.max(0, Math.min(NM_COUNT - 2, s | 0))
  const below = table[at + i]!
  ray[INDEX] = below + (s - i) * (table[at + i + 1]! - below)
}
