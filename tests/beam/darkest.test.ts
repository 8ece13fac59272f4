// The darkest of noisy cells. The truth is what the test draws the noise about; standard errors are those of 200 repetitions.
import { describe, expect, test } from 'vitest'
import { findDarkest } from '../../src/beam/darkest.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { mean, standardError } from '../../src/num/stats.ts'
import { expectWithin } from '../kit/expect.ts'

const N = 15
const REPEATS = 200

/** Normal, by Box and Muller. */
const normal = (u: () => number) => Math.sqrt(-2 * Math.log(1 - u())) * Math.cos(2 * Math.PI * u())

/** Sixteen batches of 15 × 15 cells: the field, and noise of so much in one batch. */
function drawn(field: (x: number, y: number) => number, noise: number, seed: number): Float64Array[] {
  const random = seededRandom(seed)
  return Array.from({ length: 16 }, () =>
    Float64Array.from({ length: N * N }, (_, k) => field(k % N, Math.floor(k / N)) + noise * normal(random)),
  )
}
const smallest = (cells: Float64Array[]) =>
  Math.min(...Array.from({ length: N * N }, (_, k) => mean(cells.map((lx) => lx[k]!))))
const of = (field: (x: number, y: number) => number, noiseOfOne: number) =>
  Array.from({ length: REPEATS }, (_, i) => {
    const cells = drawn(field, noiseOfOne, i + 1)
    const { dark, own, noise } = findDarkest(cells, N)
    return { dark: mean(dark), own, noise, smallest: smallest(cells) }
  })

describe('without noise', () => {
  test('the darkest cell, to the last digit', () => {
    const field = (x: number, y: number) => 100 - 3 * Math.hypot(x - 7, y - 7)
    const { dark, own } = findDarkest(drawn(field, 0, 1), N)
    expectWithin(mean(dark), field(0, 0), { ulps: 4 })
    expectWithin(own, field(0, 0), { ulps: 4 })
  })
  test('one dark cell among bright ones stays as dark as it is', () => {
    const { dark, own } = findDarkest(
      drawn((x, y) => (x === 4 && y === 9 ? 10 : 50), 0, 1),
      N,
    )
    expect([mean(dark), own]).toEqual([10, 10])
  })
})

test('of even light with noise: the smallest cell is dark by chance, the model’s less than half as much', () => {
  // One cell's mean of sixteen batches is off by 5; the least of 225 such by 2.8 times that.
  const found = of(() => 100, 20)
  expectWithin(mean(found.map((f) => f.dark)), 100, { sigmas: 4, se: standardError(found.map((f) => f.dark)) })
  expect(mean(found.map((f) => f.smallest))).toBeLessThan(87)
  expect(mean(found.map((f) => f.own))).toBeGreaterThan(94)
  expectWithin(mean(found.map((f) => f.noise)), 5, { rel: 0.05, because: 'the larger of two cells' })
})

test('of light that falls towards the corners the corner is found, not what lies beside it', () => {
  const field = (x: number, y: number) => 100 - 0.6 * ((x - 7) ** 2 + (y - 7) ** 2) ** 0.9
  const truth = field(0, 0)
  // In a half the noise of a cell is 7, and the cell beside the corner is brighter by 4.
  const found = of(field, 20)
  expect(mean(found.map((f) => f.dark)) - truth).toBeLessThan(3)
  expect(Math.abs(mean(found.map((f) => f.own)) - truth)).toBeLessThan(3.5)
  expect(mean(found.map((f) => f.smallest)) - truth).toBeLessThan(-3)
})

test('a cell that light has met by chance once in a batch where it should have met it four times: the model’s error, not its own', () => {
  // Counts of 4 a batch in all cells, of variance 4 as Poisson’s are, but for the corner, where each batch has just one: √(1/16) by the model's plane, at
  // least; its own spread is none.
  const random = seededRandom(3)
  const cells = Array.from({ length: 16 }, () =>
    Float64Array.from({ length: N * N }, (_, k) => (k === 0 ? 1 : 4 + 2 * normal(random))),
  )
  const { dark, noise } = findDarkest(cells, N)
  expect(new Set(dark)).toEqual(new Set([1]))
  expect(noise).toBeGreaterThan(0.25)
  expect(noise).toBeLessThan(0.5)
})

test('never below 0', () => {
  const cells = drawn((x, y) => Math.max(0, 20 * (x + y) - 40), 0, 1)
  expect(findDarkest(cells, N).own).toBe(0)
})
