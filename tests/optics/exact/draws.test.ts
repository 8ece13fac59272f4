import { expect, test } from 'vitest'
import { draw, draw24, drawAt, mix, seedStream, UNIT, unit } from '../../../src/optics/draws.ts'
import { slowDraw24, slowMix, slowStream } from '../../kit/integers.ts'

const NUMBERS = [0, 1, 2, 255, 65_535, 65_536, 123_456_789, 2 ** 31 - 1, -1, -2, -(2 ** 31), -987_654_321]

test('mixer, by unbounded integers', () => {
  for (const x of NUMBERS) expect(mix(x)).toBe(slowMix(x))
  expect(mix(0)).toBe(0)
})

test('middles of 2⁻²⁴ cells', () => {
  expect(UNIT).toBe(2 ** -24)
  for (const x of NUMBERS) expect(unit(x)).toBe((Math.floor((x < 0 ? x + 2 ** 32 : x) / 256) + 0.5) / 2 ** 24)
})

test('streams and draws', () => {
  const stream = new Int32Array(3)
  for (const seed of NUMBERS)
    for (const [batch, index] of [
      [0, 0],
      [3, 1000],
      [15, 2 ** 31 - 1],
    ] as const) {
      seedStream(stream, seed, batch, index)
      expect([...stream]).toEqual([...slowStream(seed, batch, index), 8])
      expect(draw24(stream)).toBe(slowDraw24(seed, batch, index, 8))
      expect(draw(stream)).toBe((slowDraw24(seed, batch, index, 9) + 0.5) / 2 ** 24)
      expect(stream[2]).toBe(10)
      for (const k of [0, 9, 77]) expect(drawAt(stream, k)).toBe((slowDraw24(seed, batch, index, k) + 0.5) / 2 ** 24)
      expect(stream[2]).toBe(10)
    }
})
