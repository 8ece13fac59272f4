import { expect, test } from 'vitest'
import { seededRandom } from '../../src/num/rng.ts'
import { countUpper, jackknife, mean, sampleSd, standardError, weightedMean } from '../../src/num/stats.ts'
import { expectWithin } from '../kit/expect.ts'

test('mean, standard deviation, standard error of a few numbers by hand', () => {
  expect(mean([2, 4, 9])).toBe(5)
  expect(sampleSd([2, 4, 9])).toBeCloseTo(Math.sqrt(13), 12)
  expect(standardError([2, 4, 9])).toBeCloseTo(Math.sqrt(13 / 3), 12)
  expect(sampleSd([1])).toBeNaN()
})

test('leaving one out gives the mean its ordinary standard error', () => {
  const values = [3, 1, 4, 1, 5, 9, 2, 6]
  const { value, se } = jackknife(values.length, (out) => mean(values.filter((_, i) => i !== out)))
  expect(value).toBe(mean(values))
  expect(se).toBeCloseTo(standardError(values), 12)
})

test('the error of a ratio is as large as its scatter, seed 7', () => {
  const random = seededRandom(7)
  const once = () => {
    const parts = Array.from({ length: 16 }, () => [1 + random(), 2 + random()] as const)
    return jackknife(16, (out) => {
      const others = parts.filter((_, i) => i !== out)
      return others.reduce((s, p) => s + p[0], 0) / others.reduce((s, p) => s + p[1], 0)
    })
  }
  const runs = Array.from({ length: 2000 }, once)
  const scatter = sampleSd(runs.map((r) => r.value))
  // The root mean square of the errors; a standard deviation from 2000 runs is good to 1/√4000 = 1.6 %.
  const claimed = Math.sqrt(mean(runs.map((r) => r.se ** 2)))
  expectWithin(claimed, scatter, { rel: 0.08, because: 'five times 1.6 %' })
})

test('two meters, weighted by 1/u²: 9800 ± 3 % and 10,300 ± 5 % (weights 1/9 and 1/25)', () => {
  const both = weightedMean([
    { value: 9800, se: 3 },
    { value: 10300, se: 5 },
  ])
  expect(both.value).toBeCloseTo(9932.35, 2)
  expect(both.se).toBeCloseTo(1 / Math.sqrt(1 / 9 + 1 / 25), 12)
})

test('the upper limit of a count is no lower than the exact one, and little higher', () => {
  // ½ χ²(97.5 %; 2n + 2): F. Garwood, Biometrika 28 (1936) 437, the interval at 95 % (from memory).
  const exact = {
    0: 3.689,
    1: 5.572,
    2: 7.225,
    3: 8.767,
    4: 10.242,
    5: 11.668,
    10: 18.39,
    20: 30.89,
    50: 65.92,
    100: 121.63,
  }
  for (const [n, limit] of Object.entries(exact)) {
    expect(countUpper(Number(n))).toBeGreaterThanOrEqual(limit)
    expect(countUpper(Number(n))).toBeLessThan(1.04 * limit)
  }
  // One-sided 95 %: N. Gehrels, Astrophys. J. 303 (1986) 336, table 1.
  for (const [n, limit] of [3.0, 4.74, 6.3, 7.75].entries()) expect(countUpper(n)).toBeGreaterThan(limit)
  // By the definition of the limit: so few or fewer are counted in 2.5 % of times at the most, and not far less often (1.65 % are beyond 2.131 of a normal one).
  for (const n of [0, 1, 2, 3, 7, 15, 23, 40, 200]) {
    const expected = countUpper(n)
    let [term, sum] = [Math.exp(-expected), 0]
    for (let k = 0; k <= n; k++) {
      sum += term
      term *= expected / (k + 1)
    }
    expect(sum).toBeLessThanOrEqual(0.025)
    expect(sum).toBeGreaterThan(0.0165)
  }
})
