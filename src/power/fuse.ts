// Fuses: usual ratings (ISO 8820-3 blade fuses up to 40 A, larger bolted ones; memory), and the range of currents
// that a fuse may have: at least 1.25 times the lasting current (NEC 210.20(A), second-hand; 1.25 to 1.5 is common
// practice), at most what the wire may carry.
import type { Gauge, Harness } from '../lamp/schema.ts'
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

type Fuse = NonNullable<Harness['main']['fuse']>
export type FuseKind = NonNullable<Fuse['kind']>

interface Opening {
  name: string
  /** From a rating of so many A on, the current at which it opens for sure, of its rating; the largest ratings first. Below it, it may hold for ever. */
  times: readonly [fromA: number, times: number][]
  source: string
}

const OPENING: Record<FuseKind, Opening> = {
  blade: { name: 'blade fuse', times: [[0, 1.35]], source: 'ISO 8820-3, in 10 min at most: memory' },
  gG: {
    name: 'gG fuse',
    times: [
      [16, 1.6],
      [4, 1.9],
      [0, 2.1],
    ],
    source: 'IEC 60269, conventional fusing current, in 1 h: 1.6 and 1.9 second-hand, 2.1 up to 4 A from memory',
  },
  miniature: { name: 'miniature fuse', times: [[0, 2.1]], source: 'IEC 60127-2, in 30 min: memory' },
  'UL 248': { name: 'fuse by UL 248', times: [[0, 1.35]], source: 'UL 248-14, in 1 h: second-hand' },
}

const timesOf = ({ amps, kind = 'blade' }: Pick<Fuse, 'amps' | 'kind'>): number =>
  OPENING[kind].times.find(([fromA]) => amps >= fromA)?.[1] ?? 1

/** Current at which a fuse opens for sure, A: its rating times what the standard of its kind says (`OPENING`). Below it, it may hold for ever. */
export const opensAtA = (fuse: Pick<Fuse, 'amps' | 'kind'>): number => timesOf(fuse) * fuse.amps

/** “A blade fuse (taken: the document names no kind) is sure to open from 1.35 times its rating on (ISO 8820-3 …)”. */
export function opensWords(fuse: Pick<Fuse, 'amps' | 'kind'>): string {
  const { name, source } = OPENING[fuse.kind ?? 'blade']
  return `A ${name}${fuse.kind ? '' : ' (taken: the document names no kind)'} is sure to open from ${timesOf(fuse)} times its rating on (${source}); below that it may hold for ever`
}

/** What opens a fuse for sure is at most so many times what its wire bears: IEC 60364-4-43, 433.1 (second-hand). */
const MOST_OVERLOAD = 1.45

/**
 * Breaking capacity of a fuse whose document names none, A, and its source: blade fuses ISO 8820-3, types C, E, F; miniature ones of low capacity
 * IEC 60127-2 (memory); gG IEC 60269-2, direct current (memory). UL 248 names alternating current: taken as a blade fuse's.
 */
export function usualBreaks({ amps, kind }: Pick<Fuse, 'amps' | 'kind'>): { amps: number; words: string } {
  if (kind === 'gG') return { amps: 25_000, words: 'that of gG fuses is taken (IEC 60269-2, direct current: memory)' }
  if (kind === 'miniature')
    return {
      amps: Math.max(35, 10 * amps),
      words: 'that of glass fuses is taken, 35 A or ten times the rating (IEC 60127-2: memory)',
    }
  return { amps: 1000, words: 'that of blade fuses is taken (ISO 8820-3)' }
}

/** The largest rating whose opening current the wire's overload permits; the bands of a kind meet where the next one begins. */
function overloadMostA(bearsA: number, kind: FuseKind): number {
  let below = Number.POSITIVE_INFINITY
  for (const [fromA, times] of OPENING[kind].times) {
    const most = (MOST_OVERLOAD * bearsA) / times
    if (most >= fromA) return Math.min(most, below)
    below = fromA
  }
  return 0
}

/**
 * Largest fuse, A, for a wire that may carry bearsA: no more than that, and by IEC 60364-4-43, 433.1 (second-hand), its
 * opening current at most 1.45 times it; thin wires are capped by NEC 240.4(D), between two gauges at the
 * thinner one's. Wires under AWG 18: by what they bear alone.
 */
export const fuseMostA = (gauge: Gauge, bearsA: number, kind: FuseKind = 'blade'): number =>
  Math.min(cappedA(gauge, bearsA), overloadMostA(bearsA, kind))

function cappedA(gauge: Gauge, bearsA: number): number {
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
