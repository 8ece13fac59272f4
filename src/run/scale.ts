// From raw weights to lumens and watts. Luminous sums are ratios to what the batch emitted: a ratio estimator, in
// which the chance of the drawn wavelengths cancels, and no batch can deliver more than it emitted.
import { tallyLayout } from './layout.ts'
import type { Run } from './types.ts'

/**
 * Watts for one unit of radiant weight in `tally` (a batch, or a sum of batches). Infinite for a tally that emitted
 * nothing.
 */
export function wattsPerWeight(run: Run, tally: Float64Array): number {
  return run.emittedW / tally[tallyLayout(run.shape).emitted]!
}

/**
 * Lumens for one unit of luminous weight in `tally` (a batch, or a sum of batches). Infinite for a tally that emitted
 * nothing.
 */
export function lumensPerWeight(run: Run, tally: Float64Array): number {
  return run.emittedLm / tally[tallyLayout(run.shape).emitted + 1]!
}

/** Sum of all batches, a new array of tallyLayout(shape).size raw weights. */
export function sumTallies(run: Run): Float64Array {
  const sum = new Float64Array(run.tallies[0]!.length)
  for (const t of run.tallies) for (let i = 0; i < sum.length; i++) sum[i]! += t[i]!
  return sum
}
