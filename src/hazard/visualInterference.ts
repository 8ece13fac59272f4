// How far a beam can blind, dazzle or distract whoever drives, sails or flies: the levels that aviation sets for lasers, taken as
// a guide. Compared as light that the eye weighs by V(λ).
import { LM_PER_W } from '../library/photopic.ts'
import type { EyeReading } from './eye.ts'

/**
 * Visual-interference levels of FAA AC 70-1 and ICAO Doc 9815, W/m² of light at 555 nm (other wavelengths weighted by V(λ)):
 * 100 µW/cm² sensitive zone, 5 µW/cm² critical zone, 50 nW/cm² laser-free zone. The three figures: second-hand (a public
 * forum quotes them from the FAA), effects as named there; made for lasers.
 */
const INTERFERENCE_LEVELS = [
  { id: 'flashBlindness', name: 'Flash blindness', wm2: 1 },
  { id: 'glare', name: 'Glare', wm2: 0.05 },
  { id: 'distraction', name: 'Distraction', wm2: 5e-4 },
] as const

export interface Interference {
  /** Upper end. */
  peakCd: number
  levels: { id: (typeof INTERFERENCE_LEVELS)[number]['id']; name: string; lux: number; metres: number }[]
}

/** Lux of a level given in W/m² at 555 nm: E_v = 683 lm/W · E. */
export const luxOf = (wm2: number): number => LM_PER_W * wm2

/**
 * Distance (m) from which on a beam of peakCd stays below each level by the inverse-square law, √(I/E), and no nearer than
 * the last reading (near to far) that is above it. No loss in the air: the hot side. 0 where it is nowhere reached.
 */
export function readInterference(readings: readonly EyeReading[], peakCd: number): Interference {
  const levels = INTERFERENCE_LEVELS.map(({ id, name, wm2 }) => {
    const lux = luxOf(wm2)
    const last = readings.findLastIndex((r) => r.illuminanceLx > lux)
    const next = readings[last + 1]
    const metres =
      last < 0 ? 0 : next ? Math.min(next.distanceMm / 1000, Math.sqrt(peakCd / lux)) : Math.sqrt(peakCd / lux)
    return { id, name, lux, metres }
  })
  return { peakCd, levels }
}
