// Edits of a spectrum's samples below 380 nm, relative to its peak in the light, as data sheets plot them.
import type { Spectrum } from '../../../lamp/schema.ts'
import { spectrumPower } from '../../../library/spectra.ts'
import { tidy } from '../../common/units.ts'

/** Wavelengths of the samples, nm. */
export const ULTRAVIOLET_NM: readonly number[] = Array.from({ length: 16 }, (_, i) => 300 + 5 * i)

const samplesOf = (s: Spectrum): readonly number[] | undefined => (s.kind === 'table' ? s.ultraviolet : undefined)

export const hasUltraviolet = (s: Spectrum): boolean => samplesOf(s) !== undefined

const peakOf = (s: Spectrum): number => spectrumPower(s).reduce((a, b) => Math.max(a, b))

/** Any spectrum as 81 samples: the same light, but for a line, which is shared between its two neighbours. */
export const asSamples = (s: Spectrum): Spectrum =>
  s.kind === 'table' ? s : { kind: 'table', power: [...spectrumPower(s)] }

/** Begins with as much everywhere as at 380 nm, which is on the hot side of an edge that falls; taken away, it is not known. */
export function withUltraviolet(s: Spectrum, stated: boolean): Spectrum {
  if (s.kind !== 'table') return s
  const { ultraviolet, ...light } = s
  if (!stated) return light
  return ultraviolet ? s : { ...light, ultraviolet: ULTRAVIOLET_NM.map(() => s.power[0] ?? 0) }
}

/** One sample, of the peak; null where none are given. */
export function ultravioletAt(s: Spectrum, i: number): number | null {
  const sample = samplesOf(s)?.[i]
  return sample === undefined ? null : tidy(sample / peakOf(s))
}

export function withUltravioletAt(s: Spectrum, i: number, ofPeak: number): Spectrum {
  if (s.kind !== 'table' || !s.ultraviolet) return s
  return { ...s, ultraviolet: s.ultraviolet.map((v, j) => (j === i ? tidy(ofPeak * peakOf(s)) : v)) }
}
