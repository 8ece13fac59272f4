// Whether what a search has found is better than chance: the best, its rivals and the lamp as it stands, traced again with random numbers that the
// search has not seen. Differences are taken pair by pair, each pair with the same numbers: A. M. Law, W. D. Kelton, Simulation Modeling and Analysis,
// 3rd edition (2000), section 11.2, common random numbers.
import { mean, standardError } from '../../num/stats.ts'
import type { Figure } from '../../run/figure.ts'
import type { Evaluation } from './evaluate.ts'
import type { WishName } from './figures.ts'
import type { Move, Values } from './moves.ts'
import { objectiveOf, scoreOf, type Want, type Wishes } from './wishes.ts'

/** Traces of each lamp, with seeds of their own. */
export const REPEATS = 16
/**
 * Student's t for fifteen degrees of freedom at 99 %, two-sided (standard table: 2.947): up to three are compared with the best of them, and all those
 * comparisons together then hold at 95 % (Bonferroni).
 */
const T99 = 2.947

export interface Candidate {
  values: Values
  evaluation: Evaluation
  /** Nothing that is to be kept is broken. */
  keeps: boolean
}

export interface Confirmed {
  values: Values
  /** Means over the repeats. */
  figures: Partial<Record<WishName, Figure>>
  keeps: boolean
  /** By how much the best is better in what is wanted; of the best itself 0 ± 0. */
  behind: Figure
  /** `behind` may be chance, at 95 % for all of them together. */
  alike: boolean
}

/** The best first. */
export interface Confirmation {
  best: Confirmed
  rivals: readonly Confirmed[]
  /** The lamp as it stands; null where it could not be compared. */
  own: Confirmed | null
}

/** This part of a number's range apart, two lamps are different ones. */
const APART = 0.05
const MOST_RIVALS = 2
/** Rivals come from the best so many of all that keep what is to be kept. */
const FROM_BEST = 0.3

/** The best of the search, then others of the better ones that differ from those before: in a choice, or in a number by a part of its range. */
export function finalists(candidates: readonly Candidate[], moves: readonly Move[], want: Want): Candidate[] {
  const rows = candidates
    .flatMap((candidate) => {
      const figure = candidate.evaluation.figures[want.figure]
      return candidate.keeps && figure ? [{ candidate, at: objectiveOf(want, figure) }] : []
    })
    .sort((a, b) => a.at - b.at)
  const chosen: Candidate[] = []
  for (const { candidate } of rows.slice(0, Math.max(4, Math.ceil(FROM_BEST * rows.length)))) {
    if (chosen.length > MOST_RIVALS) break
    if (chosen.every((c) => differs(moves, c.values, candidate.values))) chosen.push(candidate)
  }
  return chosen
}

const differs = (moves: readonly Move[], a: Values, b: Values): boolean =>
  moves.some((move, i) =>
    move.kind === 'choice'
      ? a[i] !== b[i]
      : Math.abs(Number(a[i]) - Number(b[i])) >= APART * (move.max - move.min) - 1e-9,
  )

interface Repeated {
  values: Values
  repeats: readonly Pick<Evaluation, 'figures'>[]
}

/** Of the repeats of every finalist and of the lamp as it stands; null where none of them keeps what is to be kept. */
export function confirm(wishes: Wishes, repeated: readonly Repeated[], own: Repeated): Confirmation | null {
  const [want] = wishes.wants
  if (!want) return null
  const rows = repeated.map((r) => ({ ...r, figures: means(r.repeats) }))
  const scored = rows
    .flatMap((row) => {
      const score = scoreOf(wishes, row)
      return score.tier === 0 ? [{ row, at: score.objectives[0] ?? 0 }] : []
    })
    .sort((a, b) => a.at - b.at)
  const best = scored[0]?.row
  if (!best) return null
  const against = (r: Repeated): Confirmed => {
    const figures = means(r.repeats)
    const behind = difference(want, best.repeats, r.repeats)
    return {
      values: r.values,
      figures,
      keeps: scoreOf(wishes, { figures }).tier === 0,
      behind,
      alike: Math.abs(behind.value) <= T99 * behind.se + 1e-9 * Math.abs(figures[want.figure]?.value ?? 0),
    }
  }
  return {
    best: against(best),
    rivals: scored.slice(1).map(({ row }) => against(row)),
    own: own.repeats.every((r) => r.figures[want.figure]) ? against(own) : null,
  }
}

/** Mean of each figure that every repeat has, with the standard error of the mean. */
function means(repeats: readonly Pick<Evaluation, 'figures'>[]): Partial<Record<WishName, Figure>> {
  const names = Object.keys(repeats[0]?.figures ?? {}) as WishName[]
  return Object.fromEntries(
    names.flatMap((name) => {
      const values = repeats.flatMap((r) => r.figures[name]?.value ?? [])
      const se = values.length > 1 ? standardError(values) : 0
      return values.length === repeats.length ? [[name, { value: mean(values), se }]] : []
    }),
  )
}

function difference(want: Want, best: Repeated['repeats'], other: Repeated['repeats']): Figure {
  const pairs = best.flatMap((b, i) => {
    const [x, y] = [b.figures[want.figure], other[i]?.figures[want.figure]]
    return x && y ? objectiveOf(want, y) - objectiveOf(want, x) : []
  })
  return { value: mean(pairs), se: pairs.length > 1 ? standardError(pairs) : 0 }
}

export interface AtBound {
  path: string
  at: 'min' | 'max'
  value: number
}

/** This part of its range from a bound, a number stands at it. */
const AT_BOUND = 0.01

export const atBounds = (moves: readonly Move[], values: Values): AtBound[] =>
  moves.flatMap((move, i): AtBound[] => {
    if (move.kind !== 'number') return []
    const near = AT_BOUND * (move.max - move.min)
    const value = Number(values[i])
    if (value - move.min <= near) return [{ path: move.path, at: 'min', value: move.min }]
    return move.max - value <= near ? [{ path: move.path, at: 'max', value: move.max }] : []
  })
