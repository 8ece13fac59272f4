import { expect, test } from 'vitest'
import { scrambleOf } from '../../../src/optics/scrambles.ts'
import { scrambledNumbers } from '../../../src/optics/sobol.ts'

test('each seed and batch has its own, made once', () => {
  for (const [seed, batch] of [
    [1, 0],
    [1, 11],
    [11, 1],
    [111, 0],
  ] as const) {
    expect(scrambleOf(seed, batch)).toEqual(scrambledNumbers(seed, batch))
    expect(scrambleOf(seed, batch)).toBe(scrambleOf(seed, batch))
  }
})

test('sixty-four are kept; the next begins anew', () => {
  // Whatever other tests have left: after so many new ones the store has just begun anew, and holds this one.
  let held = scrambleOf(1000, 0)
  let made = 1
  for (; made <= 65; made++) {
    const next = scrambleOf(1000, made)
    if (scrambleOf(1000, made - 1) !== held) break
    held = next
  }
  expect(made).toBeLessThanOrEqual(64)
  // It holds two now, this and the one asked for again: exactly 62 more fit beside them.
  const last = scrambleOf(1000, made)
  for (let i = 1; i <= 62; i++) scrambleOf(2000, i)
  expect(scrambleOf(1000, made)).toBe(last)
  scrambleOf(2000, 63)
  expect(scrambleOf(1000, made)).not.toBe(last)
})
