// Functions of the literature whose least values are known: N. Hansen, "The CMA Evolution Strategy: A Tutorial" (2016), section on test functions;
// L. A. Rastrigin (1974) as N. Hansen and S. Kern (PPSN 2004) state it.
import { describe, expect, test } from 'vitest'
import { type BoxSearchOptions, compareScores, type Score, searchBox } from '../../src/num/boxSearch.ts'
import { amount } from '../kit/amount.ts'

const SPAN = 10
/** The box [0, 1] is [−5, 5]. */
const wide = (x: readonly number[]) => x.map((v) => SPAN * (v - 0.5))
const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0)

const sphere = (x: readonly number[]) => sum(x.map((v) => v * v))
const rosenbrock = (x: readonly number[]) =>
  sum(x.slice(1).map((v, i) => 100 * (v - x[i]! ** 2) ** 2 + (1 - x[i]!) ** 2))
const rastrigin = (x: readonly number[]) => sum(x.map((v) => v * v - 10 * Math.cos(2 * Math.PI * v) + 10))

function least(of: (x: readonly number[]) => Score, options: BoxSearchOptions) {
  const search = searchBox(options)
  let best: { x: number[]; score: Score } | null = null
  let evaluations = 0
  let step = search.next()
  while (!step.done) {
    const rows = step.value.map((x) => ({ x, score: of(x) }))
    evaluations += rows.length
    for (const row of rows) if (!best || compareScores(row.score, best.score) < 0) best = row
    step = search.next(rows.map((row) => row.score))
  }
  return { ...best!, evaluations, end: step.value }
}

const plain = (f: (x: readonly number[]) => number) => (x: readonly number[]) => ({ tier: 0, value: f(wide(x)) })
const random = (seed: number, n: number) => Array.from({ length: n }, (_, i) => ((seed * 37 + i * 61) % 89) / 89)

describe('known least values', () => {
  test.each(Array.from({ length: amount(3, 20) }, (_, i) => i + 1))(
    'sphere in 5 dimensions from random place %i',
    (seed) => {
      const { x, score } = least(plain(sphere), { start: random(seed, 5), seed, evaluations: 1500, finest: 1e-9 })
      expect(score.value).toBeLessThan(1e-9)
      for (const v of wide(x)) expect(Math.abs(v)).toBeLessThan(1e-4)
    },
  )

  test('Rosenbrock’s curved valley in 4 dimensions: at (1, 1, 1, 1)', () => {
    const { x } = least(plain(rosenbrock), { start: random(3, 4), seed: 2, evaluations: 6000, finest: 1e-9 })
    for (const v of wide(x)) expect(v).toBeCloseTo(1, 3)
  })

  test('Rastrigin in 2 dimensions has 121 hollows in the box; restarts find the deepest', () => {
    const options = { start: [0.83, 0.11], seed: 1, evaluations: 6000, idleRestarts: 99, finest: 1e-5 }
    expect(least(plain(rastrigin), options).score.value).toBeLessThan(1e-3)
  })

  test('where the least lies on the box’s edge it is found there', () => {
    const slope = (x: readonly number[]) => ({ tier: 0, value: x[0]! + (x[1]! - 0.4) ** 2 })
    const { x } = least(slope, { start: [0.7, 0.7], seed: 5, evaluations: 800, finest: 1e-7 })
    expect(x[0]).toBe(0)
    expect(x[1]).toBeCloseTo(0.4, 3)
  })
})

// x at its bound, where all that lies beyond is the same as at it, until y has come far; then x is free again. Points drawn beyond the bound that ranked as if they
// stood on it would let the search drift away from it: half of the seeds then took over 1,000 evaluations (measured).
test.each([1, 2, 3, 4, 5, 6])('a search along the box’s edge does not drift out of it, seed %i', (seed) => {
  const of = ([x, y]: readonly number[]) => ({
    tier: 0,
    value: 10 * (y! - 0.9) ** 2 + (x! - Math.max(0, y! - 0.6)) ** 2,
  })
  const { x, score } = least(of, { start: [0.3, 0.05], seed, evaluations: 400, finest: 1e-7, idleRestarts: 99 })
  expect(score.value).toBeLessThan(1e-6)
  expect(x[0]).toBeCloseTo(0.3, 2)
})

test('constraints: least x + y within a circle of radius ½ about the middle lies at 225°', () => {
  const of = ([x, y]: readonly number[]) => {
    const out = Math.hypot(x! - 0.5, y! - 0.5) - 0.5
    return out > 0 ? { tier: 1, value: out } : { tier: 0, value: x! + y! }
  }
  const { x, score } = least(of, { start: [1, 1], seed: 3, evaluations: 2000, finest: 1e-7 })
  expect(score.tier).toBe(0)
  const at = 0.5 - Math.SQRT1_2 / 2
  for (const v of x) expect(v).toBeCloseTo(at, 2)
})

test('where half of the box can’t be evaluated the search stays in the other', () => {
  const of = ([x, y]: readonly number[]) =>
    x! < 0.5 ? { tier: 2, value: 0 } : { tier: 0, value: x! + (y! - 0.3) ** 2 }
  const { x } = least(of, { start: [0.9, 0.9], seed: 1, evaluations: 600, finest: 1e-6 })
  expect(x[0]).toBeGreaterThanOrEqual(0.5)
  expect(x[0]).toBeCloseTo(0.5, 2)
})

test('a coordinate in whole steps does not get stuck between two of them', () => {
  const steps = 7
  const of = ([x, y]: readonly number[]) => ({
    tier: 0,
    value: (Math.round(x! * steps) - 5) ** 2 + (y! - Math.round(x! * steps) / 10) ** 2,
  })
  const options = { start: [0, 0], seed: 4, evaluations: 600, leastSpread: [0.4 / steps, 0], finest: 1e-4 }
  const { x } = least(of, options)
  expect(Math.round(x[0]! * steps)).toBe(5)
  expect(x[1]).toBeCloseTo(0.5, 2)
})

test('each restart has twice the points of the one before', () => {
  const search = searchBox({ start: [0.5, 0.5], seed: 1, evaluations: 5000 })
  const sizes = new Set<number>()
  for (let step = search.next(); !step.done; ) {
    sizes.add(step.value.length)
    step = search.next(step.value.map((x) => plain(sphere)(x)))
  }
  // 4 + ⌊3 ln 2⌋ = 6 (A. Auger, N. Hansen, CEC 2005).
  expect([...sizes].slice(0, 3)).toEqual([6, 12, 24])
})

test('it ends by itself once restarts bring nothing, and begins at its start', () => {
  const search = searchBox({ start: [0.25, 0.75], seed: 1, evaluations: 100 })
  expect(search.next().value![0]).toEqual([0.25, 0.75])
  const { end, evaluations } = least(plain(sphere), { start: [0.6, 0.6], seed: 1, evaluations: 1e5, worthwhile: 1e-3 })
  expect(end).toBe('converged')
  expect(evaluations).toBeLessThan(2000)
})
