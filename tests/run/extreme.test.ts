// An extreme of noisy places, and the root of an estimate that noise may bring below 0. By hand, and against noise of known size.
import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../src/num/rng.ts'
import { mean, standardError, T95 } from '../../src/num/stats.ts'
import { betweenExtremes, rootOf } from '../../src/run/extreme.ts'
import { expectWithin } from '../kit/expect.ts'

const rounding = { rel: 1e-12, because: 'rounding' }

describe('between what the halves say of each other and what all say of themselves', () => {
  test('a third of the way, and half of it as ±', () => {
    const { value, se } = betweenExtremes({ value: 10, se: 3 }, 16)
    expectWithin(value, 12, rounding)
    expectWithin(T95 * se, Math.hypot(T95 * 3, 3), rounding)
    expectWithin(betweenExtremes({ value: 10, se: 3 }, 4).value, 8, rounding)
    expect(betweenExtremes({ value: 10, se: 3 }, 10)).toEqual({ value: 10, se: 3 })
  })

  const RUNS = 200
  /** Nearly normal noise of variance 1, by the sum of three. */
  const noise = (random: () => number) => 2 * (random() + random() + random() - 1.5)
  /** In so many runs ± of the greatest of twenty places, each known to an error of 1 from 16 batches, holds it. */
  function hits(place: (k: number) => number): number {
    const places = Array.from({ length: 20 }, (_, k) => place(k))
    const random = seededRandom(5)
    const greatest = Math.max(...places)
    let inside = 0
    for (let run = 0; run < RUNS; run++) {
      const batches = Array.from({ length: 16 }, () => places.map((p) => p + 4 * noise(random)))
      const sumOf = (parity: number | null) =>
        places.map((_, k) => batches.reduce((sum, b, i) => sum + (parity === null || i % 2 === parity ? b[k]! : 0), 0))
      const best = [0, 1].map((parity) => {
        const sums = sumOf(parity)
        return sums.indexOf(Math.max(...sums))
      })
      const crossed = batches.map((b, i) => b[best[1 - (i % 2)]!]!)
      const split = { value: mean(crossed), se: standardError(crossed) }
      const { value, se } = betweenExtremes(split, Math.max(split.value, Math.max(...sumOf(null)) / 16))
      if (Math.abs(value - greatest) <= T95 * se) inside++
    }
    return inside
  }
  test.each<[string, (k: number) => number]>([
    ['all alike', () => 0],
    ['a slope', (k) => k / 5],
    ['one far above', (k) => (k === 3 ? 20 : 0)],
    ['one a little above', (k) => (k === 3 ? 2 : 0)],
  ])('± at 95 %% holds it: %s', (_, place) => {
    // 93 %, less two standard errors of the count.
    expect(hits(place)).toBeGreaterThanOrEqual(0.93 * RUNS - 2 * Math.sqrt(RUNS * 0.93 * 0.07))
  })
})

describe('a root', () => {
  test('± holds the root of the lower end, which is farther off', () => {
    const { value, se } = rootOf({ value: 4, se: 1 })
    expectWithin(value, 2, rounding)
    expectWithin(T95 * se, 2 - Math.sqrt(4 - T95), rounding)
  })
  test('of nothing, or less: 0, and ± up to the root of what it may be', () => {
    for (const value of [0, -3]) {
      const root = rootOf({ value, se: 1 })
      expect(root.value).toBe(0)
      expectWithin(T95 * root.se, Math.sqrt(T95), rounding)
    }
  })
})
