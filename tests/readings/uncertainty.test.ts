import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../src/num/rng.ts'
import { agreementOf } from '../../src/readings/agreement.ts'
import { meterDoubt } from '../../src/readings/meter.ts'
import { fitStraightLine } from '../../src/readings/straightLine.ts'
import { meanOf, propagate } from '../../src/readings/uncertainty.ts'

// JCGM 100:2008 (GUM), H.2: simultaneous resistance and reactance: the five sets of observations of table H.2, means, their uncertainties and
// correlations, then tables H.3 and H.4. From memory; that data and results agree to every digit is its own check.
describe('the guide’s example H.2', () => {
  const observed = [
    [5.007, 4.994, 5.005, 4.99, 4.999],
    [19.663e-3, 19.639e-3, 19.64e-3, 19.685e-3, 19.678e-3],
    [1.0456, 1.0438, 1.0468, 1.0428, 1.0433],
  ]
  const mean = (x: readonly number[]) => x.reduce((a, b) => a + b, 0) / x.length
  const covariance = (x: readonly number[], y: readonly number[]) =>
    x.reduce((sum, v, k) => sum + (v - mean(x)) * ((y[k] ?? 0) - mean(y)), 0) / (x.length * (x.length - 1))
  const u = observed.map((x) => Math.sqrt(covariance(x, x)))
  const { results, correlation } = propagate(
    ([v = 0, i = 1, phi = 0]) => [(v / i) * Math.cos(phi), (v / i) * Math.sin(phi), v / i],
    observed.map((x, k) => ({ value: mean(x), u: u[k] ?? 0 })),
    observed.map((x, a) => observed.map((y, b) => covariance(x, y) / ((u[a] ?? 1) * (u[b] ?? 1)))),
  )

  test('values and uncertainties', () => {
    for (const [k, [value, uncertainty]] of [
      [127.732, 0.071],
      [219.847, 0.295],
      [254.26, 0.236],
    ].entries()) {
      expect(results[k]?.value).toBeCloseTo(value ?? 0, 3)
      // The guide goes on with rounded intermediate values: a unit of the last digit.
      expect(Math.abs((results[k]?.u ?? 0) - (uncertainty ?? 0))).toBeLessThan(0.001)
    }
  })

  test('correlations', () => {
    expect(correlation[0]?.[1]).toBeCloseTo(-0.588, 3)
    expect(correlation[0]?.[2]).toBeCloseTo(-0.485, 3)
    expect(correlation[1]?.[2]).toBeCloseTo(0.993, 3)
  })
})

// JCGM 100:2008, H.3: calibration of a thermometer, table H.6. From memory, as above.
test('the guide’s example H.3: a straight line', () => {
  const t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511]
  const b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16]
  const line = fitStraightLine(t.map((x, i) => ({ x: x - 20, y: b[i] ?? 0, u: 1 })))
  const s = Math.sqrt((line?.chi2 ?? 0) / (line?.freedom ?? 1))
  expect(line?.offset).toBeCloseTo(-0.1712, 4)
  expect(line?.slope).toBeCloseTo(0.00218, 5)
  expect(s).toBeCloseTo(0.0035, 4)
  expect(s * (line?.uOffset ?? 0)).toBeCloseTo(0.0029, 4)
  expect(s * (line?.uSlope ?? 0)).toBeCloseTo(0.00067, 5)
  expect(line?.correlation).toBeCloseTo(-0.93, 3)
})

test('two meters averaged by 1/u² (check values 7.11)', () => {
  // 9800 ± 3 % and 10,300 ± 5 %, weights 1/9 and 1/25: u as numbers 3 and 5.
  const mean = meanOf([
    { value: 9800, u: 3 },
    { value: 10_300, u: 5 },
  ])
  expect(mean.value).toBeCloseTo(9932.35, 2)
})

test('limits of DIN 5032-7 (check values 7.10) as rectangular distributions, GUM 4.3.7', () => {
  for (const [name, f1, f2] of [
    ['A', 3, 1.5],
    ['B', 6, 3],
    ['C', 9, 6],
  ] as const) {
    const doubt = meterDoubt({ class: name })
    expect(doubt.spectral).toBeCloseTo(f1 / 100 / Math.sqrt(3), 12)
    expect(doubt.cosine).toBeCloseTo(f2 / 100 / Math.sqrt(3), 12)
  }
  expect(meterDoubt()).toEqual(meterDoubt({ class: 'C' }))
  expect(meterDoubt({ calibrationPct: 4, spectralPct: 0, cosinePct: 0 })).toMatchObject({
    scale: 0.02,
    classUsed: null,
  })
})

describe('agreement with shared terms', () => {
  test('equals rᵀ C⁻¹ r, C inverted by hand for two readings', () => {
    // C = diag(1, 4) + g gᵀ, g = (1, 2): [[2, 2], [2, 8]], inverse [[8, −2], [−2, 2]]/12; r = (3, 1): (72 − 12 + 2)/12.
    expect(agreementOf([3, 1], [1, 2], [[1, 2]]).chi2).toBeCloseTo(62 / 12, 12)
  })

  test('two terms: the same as one after the other', () => {
    // C = I + g gᵀ + h hᵀ, g = (1, 0), h = (0, 1): 2 I.
    const both = agreementOf(
      [3, 1],
      [1, 1],
      [
        [1, 0],
        [0, 1],
      ],
    )
    expect(both.chi2).toBeCloseTo(5, 12)
    expect(both.shared).toEqual([1.5, 0.5])
  })

  test('eight terms over many readings: the same as with all of C, which is built and solved row by row', () => {
    const [n, random] = [60, seededRandom(5)]
    const some = () => Array.from({ length: n }, () => 2 * random() - 1)
    const [r, u, terms] = [some(), some().map((v) => 0.5 + v * v), Array.from({ length: 8 }, some)]
    const c = r.map((_, i) =>
      r.map((_, j) => terms.reduce((sum, g) => sum + (g[i] ?? 0) * (g[j] ?? 0), i === j ? (u[i] ?? 0) ** 2 : 0)),
    )
    // C = L Lᵀ (Cholesky), L y = r: rᵀ C⁻¹ r = yᵀ y.
    const lower: number[][] = []
    const y: number[] = []
    for (const [i, row] of c.entries()) {
      const own: number[] = []
      const upTo = (other: readonly number[], j: number) =>
        other.slice(0, j).reduce((sum, v, k) => sum + v * (own[k] ?? 0), 0)
      for (const [j, above] of lower.entries()) own.push(((row[j] ?? 0) - upTo(above, j)) / (above[j] ?? 1))
      const pivot = Math.sqrt((row[i] ?? 0) - upTo(own, i))
      y.push(((r[i] ?? 0) - upTo(y, i)) / pivot)
      lower.push([...own, pivot])
    }
    expect(agreementOf(r, u, terms).chi2).toBeCloseTo(
      y.reduce((sum, v) => sum + v * v, 0),
      9,
    )
  })

  test('a common factor costs its own size alone', () => {
    const lx = [100, 200, 50, 25]
    const far = agreementOf(
      lx.map((v) => 0.1 * v),
      lx.map((v) => 0.001 * v),
      [lx.map((v) => 0.05 * v)],
    )
    // Two standard uncertainties of the scale.
    expect(far.chi2).toBeCloseTo(4, 2)
    expect(far.shared[0]).toBeCloseTo(2, 2)
  })
})
