// Ultraviolet of a lamp's emitters, from their spectra: it isn't traced, and taken to go wherever the light goes.
import { placeEmitters } from '../lamp/place.ts'
import type { Lamp, Spectrum } from '../lamp/schema.ts'
import { actinicWeight, nearUltravioletWeight } from '../library/eyeWeights.ts'
import { spectrumPower } from '../library/spectra.ts'

/** Weighted ultraviolet watts for each watt of light from 380 to 780 nm, of the emitters that have most of it. */
export interface Ultraviolet {
  /** Where the spectrum begins that begins highest. */
  fromNm: number
  actinicPerW: number
  nearPerW: number
}

const LIGHT_FROM_NM = 380
const ULTRAVIOLET_FROM_NM = 300
const STEP_NM = 5

/**
 * W weighted by S(λ) and by the near-ultraviolet band for each W of light of a spectrum, trapezoid rule in steps of 5 nm, and
 * where it begins, nm: 300 with ultraviolet in the document, else 380. Zero for a line or a spectrum without either.
 * Weights: IEC 62471:2006.
 */
export function ultravioletOf(spectrum: Spectrum): Ultraviolet {
  const power = spectrumPower(spectrum)
  const below = spectrum.kind === 'table' ? spectrum.ultraviolet : undefined
  const fromNm = below ? ULTRAVIOLET_FROM_NM : LIGHT_FROM_NM
  const all = [...(below ?? []), ...power]
  const light = trapezoid(power, () => 1)
  const share = (weight: (nm: number) => number) =>
    light > 0 ? trapezoid(all, (i) => weight(fromNm + STEP_NM * i)) / light : 0
  return { fromNm, actinicPerW: share(actinicWeight), nearPerW: share(nearUltravioletWeight) }
}

function trapezoid(power: ArrayLike<number>, weight: (i: number) => number): number {
  let sum = 0
  for (let i = 0; i < power.length; i++) sum += power[i]! * weight(i) * (i === 0 || i === power.length - 1 ? 0.5 : 1)
  return sum
}

/** The greatest of a lamp's emitters, of each figure (see ultravioletOf); 0 without emitters. */
export function lampUltraviolet(lamp: Lamp): Ultraviolet {
  const each = placeEmitters(lamp).map((p) => ultravioletOf(p.emitter.spectrum))
  const greatest = (of: (u: Ultraviolet) => number, from: number) => each.reduce((m, u) => Math.max(m, of(u)), from)
  return {
    fromNm: greatest((u) => u.fromNm, ULTRAVIOLET_FROM_NM),
    actinicPerW: greatest((u) => u.actinicPerW, 0),
    nearPerW: greatest((u) => u.nearPerW, 0),
  }
}
