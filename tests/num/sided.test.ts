// Rounding to the safe side. The rule itself: common practice, no source; each case by hand.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { roundedDown, roundedUp } from '../../src/num/sided.ts'

describe('rounding to the safe side', () => {
  test.each([
    [1.04, 2, 1.1],
    [1.0, 2, 1],
    [0.0604, 2, 0.061],
    [123.4, 3, 124],
    [1234.2, 3, 1240],
    [999.1, 3, 1000],
    [2.3000000000000003, 2, 2.3],
    [0.1 + 0.2, 1, 0.3],
    [0, 3, 0],
  ])('at least %f to %i digits is %f', (x, digits, shown) => {
    expect(roundedUp(x, digits)).toBe(shown)
  })
  test.each([
    [1.09, 2, 1],
    [89.9, 2, 89],
    [1239, 3, 1230],
    [9.999, 3, 9.99],
    [0.7999999999999999, 2, 0.8],
    [0.3 - 0.1, 1, 0.2],
  ])('at most %f to %i digits is %f', (x, digits, shown) => {
    expect(roundedDown(x, digits)).toBe(shown)
  })
  test('never over the unsafe side, and never a whole last digit off', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 1e9, noNaN: true }), fc.integer({ min: 1, max: 6 }), (x, digits) => {
        const step = 10 ** (Math.floor(Math.log10(x)) - digits + 1)
        const [down, up] = [roundedDown(x, digits), roundedUp(x, digits)]
        expect(up).toBeGreaterThanOrEqual(x - 1.1e-9 * step)
        expect(down).toBeLessThanOrEqual(x + 1.1e-9 * step)
        expect(up - down).toBeLessThan(1.001 * step)
      }),
      { numRuns: 300 },
    )
  })
})
