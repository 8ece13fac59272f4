// Whether two lamps differ in a figure, or only by the noise of tracing.
import { mean, sampleSd, T95 } from '../../num/stats.ts'
import type { Figure } from '../beam/sheet.ts'
import { isHazard, type SweptName } from '../sweep/figures.ts'
import { type ColumnLight, PAIRS } from './result.ts'

/** Student's t, two-sided 95 %, 7 degrees of freedom (standard table: 2.365): from 8 pairs. */
const T95_PAIRS = 2.365
/** Errors of equal size that have nothing in common seem to go together so well (r over 0.75 from 8 pairs: t = 2.78, 6 degrees of freedom) in 2 % of cases. */
const TOGETHER = 0.5

export interface Difference {
  /** Second minus first, in the unit of the figure. */
  value: number
  /** ± of it at 95 %. */
  pm: number
  /** Which ± it is: of pairs traced with the same random numbers, both ± joined, or none: both values are without noise. */
  by: 'pairs' | 'joined' | 'exact'
  differs: boolean
}

/** Less than one in a hundred thousand is none: about what single precision leaves of a sum, and nothing to build by (our choice). */
const NO_DIFFERENCE = 1e-5

/** What traces of both lamps with common random numbers say. */
export interface PairsSay {
  /** Standard deviation of b − a, as a share of what it would be if their errors had nothing in common. */
  narrowing: number
  /** Mean of b − a. */
  mean: number
}

/**
 * Difference b − a of two figures and its ± at 95 %. Joined: √(se_a² + se_b²), of independent errors (textbook rule); on the wide side where the
 * errors go together. `pairs`: by how much pairs of traces with common random numbers differ less than that (`pairsSay`), or null. The ± of pairs is at
 * least as far as the whole traces' difference lies from the pairs' own: eight pairs that all differ by the same amount may have missed a jump.
 * Values alike to one in a hundred thousand never differ. Any unit; se ≥ 0. Source of common random numbers: Law, Simulation Modeling and Analysis,
 * section on variance reduction (from memory); the floor is ours, by the count of false marks in README.md.
 */
export function differenceOf(a: Figure, b: Figure, pairs: PairsSay | null): Difference {
  const least = NO_DIFFERENCE * Math.max(Math.abs(a.value), Math.abs(b.value))
  const bare = (x: number) => (Math.abs(x) > least ? x : 0)
  const value = bare(b.value - a.value)
  const joinedSe = Math.hypot(a.se, b.se)
  if (bare(joinedSe) === 0) return { value, pm: 0, by: 'exact', differs: value !== 0 }
  const pm = pairs
    ? Math.max(bare(T95_PAIRS * pairs.narrowing * joinedSe), Math.abs(bare(value - pairs.mean)))
    : bare(T95 * joinedSe)
  return { value, pm, by: pairs ? 'pairs' : 'joined', differs: Math.abs(value) > pm }
}

/**
 * Standard deviation of b − a over pairs with common random numbers, as a share of √(s²(a) + s²(b)), and mean of b − a, by the values of the pairs
 * alone. Null where there are fewer than `PAIRS` or they don't scatter, and for shares over 0.5, where the errors don't clearly go together: then the
 * joined ± counts. Any unit.
 */
export function pairsSay(a: readonly (Figure | undefined)[], b: readonly (Figure | undefined)[]): PairsSay | null {
  const pairs = a.flatMap((first, k) => {
    const second = b[k]
    return first && second ? [[first.value, second.value] as const] : []
  })
  if (pairs.length < PAIRS) return null
  const apart = Math.hypot(sampleSd(pairs.map(([x]) => x)), sampleSd(pairs.map(([, y]) => y)))
  const differences = pairs.map(([x, y]) => y - x)
  const narrowing = sampleSd(differences) / apart
  return apart > 0 && narrowing <= TOGETHER ? { narrowing, mean: mean(differences) } : null
}

/** Of one figure of two columns; null where one of them hasn't got it. Of hazards the joined ± counts: never the narrower one. */
export function figureDifference(first: ColumnLight, second: ColumnLight, name: SweptName): Difference | null {
  const [a, b] = [first.figures[name], second.figures[name]]
  if (!a || !b) return null
  const valuesOf = ({ pairs }: ColumnLight) => pairs.map((p) => p[name])
  return differenceOf(a, b, isHazard(name) ? null : pairsSay(valuesOf(first), valuesOf(second)))
}
