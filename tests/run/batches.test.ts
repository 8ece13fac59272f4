// Sums of the batches and their jackknife, worked by hand (Efron 1982, section 3).
import { describe, expect, test } from 'vitest'
import { fold, giveBackSums, jackknife, meanOf, numbersBeside, overBatches, ratioOf } from '../../src/run/batches.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { lumensPerWeight, sumTallies, wattsPerWeight } from '../../src/run/scale.ts'
import { expectWithin } from '../kit/expect.ts'
import { filledRun, smallShape } from '../kit/handRun.ts'

const shape = smallShape()
const layout = tallyLayout(shape)

/** Batch b (from 0) holds b + 1 in the axial cone and 10 (b + 1) in the first cell of the window. */
const counted = () =>
  filledRun(shape, (t, l, b) => {
    t[l.axialLm] = b + 1
    t[l.windowLm] = 10 * (b + 1)
  })

describe('sums', () => {
  test('all, halves and all but one', () => {
    const { all, halves, without } = fold(counted())
    // 1 + 2 + … + 16 = 136; the even batches hold 1, 3, … 15: 64; the odd ones 72.
    expect(all.data[layout.axialLm]).toBe(136)
    expect(all.data[layout.windowLm]).toBe(1360)
    expect(halves.map((h) => h.data[layout.axialLm])).toEqual([64, 72])
    expect(without.map((t) => t.data[layout.axialLm])).toEqual(Array.from({ length: 16 }, (_, b) => 135 - b))
    for (const t of without) expect(t.data.length).toBe(layout.windowLm)
  })
  test('a unit of weight is worth what was emitted over the weight emitted, in each of them', () => {
    const { all, halves, without } = fold(counted())
    // 4800 lm and 16 W; 16 batches of 300 and 1.
    expect([all.lmPerWeight, all.wPerWeight]).toEqual([1, 1])
    expect([halves[0].lmPerWeight, halves[1].wPerWeight]).toEqual([2, 2])
    expectWithin(without[3]!.lmPerWeight, 16 / 15, { ulps: 1 })
    expectWithin(without[3]!.wPerWeight, 16 / 15, { ulps: 1 })
  })
  test('in the memory of another run they are the same, and so is what stands beside them', () => {
    const [first, other, second] = [counted(), filledRun(shape, (t) => t.fill(7)), counted()]
    const expected = fold(first)
    const before = fold(other)
    const beside = numbersBeside(before, 9)
    giveBackSums(other)
    const again = fold(second)
    const memory = [beside, before.all.data, ...before.without.map((t) => t.data)].map(({ buffer }) => buffer)
    for (const numbers of [again.all.data, numbersBeside(again, 9)]) expect(memory).toContain(numbers.buffer)
    expect(again.all.data).toEqual(expected.all.data)
    expect(again.without.map((t) => t.data)).toEqual(expected.without.map((t) => t.data))
    expect(fold(second)).toBe(again)
  })
  test('a run that is still read keeps its memory', () => {
    const [first, second] = [counted(), counted()]
    const { all, without } = fold(first)
    const next = fold(second)
    expect(next.all.data).not.toBe(all.data)
    expect(without.some((t) => next.without.some((n) => n.data === t.data))).toBe(false)
  })
  test('halves that the engine summed are taken as they are, and not written into', () => {
    const run = counted()
    run.halves = [new Float64Array(layout.size).fill(3), new Float64Array(layout.size).fill(4)]
    const { all, halves } = fold(run)
    expect(all.data[layout.axialLm]).toBe(7)
    expect(halves[0].data).toBe(run.halves[0])
    expect(halves[0].data[layout.axialLm]).toBe(3)
  })
  test('are kept for a run of so many rays', () => {
    const run = counted()
    const first = fold(run)
    expect(fold(run)).toBe(first)
    expect(fold(counted())).not.toBe(first)
    run.rays += 16
    run.tallies[0]![layout.axialLm] = 101
    expect(fold(run).all.data[layout.axialLm]).toBe(236)
  })
  test('weights to lumens and watts', () => {
    const run = counted()
    run.emittedW = 32
    const tally = new Float64Array(layout.size)
    tally[layout.emitted] = 4
    tally[layout.emitted + 1] = 1200
    expect(wattsPerWeight(run, tally)).toBe(8)
    expect(lumensPerWeight(run, tally)).toBe(4)
    const sum = sumTallies(run)
    expect([sum.length, sum[layout.axialLm], sum[layout.emitted]]).toEqual([layout.size, 136, 16])
    expect(run.tallies[0]![layout.axialLm]).toBe(1)
  })
})

test('a part of a whole, and of nothing none', () => {
  expect([ratioOf(1, 4), ratioOf(0, 4), ratioOf(0, 0)]).toEqual([0.25, 0, 0])
})

describe('errors', () => {
  test('jackknife: se² = (n − 1)/n Σ (θ₋ᵢ − θ̄)²', () => {
    // Mean 5, squares 1 + 1 + 4 + 4 = 10, three quarters of it.
    const { value, se } = jackknife(42, [4, 6, 3, 7])
    expect(value).toBe(42)
    expectWithin(se, Math.sqrt(7.5), { ulps: 2 })
  })
  test('a figure over batches', () => {
    const run = counted()
    run.emittedW = 160
    const lm = overBatches(run, (t, lmPerWeight) => t[layout.axialLm]! * lmPerWeight)
    // Without batch i: (136 − i) · 16/15; Σ (i − 8.5)² = 340.
    expectWithin(lm.value, 136, { ulps: 1 })
    expectWithin(lm.se, Math.sqrt((15 / 16) * (16 / 15) ** 2 * 340), { rel: 1e-14, because: 'rounding' })
    expectWithin(overBatches(run, (t, _, w) => t[layout.axialLm]! * w).value, 1360, { ulps: 1 })
  })
  test('of a mean, and of a single value', () => {
    const { value, se } = meanOf([1, 2, 3, 6])
    // Squares about 3: 4 + 1 + 0 + 9 = 14; s² = 14/3; over √4.
    expect(value).toBe(3)
    expectWithin(se, Math.sqrt(14 / 3) / 2, { ulps: 2 })
    expect(meanOf([5])).toEqual({ value: 5, se: 0 })
    expectWithin(meanOf([4, 6]).se, 1, { ulps: 2 })
  })
})
