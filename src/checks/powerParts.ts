// The part of a power report that the rules read.
import type { TimedLimit } from '../heat/limits.ts'
import type { Lamp } from '../lamp/schema.ts'
import type { DriverState } from '../power/driver.ts'
import type { FaultCurrents, Inrush } from '../power/fault.ts'
import type { WireRun } from '../power/schedule.ts'
import type { GroupNeed } from '../power/switching.ts'
import type { WorstCase, WorstPoint } from '../power/worstCase.ts'
import { degreesC, percent, plain, seconds } from './words.ts'

/** Heat is judged with cut-out and fold-back failed: all but the last two is of the run without them. */
interface ModeParts {
  id: string
  name: string
  limit: { kind: string; atS: number; boardIndex: number | null }
  steppedDown: { atS: number } | null
  sagsFromS: number | null
  letGoFromS: number | null
  steady: { junctionMaxC: number; bearable: boolean } | null
  curves: {
    plateMaxC: ArrayLike<number>
    junctionMaxC: ArrayLike<number>
    tS: ArrayLike<number>
    /** Base of a sink and heat into it: read for a rated one only. */
    sinkC?: ArrayLike<number>
    sinkW?: ArrayLike<number>
    cellC?: ArrayLike<number>
    /** The plate's coolest place: read where a lamp has a protection. */
    plateMinC?: ArrayLike<number>
  }
  channels: readonly { id: string; state: DriverState; inV: number; outV: number; outA: number }[]
  /** What it passes, the earliest first. */
  limits: readonly TimedLimit[]
  /** What cut-out and fold-back read, °C at each moment of the curves. */
  watchedC: ArrayLike<number>
  /** Of the run with them working; null on a lamp without, and of a run with them working that is judged beside the other. */
  protection: { firstOpenS: number | null; foldsFromS: number | null } | null
  limitProtected?: { kind: string; atS: number }
  /** The same, left on past the limit of emitters or cells that ended it; null: it ended by itself. */
  leftOn?: (Pick<ModeParts, 'curves'> & { limit: { kind: string; atS: number } }) | null
  /** What ends it in still air; null: where its air is still, or its sink is a rated one. */
  airStops?: { kind: string; atS: number } | null
}

export interface PowerParts {
  modes: readonly ModeParts[]
  worst: WorstCase
  faults: FaultCurrents
  inrush: Inrush
  wiring: readonly WireRun[]
  /** What switches each group; absent: not computed. */
  groups?: readonly GroupNeed[]
  /** The mode that draws most with its sink covered; null or absent: not computed. */
  covered?: {
    modeId: string
    mode: string
    junctionS: number | null
    plateC: number
    coverC: number
    limit: { kind: string }
  } | null
  sink: { speedMS: number | null; leftOutFins: number; plateKg: number; finKg: number }
}

export const most = (x: ArrayLike<number>): number => {
  let top = Number.NEGATIVE_INFINITY
  for (let i = 0; i < x.length; i++) top = Math.max(top, x[i]!)
  return top
}

type Curves = ModeParts['curves']

/** The largest of a curve in a mode: up to its limit, and, where that is more, when it is left on past it. Null where neither has the curve. */
export function topsOf(
  { curves, leftOn }: Pick<ModeParts, 'curves' | 'leftOn'>,
  of: (c: Curves) => ArrayLike<number> | undefined,
): { atLimit: number; leftOn: number | null; top: number } {
  const atLimit = most(of(curves) ?? [])
  const past = leftOn ? most(of(leftOn.curves) ?? []) : atLimit
  // A kelvin more is no news.
  return { atLimit, leftOn: past > atLimit + 1 ? past : null, top: Math.max(atLimit, past) }
}

const ENDS: Partial<Record<string, string>> = {
  empty: 'the pack is empty',
  drivers: 'the drivers switch off',
  supply: 'the supply is overloaded',
  steady: 'nothing changes any more',
  beyond: `it passes ${degreesC(400)}, where the model ends`,
  off: 'it goes dark',
}

/** What "left on" means, for a finding's reason: until when, by the mode that gets hottest. */
export function leftOnReason(modes: readonly Pick<ModeParts, 'name' | 'leftOn' | 'curves'>[]): string {
  const top = (m: (typeof modes)[number]) => topsOf(m, (c) => c.plateMaxC).leftOn ?? Number.NEGATIVE_INFINITY
  const hottest = modes.reduce<(typeof modes)[number] | null>((a, b) => (a && top(a) >= top(b) ? a : b), null)
  if (!hottest?.leftOn || top(hottest) === Number.NEGATIVE_INFINITY) return ''
  const { kind, atS } = hottest.leftOn.limit
  return `Left on: nobody switches it off, and emitters and cells go on past their limits, a full pack, the protection failed; in “${hottest.name}” until ${ENDS[kind] ?? 'it ends'}, after ${seconds(atS)}. `
}

/** Where a value of the worst-case table occurs: “Turbo”, at 31.2 V (charge 8 %), cold start. */
export function whereWords(
  { mode, terminalV, charge, temperature }: WorstPoint,
  celsius: WorstCase['celsius'],
): string {
  const at = `${plain(terminalV)} V at the supply’s terminals${charge === null ? '' : ` (charge ${percent(charge)})`}`
  const words = {
    cold: `cold start at ${degreesC(Math.round(celsius.cold))}`,
    air: `air of ${degreesC(Math.round(celsius.air))}`,
    hot: 'junctions at their limit',
  }
  return `“${mode}”, ${at}, ${words[temperature]}`
}

/** Heat is judged by runs from a full pack. */
export const fullPackWords = ({ power }: Lamp): string =>
  power?.supply.kind === 'pack' && power.supply.charged < 1
    ? ' The pack counts as full, whatever charge was entered; the times are those from full.'
    : ''

/** “Turbo”, “High and Turbo”, “Low, High and Turbo”. */
export function namesOf(modes: readonly { name: string }[]): string {
  const names = modes.map((m) => `“${m.name}”`)
  return names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`
}

/**
 * For one figure that stands beside several modes, the largest: “High” and “Turbo” (most in “Turbo”). Nothing is added where all of them show
 * the same. `shown` writes a figure as the sentence does; `word` is what the largest means.
 */
export const namesByMost = <M extends { name: string }>(
  modes: readonly M[],
  figure: (m: M) => number,
  shown: (x: number) => string,
  word = 'most',
): string => namesWith(word, modes, figure, (m) => shown(figure(m)))

/** For one time, s, that stands beside several modes, the earliest: “High” and “Turbo” (first in “Turbo”). */
export const namesByFirst = <M extends { name: string }>(modes: readonly M[], atS: (m: M) => number): string =>
  namesWith(
    'first',
    modes,
    (m) => -atS(m),
    (m) => seconds(atS(m)),
  )

function namesWith<M extends { name: string }>(
  word: string,
  modes: readonly M[],
  rank: (m: M) => number,
  shown: (m: M) => string,
): string {
  const having = topModes(modes, rank, shown)
  return having.length === modes.length ? namesOf(modes) : `${namesOf(modes)} (${word} in ${namesOf(having)})`
}

/** Those that show the same as the one of the highest rank. */
export function topModes<M>(modes: readonly M[], rank: (m: M) => number, shown: (m: M) => string): M[] {
  const top = modes.reduce<M | null>((a, b) => (a && rank(a) >= rank(b) ? a : b), null)
  return modes.filter((m) => top && shown(m) === shown(top))
}
