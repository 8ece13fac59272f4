// From raw weights to lumens and watts. Luminous sums are ratios to what the batch emitted (a ratio estimator: the
// chance of the drawn wavelengths cancels, and no batch can deliver more than it was given).
import { tallyLayout } from './layout.ts'
import type { Run } from './types.ts'

/** Watts for one unit of radiant weight in a batch (or in the sum of batches). */
export function wattsPerWeight(run: Run, tally: Float64Array): number {
  return run.emittedW / tally[tallyLayout(run.shape).emitted]!
}

/** Lumens for one unit of luminous weight in a batch (or in the sum of batches). */
export function lumensPerWeight(run: Run, tally: Float64Array): number {
  return run.emittedLm / tally[tallyLayout(run.shape).emitted + 1]!
}

/** Sum of all batches. */
export function sumTallies(run: Run): Float64Array {
  const sum = new Float64Array(run.tallies[0]!.length)
  for (const t of run.tallies) for (let i = 0; i < sum.length; i++) sum[i]! += t[i]!
  return sum
}
