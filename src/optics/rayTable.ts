// A source of single rays: a table of rays with weights, of which each emitted ray is one. The light is known no better than by its rays, so
// each batch of a run draws from a part of them that no other batch has: errors taken from the batches then hold the chance of the rays too.
// Layout in a Float32Array: of each group where its rows begin (from the table's own beginning) and how many they are; then the rows.
// The device declines such sources (gpuEngine.ts), and no shader has a twin of this file.

import * as E from './emitterRow.ts'
import * as Draw from './firstDraws.ts'
import * as KIND from './kindRow.ts'
import { DX, DY, DZ, INDEX, LUM, NM_COUNT, NM_FIRST, NM_STEP, WAVELENGTH, X, Y, Z } from './records.ts'

/** KIND.profile of such a source. */
export const BY_RAYS = 3
/** As many as batches of a run. */
export const GROUPS = 16
/** Row of a ray: place from the emitter's, mm; direction; nm, 0 where the emitter's spectrum counts; its cell of the alias table. */
export const ROW_X = 0
export const ROW_DX = 3
export const ROW_NM = 6
export const ROW_SHARE = 7
/** Row number within the group. */
export const ROW_ALIAS = 8
export const ROW_SIZE = 9

/**
 * Place (mm), unit direction and wavelength (nm; 0: the emitter's spectrum) of a ray of the table, drawn by weight from the group of
 * `batch`, into the ray's slots: alias method (A. J. Walker 1974; M. D. Vose 1991). `at`, `kind`: offsets of the emitter's and of the kind's record.
 */
export function leaveByRay(
  ray: Float64Array,
  emitters: Float32Array,
  at: number,
  kinds: Float32Array,
  kind: number,
  tables: Float32Array,
  first: Float64Array,
  batch: number,
): void {
  const table = kinds[kind + KIND.profileAt]!
  const start = table + tables[table + 2 * batch]!
  const count = tables[table + 2 * batch + 1]!
  const scaled = first[Draw.pointU]! * count
  const cell = Math.min(scaled | 0, count - 1)
  let row = start + cell * ROW_SIZE
  if (scaled - cell >= tables[row + ROW_SHARE]!) row = start + tables[row + ROW_ALIAS]! * ROW_SIZE
  const cos = emitters[at + E.cos]!
  const sin = emitters[at + E.sin]!
  const x = tables[row + ROW_X]!
  const y = tables[row + ROW_X + 1]!
  ray[X] = emitters[at + E.x]! + cos * x - sin * y
  ray[Y] = emitters[at + E.y]! + sin * x + cos * y
  ray[Z] = kinds[kind + KIND.z]! + tables[row + ROW_X + 2]!
  const dx = tables[row + ROW_DX]!
  const dy = tables[row + ROW_DX + 1]!
  const dz = tables[row + ROW_DX + 2]!
  // The table holds single precision.
  const scale = 1 / Math.sqrt(dx * dx + dy * dy + dz * dz)
  ray[DX] = (cos * dx - sin * dy) * scale
  ray[DY] = (sin * dx + cos * dy) * scale
  ray[DZ] = dz * scale
  ray[WAVELENGTH] = tables[row + ROW_NM]!
}

/** Index and luminous weight (lm/W) at the ray's own wavelength, by linear interpolation, into its slots. */
export function takeWavelength(ray: Float64Array, lensIndex: Float32Array, lumPerWatt: Float32Array): void {
  const s = (ray[WAVELENGTH]! - NM_FIRST) * (1 / NM_STEP)
  const i = Math.max(0, Math.min(NM_COUNT - 2, s | 0))
  const f = s - i
  ray[INDEX] = lensIndex[i]! + f * (lensIndex[i + 1]! - lensIndex[i]!)
  ray[LUM] = lumPerWatt[i]! + f * (lumPerWatt[i + 1]! - lumPerWatt[i]!)
}
