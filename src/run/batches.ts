// Figures with their error from the sixteen batches: delete-one jackknife on sums, so that ratios and crossings carry
// their error without a formula of their own. Reference: Efron, The Jackknife, the Bootstrap and Other Resampling Plans,
// SIAM 1982, section 3.
import { giveBack, spareFloat64 } from '../num/spareArrays.ts'
import { mean, standardError } from '../num/stats.ts'
import type { Figure } from './figure.ts'
import { type TallyLayout, tallyLayout } from './layout.ts'
import { lumensPerWeight, wattsPerWeight } from './scale.ts'
import { BATCHES, type Run } from './types.ts'

/** A sum of batches and what one unit of weight is worth in it. */
export interface Tally {
  /** In `Folded.without` only the small segments, up to `windowLm`; whole in `Folded.all`. */
  data: Float64Array
  lmPerWeight: number
  wPerWeight: number
}

export interface Folded {
  run: Run
  layout: TallyLayout
  all: Tally
  /** All batches but one, batch by batch. */
  without: Tally[]
  /** The even and the odd batches: a place found in one half is measured in the other, so that noise is not picked. */
  halves: [Tally, Tally]
}

const folded = new WeakMap<Run, { rays: number; value: Folded }>()

/**
 * Sums of a run: all batches, all but one, and the two halves. Made once a run and ray count; the result is shared
 * and not to be written into.
 */
export function fold(run: Run): Folded {
  const cached = folded.get(run)
  if (cached && cached.rays === run.rays) return cached.value
  const value = sumBatches(run)
  folded.set(run, { rays: run.rays, value })
  return value
}

/** Nobody reads the sums of this run any more. */
export function giveBackSums(run: Run): void {
  const { all, without } = folded.get(run)?.value ?? { all: null, without: [] }
  folded.delete(run)
  if (all) giveBack([all, ...without].map(({ data }) => data))
}

function sumBatches(run: Run): Folded {
  const layout = tallyLayout(run.shape)
  const halves = run.halves ?? sumHalves(run, layout.size)
  const [even, odd] = halves
  const sum = spareFloat64(layout.size)
  for (let i = 0; i < sum.length; i++) sum[i] = even[i]! + odd[i]!
  const head = layout.windowLm
  const without = run.tallies.map((tally) => {
    const rest = spareFloat64(head)
    for (let i = 0; i < head; i++) rest[i] = sum[i]! - tally[i]!
    return makeTally(run, rest)
  })
  return {
    run,
    layout,
    all: makeTally(run, sum),
    without,
    halves: [makeTally(run, halves[0]), makeTally(run, halves[1])],
  }
}

function sumHalves(run: Run, size: number): [Float64Array, Float64Array] {
  const halves: [Float64Array, Float64Array] = [new Float64Array(size), new Float64Array(size)]
  for (const [b, tally] of run.tallies.entries()) addInto(halves[b % 2]!, tally)
  return halves
}

function addInto(sum: Float64Array, more: Float64Array): void {
  for (let i = 0; i < sum.length; i++) sum[i]! += more[i]!
}

const makeTally = (run: Run, data: Float64Array): Tally => ({
  data,
  lmPerWeight: lumensPerWeight(run, data),
  wPerWeight: wattsPerWeight(run, data),
})

/**
 * `all` with its standard error by the delete-one jackknife, se² = (n − 1)/n · Σ (θ₋ᵢ − θ̄)², from the estimates
 * `without` one batch each (Efron 1982, section 3). In the unit of `all`.
 */
export function jackknife(all: number, without: readonly number[]): Figure {
  const n = without.length
  let m = 0
  for (let i = 0; i < n; i++) m += without[i]! / n
  let squares = 0
  for (let i = 0; i < n; i++) squares += (without[i]! - m) ** 2
  return { value: all, se: Math.sqrt(((n - 1) / n) * squares) }
}

/**
 * A figure f(tally, lumens per weight, watts per weight) of all batches, with its jackknife error. f may read the
 * small segments of the tally only (everything before `windowLm`).
 */
export function overBatches(
  run: Run,
  f: (tally: Float64Array, lmPerWeight: number, wPerWeight: number) => number,
): Figure {
  const { all, without } = fold(run)
  const of = (t: Tally) => f(t.data, t.lmPerWeight, t.wPerWeight)
  return jackknife(of(all), without.map(of))
}

/**
 * A least value over a mean, from noisy cells: never above 1, and known no better than to one ray in its cell (`oneRay`, as the same share).
 */
export const boundShare = ({ value, se }: Figure, oneRay: number): Figure => ({
  value: Math.min(1, value),
  se: Math.max(se, oneRay),
})

/** A part of a whole; 0 of none: without the one batch that holds all light nothing is left to share. */
export const ratioOf = (part: number, whole: number): number => (whole > 0 ? part / whole : 0)

/** Mean of values of equal weight, one a batch, and its standard error; the error of a single value is 0. */
export const meanOf = (values: readonly number[]): Figure => ({
  value: mean(values),
  se: values.length > 1 ? standardError(values) : 0,
})

/**
 * By how much the error of a weighted mean of two figures is larger because its weights, 1/se², come from errors that are estimates themselves, of 15
 * degrees of freedom each: √(1 + 8/ν · w (1 − w)). `share`: the weight w of one of them, 0 to 1. P. Meier, Variance of a Weighted Mean, Biometrics 9
 * (1953); from memory.
 */
export const weightsError = (share: number): number => Math.sqrt(1 + (8 / (BATCHES - 1)) * share * (1 - share))
