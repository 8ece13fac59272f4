// How far and how wide it is lit: illuminance in the beam, and what the eye knows such a level from.
// References: [1] EN 13201-2:2015, lighting classes: P1 15 lx to P6 2 lx of mean horizontal illuminance. [2] EN 12464-1:2021: 100 lx in corridors,
// 500 lx for writing and reading in offices. [3] ANSI/NEMA FL 1-2009: beam distance where the peak gives 0.25 lx. [1] and [2] from memory.
import { linear } from '../../../num/interpolate.ts'
import type { NightLight } from './light.ts'

/** Least illuminance, lx, and what it is like. Where no source is named: common experience, from memory. */
const LEVELS: readonly { lx: number; words: string }[] = [
  { lx: 20_000, words: 'sunlight' },
  { lx: 1500, words: 'an overcast day' },
  // [2]: 500 lx.
  { lx: 300, words: 'an office' },
  // [2]: between corridors and work.
  { lx: 100, words: 'a room to read in' },
  { lx: 30, words: 'a dim room' },
  // [1]: P6 to P1, and brighter crossings.
  { lx: 2, words: 'a lit street' },
  { lx: 0.5, words: 'deep dusk' },
  // [3]: 0.25 lx.
  { lx: 0.12, words: 'a full moon' },
  { lx: 0.02, words: 'a half moon' },
  { lx: 0.001, words: 'starlight' },
]

/** “a lit street”: an everyday comparison for an illuminance, lx ≥ 0. */
export const knownLevel = (lx: number): string => LEVELS.find((level) => lx >= level.lx)?.words ?? 'no light'

/** Levels that say how far a beam reaches: reading [2], the mean of a quiet street, P4 of [1], and the moon's of [3]. */
export const REACH_LEVELS = [
  { lx: 100, words: 'a room to read in' },
  { lx: 5, words: 'a lit street' },
  { lx: 0.25, words: 'a full moon' },
] as const

/** lx on a surface square to the axis at so many metres: E = I e^(−σd) / d². `perM`: σ of the haze, 1/m. */
export const luxInBeam = (axialCd: number, perM: number, distanceM: number): number =>
  (axialCd * Math.exp(-perM * distanceM)) / distanceM ** 2

/** m to where the axis gives `lx`: without haze √(I/lx), otherwise by bisection between 0 and that. 0 where there is no light. */
export function reachM(axialCd: number, perM: number, lx: number): number {
  let far = Math.sqrt(axialCd / lx)
  if (perM === 0 || far === 0) return far
  let near = 0
  for (let i = 0; i < 60; i++) {
    const middle = (near + far) / 2
    if (luxInBeam(axialCd, perM, middle) > lx) near = middle
    else far = middle
  }
  return (near + far) / 2
}

/**
 * m from the axis to where a surface square to the light gets less than `lx` for the first time, at so many metres, by the mean round the axis:
 * E = I(θ) e^(−σr) / r², r = d / cos θ. Null where the axis itself has less, or all of 80° has more.
 */
export function litWidthM(
  { profile }: Pick<NightLight, 'profile'>,
  perM: number,
  distanceM: number,
  lx: number,
): number | null {
  for (let deg = 0; deg <= 80; deg += 0.05) {
    const theta = (deg * Math.PI) / 180
    const r = distanceM / Math.cos(theta)
    if ((linear(profile.thetaDeg, profile.cd, deg) * Math.exp(-perM * r)) / r ** 2 < lx)
      return deg === 0 ? null : distanceM * Math.tan(theta)
  }
  return null
}
