// Strings side by side, and boards on the bare supply, by hand.
import { describe, expect, test } from 'vitest'
import { shortedDriverA, unevenShareA } from '../../src/power/share.ts'
import { expectWithin } from '../kit/expect.ts'

const BY_HAND = { rel: 1e-7, because: 'by hand' }
/** 10 V + 1 Ω. */
const stringV = (amps: number) => 10 + amps

describe('the string with the lowest voltage', () => {
  test.each([
    // 10 + (I − x)/(n − 1) = (1 − l)(10 + x)
    [4, 2, 0.1, 5 / 1.9],
    [6, 3, 0.1, 4 / 1.4],
    [4, 2, 0.02, 4.2 / 1.98],
  ])('%f A in %d strings, one lower by %f: %f A', (total, n, lower, amps) =>
    expectWithin(unevenShareA(total, n, stringV, lower), amps, BY_HAND),
  )
  test('one string, no difference, no current: the even share', () => {
    expect(unevenShareA(4, 1, stringV, 0.1)).toBe(4)
    expect(unevenShareA(4, 2, stringV, 0)).toBe(2)
    expect(unevenShareA(4, 2, stringV, -0.1)).toBe(2)
    expect(unevenShareA(0, 2, stringV, 0.1)).toBe(0)
  })
  test('too much lower: it takes everything', () => {
    expect(unevenShareA(4, 2, stringV, 0.5)).toBe(4)
    expect(unevenShareA(4, 2, () => 3, 0.1)).toBe(4)
  })
})

describe('boards on the bare supply', () => {
  test.each([
    [36, 0.5, 16 / 2],
    [36, 0, 16 / 1.5],
    [20.003, 0.5, 0.0015],
    [2020, 0.5, 1000],
  ])('%f V over %f Ω and 20 V + 1.5 Ω: %f A', (volts, ohm, amps) =>
    expectWithin(
      shortedDriverA(volts, ohm, (a) => 20 + 1.5 * a),
      amps,
      BY_HAND,
    ),
  )
  test('boards that need more than there is take nothing', () => {
    expect(shortedDriverA(19, 0.5, (a) => 20 + a)).toBe(0)
    expect(shortedDriverA(20, 0.5, (a) => 20 + a)).toBe(0)
  })
  test('nothing that holds it back: a million amperes, no end of a loop', () =>
    expect(shortedDriverA(36, 0, () => 20)).toBeGreaterThanOrEqual(1e6))
})
