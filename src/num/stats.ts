// Means and their errors.

/** ± at 95 % in standard errors from 16 batches: Student's t, 15 degrees of freedom, two-sided (standard table: 2.131). */
export const T95 = 2.131

export function mean(values: ArrayLike<number>): number {
  let sum = 0
  for (let i = 0; i < values.length; i++) sum += values[i]!
  return sum / values.length
}

/** Standard deviation of the population the values are a sample of (n − 1). */
export function sampleSd(values: ArrayLike<number>): number {
  const n = values.length
  if (n < 2) return Number.NaN
  const m = mean(values)
  let sum = 0
  for (let i = 0; i < n; i++) sum += (values[i]! - m) ** 2
  return Math.sqrt(sum / (n - 1))
}

/** Standard error of the mean of independent values. */
export const standardError = (values: ArrayLike<number>): number => sampleSd(values) / Math.sqrt(values.length)

/**
 * Value and standard error of any estimate made from independent parts, by leaving out one part at a time: se² =
 * (n − 1)/n · Σ (θ₋ᵢ − θ̄)², Efron and Tibshirani, An Introduction to the Bootstrap (1993) section 11.2.
 * `estimate` gets the index of the part to leave out, or null for all of them.
 */
export function jackknife(parts: number, estimate: (leftOut: number | null) => number): { value: number; se: number } {
  const without = Float64Array.from({ length: parts }, (_, i) => estimate(i))
  const m = mean(without)
  let sum = 0
  for (const v of without) sum += (v - m) ** 2
  return { value: estimate(null), se: Math.sqrt(((parts - 1) / parts) * sum) }
}

/** Mean of readings with standard errors, weighted by 1/se². */
export function weightedMean(readings: readonly { value: number; se: number }[]): { value: number; se: number } {
  let weight = 0
  let sum = 0
  for (const { value, se } of readings) {
    weight += 1 / (se * se)
    sum += value / (se * se)
  }
  return { value: sum / weight, se: 1 / Math.sqrt(weight) }
}
