// Whether two lamps differ in a figure, or only by the noise of tracing.
import { mean, sampleSd, T95 } from '../../num/stats.ts'
import type { Figure } from '../beam/sheet.ts'
import { isHazard, type SweptName } from '../sweep/figures.ts'
import { type ColumnLight, PAIRS } from './result.ts'

/** Student's t, two-sided 95 %, 7 degrees of freedom (standard table: 2.365): from 8 pairs. */
const T95_PAIRS = 2.365
/** From 8 pairs of lamps that have nothing in common the ratio falls under this in 3 % of cases (χ² of 7 degrees of freedom under 1.75). */
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

/**
 * Difference b − a of two figures and its ± at 95 %. Joined: √(se_a² + se_b²), of independent errors (textbook rule); on the wide side where the
 * errors go together. `narrowing`: by how much pairs of traces with common random numbers differ less than that (`pairNarrowing`), or null.
 * Values alike to rounding never differ. Any unit; se ≥ 0. Source of common random numbers: Law, Simulation Modeling and Analysis, section on
 * variance reduction (from memory).
 */
export function differenceOf(a: Figure, b: Figure, narrowing: number | null): Difference {
  const value = b.value - a.value
  const joinedSe = Math.hypot(a.se, b.se)
  const rounding = 1e-9 * Math.max(Math.abs(a.value), Math.abs(b.value))
  if (!(joinedSe > rounding)) return { value, pm: 0, by: 'exact', differs: Math.abs(value) > rounding }
  const pm = narrowing === null ? T95 * joinedSe : T95_PAIRS * narrowing * joinedSe
  return {
    value,
    pm,
    by: narrowing === null ? 'joined' : 'pairs',
    differs: Math.abs(value) > pm && Math.abs(value) > rounding,
  }
}

/**
 * Standard deviation of b − a over pairs with common random numbers, as a share of what both standard errors joined say of it: √(s²(b − a) / mean
 * (se_a² + se_b²)). Null where the pairs are not whole or give no error, and where their errors don't clearly go together (share above 0.5): then the
 * joined ± is the honest one. 0: the pairs differ by the same amount each time.
 */
export function pairNarrowing(a: readonly (Figure | undefined)[], b: readonly (Figure | undefined)[]): number | null {
  const pairs = a.flatMap((first, k) => {
    const second = b[k]
    return first && second ? [[first, second] as const] : []
  })
  if (pairs.length < PAIRS) return null
  const joined = mean(pairs.map(([x, y]) => x.se ** 2 + y.se ** 2))
  const spread = sampleSd(pairs.map(([x, y]) => y.value - x.value))
  const share = spread / Math.sqrt(joined)
  return joined > 0 && share <= TOGETHER ? share : null
}

/** Of one figure of two columns; null where one of them hasn't got it. Of hazards the joined ± counts: never the narrower one. */
export function figureDifference(first: ColumnLight, second: ColumnLight, name: SweptName): Difference | null {
  const [a, b] = [first.figures[name], second.figures[name]]
  if (!a || !b) return null
  const narrowing = isHazard(name)
    ? null
    : pairNarrowing(
        first.pairs.map((p) => p[name]),
        second.pairs.map((p) => p[name]),
      )
  return differenceOf(a, b, narrowing)
}
