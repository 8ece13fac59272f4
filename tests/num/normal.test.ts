import { expect, test } from 'vitest'
import { normalQuantile } from '../../src/num/normal.ts'
import { risingOrder, weightedQuantile } from '../../src/num/quantile.ts'

test('quantiles of the normal distribution, as SciPy 1.17.1 has them (scipy.stats.norm.ppf)', () => {
  for (const [p, z] of [
    [1e-300, -37.0470962993612],
    [1e-10, -6.361340902404056],
    [0.001, -3.090232306167813],
    [0.1, -1.2815515655446004],
    [0.5, 0],
    [0.7, 0.5244005127080407],
    [0.975, 1.959963984540054],
    [0.9999, 3.719016485455709],
  ] as const)
    expect(normalQuantile(p), String(p)).toBeCloseTo(z, 12)
  expect([normalQuantile(0), normalQuantile(1)]).toEqual([-Infinity, Infinity])
})

test('percentiles of a known normal: mean 40, standard deviation 5', () => {
  // Evenly spaced probabilities: no chance in it. z of 5 % and 95 % is 1.6449 (standard table).
  const values = Float64Array.from({ length: 2000 }, (_, i) => 40 + 5 * normalQuantile((((i * 7) % 2000) + 0.5) / 2000))
  const weights = new Float64Array(2000).fill(0.3)
  const at = (p: number) => weightedQuantile(values, weights, risingOrder(values), p)
  expect(at(0.05)).toBeCloseTo(40 - 5 * 1.6449, 3)
  expect(at(0.5)).toBeCloseTo(40, 6)
  expect(at(0.95)).toBeCloseTo(40 + 5 * 1.6449, 3)
})

test('a weight counts as so many values; an interval’s middle is the mean of its ends', () => {
  const values = [3, 1, 2]
  const order = risingOrder(values)
  expect(order).toEqual([1, 2, 0])
  // Definition 5 of Hyndman and Fan (1996) for 1 2 3 3: the value at place k is the quantile (k − ½)/4.
  expect(weightedQuantile(values, [2, 1, 1], order, 0.375)).toBe(2)
  expect(weightedQuantile(values, [1, 1, 1], order, 1 / 3)).toBeCloseTo(1.5, 12)
  expect(weightedQuantile(values, [1, 1, 1], order, 1)).toBe(3)
  expect(weightedQuantile(values, [0, 0, 0], order, 0.5)).toBeNaN()
})
