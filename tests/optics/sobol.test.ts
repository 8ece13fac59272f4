// S. Joe, F. Y. Kuo, SIAM J. Sci. Comput. 30 (2008) 2635: direction numbers and the order of points. The first points are those their program
// prints (memory).
import { describe, expect, test } from 'vitest'
import { SOBOL_DIMENSIONS, unit } from '../../src/optics/draws.ts'
import { directionNumbers, scrambledNumbers, sobolAt, sobolStep } from '../../src/optics/sobol.ts'
import { seeds } from '../kit/expect.ts'

/** Direction numbers without scramble or shift, in the order the points are made from: row by row, one number a dimension. */
function plainNumbers(): Int32Array {
  const v = directionNumbers()
  const out = new Int32Array(SOBOL_DIMENSIONS * 33)
  for (let d = 0; d < SOBOL_DIMENSIONS; d++) for (let i = 0; i < 32; i++) out[i * SOBOL_DIMENSIONS + d] = v[d * 32 + i]!
  return out
}

const ofDimension = (numbers: Int32Array, d: number) => numbers.filter((_, i) => i % SOBOL_DIMENSIONS === d)

function points(numbers: Int32Array, count: number): number[][] {
  const point = new Int32Array(SOBOL_DIMENSIONS)
  return Array.from({ length: count }, (_, i) => {
    if (i === 0) sobolAt(point, numbers, 0)
    else sobolStep(point, numbers, i)
    return Array.from(point, (p) => (p >>> 0) / 2 ** 32)
  })
}

test('the first ten points in three dimensions', () => {
  expect(points(plainNumbers(), 10).map((p) => p.slice(0, 3))).toEqual([
    [0, 0, 0],
    [0.5, 0.5, 0.5],
    [0.75, 0.25, 0.25],
    [0.25, 0.75, 0.75],
    [0.375, 0.375, 0.625],
    [0.875, 0.875, 0.125],
    [0.625, 0.125, 0.875],
    [0.125, 0.625, 0.375],
    [0.1875, 0.3125, 0.9375],
    [0.6875, 0.8125, 0.4375],
  ])
})

test('points 1 to 7 in six dimensions, as SciPy 1.x gives them (scipy.stats.qmc.Sobol, unscrambled)', () => {
  expect(points(plainNumbers(), 8).slice(1)).toEqual([
    [0.5, 0.5, 0.5, 0.5, 0.5, 0.5],
    [0.75, 0.25, 0.25, 0.25, 0.75, 0.75],
    [0.25, 0.75, 0.75, 0.75, 0.25, 0.25],
    [0.375, 0.375, 0.625, 0.875, 0.375, 0.125],
    [0.875, 0.875, 0.125, 0.375, 0.875, 0.625],
    [0.625, 0.125, 0.875, 0.625, 0.625, 0.875],
    [0.125, 0.625, 0.375, 0.125, 0.125, 0.375],
  ])
  // Points 15 and 16 bring the fourth direction number of each dimension in.
  expect(points(plainNumbers(), 16)[15]).toEqual([0.0625, 0.9375, 0.5625, 0.3125, 0.6875, 0.1875])
})

test('stepping in Gray order gives the points that direct evaluation gives', () => {
  const numbers = scrambledNumbers(9, 4)
  const stepped = new Int32Array(SOBOL_DIMENSIONS)
  const direct = new Int32Array(SOBOL_DIMENSIONS)
  sobolAt(stepped, numbers, 0)
  for (let i = 1; i < 5000; i++) {
    sobolStep(stepped, numbers, i)
    sobolAt(direct, numbers, i)
    expect(stepped).toEqual(direct)
  }
})

/** Most and fewest points in an elementary box of 2^a × 2^b cells. */
function spread(pts: number[][], dx: number, dy: number, a: number, b: number): [number, number] {
  const counts = new Int32Array(1 << (a + b))
  for (const p of pts) counts[(Math.floor(p[dx]! * (1 << a)) << b) | Math.floor(p[dy]! * (1 << b))]!++
  return [Math.min(...counts), Math.max(...counts)]
}

describe.each(['plain', ...seeds(4)])('nets, scramble %s', (which) => {
  const numbers = which === 'plain' ? plainNumbers() : scrambledNumbers(which as number, which as number)
  const pts = points(numbers, 1024)

  test('each dimension alone: one of 1024 points in each 1024th, and so in each further block', () => {
    for (let d = 0; d < SOBOL_DIMENSIONS; d++) {
      expect(new Set(pts.map((p) => Math.floor(p[d]! * 1024))).size).toBe(1024)
    }
    const later = points(numbers, 4096).slice(3072)
    for (let d = 0; d < SOBOL_DIMENSIONS; d++)
      expect(new Set(later.map((p) => Math.floor(p[d]! * 1024))).size).toBe(1024)
  })

  test('the first two dimensions are a (0, m, 2)-net in base 2', () => {
    for (let m = 2; m <= 10; m++)
      for (let a = 0; a <= m; a++) expect(spread(pts.slice(0, 1 << m), 0, 1, a, m - a)).toEqual([1, 1])
  })

  test('any two dimensions are a (t, m, 2)-net, t = Σ (degree − 1) (Sobol’ 1967; H. Niederreiter 1992)', () => {
    const degrees = [1, 1, 2, 3, 3, 4]
    for (let i = 0; i < SOBOL_DIMENSIONS; i++)
      for (let k = i + 1; k < SOBOL_DIMENSIONS; k++) {
        const t = degrees[i]! + degrees[k]! - 2
        for (let a = 0; a <= 10 - t; a++) expect(spread(pts, i, k, a, 10 - t - a)).toEqual([1 << t, 1 << t])
      }
  })
})

test('scrambles differ by batch and by seed, and none is the plain sequence', () => {
  const keys = new Set<string>()
  for (const seed of [1, 2])
    for (let batch = 0; batch < 16; batch++) {
      const numbers = scrambledNumbers(seed, batch)
      for (let d = 0; d < SOBOL_DIMENSIONS; d++) keys.add(ofDimension(numbers, d).join())
    }
  expect(keys.size).toBe(2 * 16 * SOBOL_DIMENSIONS)
})

test('a point of any index lies in (0, 1) as the tracer takes it', () => {
  const numbers = scrambledNumbers(1, 0)
  const point = new Int32Array(SOBOL_DIMENSIONS)
  for (const index of [0, 1, 2 ** 20, 2 ** 30, 2 ** 31 - 1]) {
    sobolAt(point, numbers, index)
    for (const p of point) {
      expect(unit(p)).toBeGreaterThan(0)
      expect(unit(p)).toBeLessThan(1)
    }
  }
})
