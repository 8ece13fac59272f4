import { describe, expect, test } from 'vitest'
import { draw, drawAt, mix, seedStream, unit } from '../../src/optics/draws.ts'
import * as Draw from '../../src/optics/firstDraws.ts'
import { expectShares } from '../kit/chi2.ts'
import { expectWithin } from '../kit/expect.ts'

const streamOf = (seed: number, batch: number, index: number) => {
  const stream = new Int32Array(3)
  seedStream(stream, seed, batch, index)
  return stream
}

test('a draw is a pure function of seed, batch, index and draw number', () => {
  const a = streamOf(5, 3, 1000)
  const first = [draw(a), draw(a), draw(a)]
  const b = streamOf(5, 3, 1000)
  expect([draw(b), draw(b), draw(b)]).toEqual(first)
  expect(first.map((_, i) => drawAt(b, Draw.firstBounce + i))).toEqual(first)
})

test('unit: in (0, 1), the middle of 2⁻²⁴ cells', () => {
  expect(unit(0)).toBe(2 ** -25)
  expect(unit(-1)).toBe(1 - 2 ** -25)
  expect(unit(0x80000000 | 0)).toBe(0.5 + 2 ** -25)
})

test('the mixer is a bijection and moves half the bits for one bit in', () => {
  const seen = new Set<number>()
  for (let i = 0; i < 1 << 16; i++) seen.add(mix(i))
  expect(seen.size).toBe(1 << 16)
  // Flip each input bit: each output bit flips with probability ½.
  const trials = 4096
  for (let inBit = 0; inBit < 32; inBit++) {
    const flips = new Float64Array(32)
    for (let i = 0; i < trials; i++) {
      const x = Math.imul(i, 0x9e3779b1 | 0)
      const d = mix(x) ^ mix(x ^ (1 << inBit))
      for (let k = 0; k < 32; k++) flips[k]! += (d >>> k) & 1
    }
    for (const f of flips)
      expectWithin(f / trials, 0.5, {
        abs: 0.04,
        because: 'five standard errors of 4096 tosses, for 1024 pairs of bits',
      })
  }
})

test('each of the 24 bits of a draw is balanced', () => {
  const ones = new Float64Array(24)
  const n = 100_000
  for (let i = 0; i < n; i++) {
    const bits = Math.floor(draw(streamOf(1, i % 16, i >> 4)) * 2 ** 24)
    for (let k = 0; k < 24; k++) ones[k]! += (bits >>> k) & 1
  }
  for (const count of ones) expectWithin(count / n, 0.5, { sigmas: 4, se: 0.5 / Math.sqrt(n) })
})

describe('even, within a stream and across streams', () => {
  const cells = 64
  const shares = new Array<number>(cells).fill(1 / cells)
  test('along one stream', () => {
    const counts = new Float64Array(cells)
    const stream = streamOf(2, 0, 12345)
    for (let i = 0; i < 200_000; i++) counts[Math.floor(draw(stream) * cells)]!++
    expectShares(counts, shares)
  })
  test.each([0, 8, 9, 30])('draw %i of many streams', (k) => {
    const counts = new Float64Array(cells)
    for (let i = 0; i < 200_000; i++) counts[Math.floor(drawAt(streamOf(2, i % 16, i >> 4), k) * cells)]!++
    expectShares(counts, shares)
  })
  test('neighbouring draws and neighbouring streams, in pairs', () => {
    const pairs = new Float64Array(cells)
    const across = new Float64Array(cells)
    for (let i = 0; i < 200_000; i++) {
      const stream = streamOf(3, 7, i)
      pairs[8 * Math.floor(8 * drawAt(stream, 8)) + Math.floor(8 * drawAt(stream, 9))]!++
      across[8 * Math.floor(8 * drawAt(stream, 8)) + Math.floor(8 * drawAt(streamOf(3, 7, i + 1), 8))]!++
    }
    expectShares(pairs, shares)
    expectShares(across, shares)
  })
})

test('streams of other seeds, batches and indices are other streams', () => {
  const keys = new Set<string>()
  for (const seed of [0, 1, 2, -1, 123456789])
    for (let batch = 0; batch < 16; batch++)
      for (let index = 0; index < 64; index++) keys.add(Array.from(streamOf(seed, batch, index)).join())
  expect(keys.size).toBe(5 * 16 * 64)
})
