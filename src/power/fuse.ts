// Fuses: usual ratings (ISO 8820-3 blade fuses up to 40 A, larger bolted ones; memory), and the range of currents
// that a fuse may have: at least 1.25 times the lasting current (NEC 210.20(A), second-hand; 1.25 to 1.5 is common
// practice), at most what the wire may carry.
import type { Gauge } from '../lamp/schema.ts'
import { gaugeAreaMm2 } from './wire.ts'

/** Usual ratings of fuses, A: ISO 8820-3 up to 40 A, larger bolted ones (memory). */
export const FUSE_AMPS = [1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 100, 125, 150, 200] as const
/** Least rating of a fuse over the lasting current: NEC 210.20(A), second-hand. */
const FUSE_FACTOR = 1.25

/** Largest fuse on thin copper wire whatever its insulation: 18 to 10 AWG (NEC 2023, 240.4(D), second-hand). */
const CAPS: readonly [awg: number, amps: number][] = [
  [18, 7],
  [16, 10],
  [14, 15],
  [12, 20],
  [10, 30],
]

/** Breaking capacity of a fuse whose document names none, A: ISO 8820-3 blade fuses, types C, E, F. */
export const USUAL_BREAKS_A = 1000

/**
 * Current at which a fuse opens within ten minutes at the latest, of its rating: 1.35, ISO 8820-3 (memory). Below that
 * it may hold for ever.
 */
export const OPENS_AT = 1.35

/**
 * Largest fuse, A, for a wire that may carry bearsA; thin wires are capped by NEC 240.4(D), between two gauges at the
 * thinner one's. Wires under AWG 18: by what they bear alone.
 */
export function fuseMostA(gauge: Gauge, bearsA: number): number {
  const mm2 = gaugeAreaMm2(gauge)
  const thicker = gaugeAreaMm2({ system: 'awg', number: 8 })
  if (mm2 >= thicker * 0.999) return bearsA
  const cap = CAPS.findLast(([number]) => mm2 >= gaugeAreaMm2({ system: 'awg', number }) * 0.999)
  return cap ? Math.min(bearsA, cap[1]) : bearsA
}

export interface FuseRange {
  leastA: number
  mostA: number
  /** The smallest usual rating that fits; null where the wire is too thin for its load. */
  fitsA: number | null
}

/**
 * Least and largest rating of a fuse, A, for a lasting load and what the wire may carry, and the smallest usual
 * rating between them; null where none fits. 1.25 by NEC 210.20(A).
 */
export function fuseRange(loadA: number, wireA: number): FuseRange {
  const leastA = FUSE_FACTOR * loadA
  const fits = FUSE_AMPS.find((a) => a >= leastA - 1e-9)
  return { leastA, mostA: wireA, fitsA: fits !== undefined && fits <= wireA ? fits : null }
}
