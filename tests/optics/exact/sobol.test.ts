import { expect, test } from 'vitest'
import { SOBOL_DIMENSIONS } from '../../../src/optics/draws.ts'
import { directionNumbers, scrambledNumbers, sobolAt, sobolStep, sobolUnits } from '../../../src/optics/sobol.ts'
import { slowDirections, slowPoint, slowScramble } from '../../kit/integers.ts'

test('direction numbers by the recurrence of Joe & Kuo (2008) in their odd integers m', () => {
  const v = directionNumbers()
  expect(v.length).toBe(6 * 32)
  for (let d = 0; d < SOBOL_DIMENSIONS; d++)
    expect([...v.subarray(32 * d, 32 * d + 32)]).toEqual(slowDirections(d).map((b) => Number(BigInt.asIntN(32, b))))
})

test.each([
  [1, 0],
  [-123_456, 15],
])('scramble of seed %i, batch %i, bit by bit', (seed, batch) =>
  expect([...scrambledNumbers(seed, batch)]).toEqual(slowScramble(seed, batch)),
)

test('points by their Gray code, stepped to and found at once', () => {
  const rows = scrambledNumbers(3, 2)
  const longer = Int32Array.of(0, 0, 0, 0, 0, 0, 77)
  sobolAt(longer, rows, 5)
  expect(longer[6]).toBe(77)
  const point = longer.subarray(0, 6)
  const slow = (index: number) => [0, 1, 2, 3, 4, 5].map((d) => slowPoint(rows, index, d))
  for (const index of [0, 1, 2, 3, 4, 7, 100, 65_535, 65_536, 2 ** 30 + 5, 2 ** 31 - 1]) {
    sobolAt(point, rows, index)
    expect([...point]).toEqual(slow(index))
  }
  sobolAt(point, rows, 0)
  for (let i = 1; i <= 40; i++) {
    sobolStep(point, rows, i)
    expect([...point]).toEqual(slow(i))
  }
  sobolAt(point, rows, 2 ** 30 - 1)
  sobolStep(point, rows, 2 ** 30)
  expect([...point]).toEqual(slow(2 ** 30))
})

test('units: the upper 24 bits in the middle of their cell', () => {
  const first = new Float64Array(6)
  sobolUnits(first, Int32Array.of(0, 256, -1, 1 << 30, -(2 ** 31), 513))
  const h = 2 ** -25
  expect([...first]).toEqual([h, 3 * h, 1 - h, 0.25 + h, 0.5 + h, 5 * h])
})
