// A lens's own material as it is edited: begun from the material that the lens has, and carried from one way of giving it to another.
import { type OwnMaterial, ownAbsorption, ownIndex } from '../../../lamp/material.ts'
import { lensAbsorption, lensIndex, materialOf, type Refracting } from '../../../library/lensMaterial.ts'
import { abbeNumber, cauchyFromAbbe, LINE_C_NM, LINE_D_NM, LINE_F_NM } from '../../../num/dispersion.ts'
import type { Piece } from '../../common/piece.ts'

export type IndexBy = OwnMaterial['index']['by']
export type AbsorptionBy = OwnMaterial['absorption']['by']

/** Wavelengths that a new table begins with, nm. */
const SAMPLES_NM = [380, 420, 480, 540, 600, 660, 720, 780]

const digits = (x: number, count: number) => Number(x.toPrecision(count))
const clamp = (v: number, low: number, high: number) => Math.min(high, Math.max(low, v))

/** A lens or a cover, which have a material; null: what has none. */
export const refracting = (piece: Piece | null): Refracting | null =>
  piece && piece.kind !== 'ideal' && piece.kind !== 'diffuser' ? piece : null

export const ownMaterialOf = (piece: Piece | null): OwnMaterial | null => refracting(piece)?.ownMaterial ?? null

/** From what the lens is made of now: its index and absorption as they stand; its limits not known, since those are the other material's. */
export function newOwnMaterial(lens: Refracting): OwnMaterial {
  const row = materialOf(lens)
  const index = (nm: number) => lensIndex(lens, nm)
  const absorption = lensAbsorption(lens)
  return {
    name: 'Own material',
    family: row.family,
    index: byAbbe(index),
    absorption: {
      by: 'value',
      perMm: digits(typeof absorption === 'number' ? absorption : absorption(550), 4),
    },
    densityKgM3: row.densityKgM3,
    keepBelowC: null,
    deflectionC: null,
    ignitionC: null,
  }
}

const byAbbe = (index: (nm: number) => number): OwnMaterial['index'] => ({
  by: 'abbe',
  nd: digits(index(LINE_D_NM), 6),
  abbe: digits(clamp(abbeNumber(index), 10, 120), 5),
})

/** The same index, as near as the other way of giving it comes: at the lines F, d and C. */
export function indexGivenBy(own: OwnMaterial, by: IndexBy): OwnMaterial['index'] {
  const index = ownIndex(own)
  if (own.index.by === by) return own.index
  if (by === 'abbe') return byAbbe(index)
  if (by === 'cauchy') {
    const { a, bUm2 } = cauchyFromAbbe(index(LINE_D_NM), abbeNumber(index))
    return { by, a: digits(a, 6), bUm2: digits(bUm2, 5), cUm4: 0 }
  }
  if (by === 'table')
    return { by, rows: SAMPLES_NM.map((wavelengthNm) => ({ wavelengthNm, index: digits(index(wavelengthNm), 6) })) }
  return { by, terms: [oneTerm(index)] }
}

/** n² = 1 + Bλ²/(λ² − C) through the lines F and C: 1/(n² − 1) = (1 − C/λ²)/B is straight in 1/λ². */
function oneTerm(index: (nm: number) => number): { b: number; cUm2: number } {
  const at = (nm: number) => ({ x: 1e6 / nm ** 2, y: 1 / (index(nm) ** 2 - 1) })
  const f = at(LINE_F_NM)
  const c = at(LINE_C_NM)
  const slope = (f.y - c.y) / (f.x - c.x)
  const start = c.y - slope * c.x
  return { b: digits(1 / start, 6), cUm2: digits(clamp(-slope / start, 0, 0.09), 5) }
}

/** The same absorption, given the other way; tables begin with a few wavelengths. */
export function absorptionGivenBy(own: OwnMaterial, by: AbsorptionBy): OwnMaterial['absorption'] {
  if (own.absorption.by === by) return own.absorption
  const at = ownAbsorption(own)
  if (by === 'value') return { by, perMm: digits(at(550), 4) }
  if (by === 'table')
    return { by, rows: SAMPLES_NM.map((wavelengthNm) => ({ wavelengthNm, perMm: digits(at(wavelengthNm), 4) })) }
  const thicknessMm = 10
  const share = (nm: number) => clamp(digits(Math.exp(-at(nm) * thicknessMm), 4), 1e-6, 1)
  return { by, thicknessMm, rows: SAMPLES_NM.map((wavelengthNm) => ({ wavelengthNm, share: share(wavelengthNm) })) }
}

/** “n_d 1.4925, Abbe number 59.4”, whatever the index is given by. */
export function indexWords(own: OwnMaterial): string {
  const index = ownIndex(own)
  return `Index ${index(LINE_D_NM).toFixed(4)} at 587.6 nm, Abbe number ${abbeNumber(index).toFixed(1)}.`
}

/** Internal transmittance of a sheet at 550 nm, per cent, for the note. */
export const passesWords = (own: OwnMaterial, thicknessMm: number): string =>
  `${(100 * Math.exp(-ownAbsorption(own)(550) * thicknessMm)).toFixed(1)} % of the light at 550 nm passes inside of ${Number(thicknessMm.toFixed(2))} mm.`
