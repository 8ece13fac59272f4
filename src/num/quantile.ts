// Quantiles of weighted values. Own code: the packages that have quantiles weigh all values alike.

/** Places of values in rising order, made once for many sets of weights. */
export const risingOrder = (values: ArrayLike<number>): number[] =>
  Array.from({ length: values.length }, (_, i) => i).sort((a, b) => (values[a] ?? 0) - (values[b] ?? 0) || a - b)

/**
 * Quantile p (0 to 1) of `values`, each counted by its weight ≥ 0; `order` from risingOrder. A value stands in the
 * middle of its own weight, linear in between (definition 5 of R. J. Hyndman, Y. Fan, American Statistician 50 (1996)
 * 361, with weights); beyond the ends, the end. NaN where no weight is.
 */
export function weightedQuantile(
  values: ArrayLike<number>,
  weights: ArrayLike<number>,
  order: readonly number[],
  p: number,
): number {
  let all = 0
  for (const i of order) all += weights[i] ?? 0
  const wanted = p * all
  let sum = 0
  let before: { at: number; value: number } | null = null
  for (const i of order) {
    const weight = weights[i] ?? 0
    if (weight === 0) continue
    const here = { at: sum + weight / 2, value: values[i] ?? Number.NaN }
    sum += weight
    if (here.at >= wanted)
      return before
        ? before.value + ((wanted - before.at) / (here.at - before.at)) * (here.value - before.value)
        : here.value
    before = here
  }
  return before?.value ?? Number.NaN
}
