// Wires, standard ratings, sharing and charging at their limits, by hand.
import { describe, expect, test } from 'vitest'
import type { Driver, Power } from '../../src/lamp/schema.ts'
import { gannetPower } from '../../src/library/demoPower.ts'
import { inrushOf } from '../../src/power/fault.ts'
import { fuseMostA } from '../../src/power/fuse.ts'
import { unevenShareA } from '../../src/power/share.ts'
import { makeSwitchNeed, standardRatingA } from '../../src/power/switching.ts'
import { ampacityA, gaugeAreaMm2 } from '../../src/power/wire.ts'
import { expectWithin } from '../kit/expect.ts'

const awg = (number: number) => ({ system: 'awg' as const, number })
/** A metric wire of a share of a gauge's copper. */
const near = (number: number, share: number) => ({ system: 'mm2' as const, mm2: share * gaugeAreaMm2(awg(number)) })
const EXACT = { rel: 1e-9, because: 'closed form' }

describe('metric wire beside a gauge: a thousandth less copper still counts as that gauge', () => {
  test.each([
    // AWG 30: 0.5 A, in proportion under it; AWG 12 at 60 °C: 20 A, 15 A of AWG 14 under it.
    [30, 0.9995, 0.5],
    [30, 0.998, 0.998 * 0.5],
    [12, 0.9995, 20],
    [12, 0.998, 15],
    [12, 1.5, 20],
    [0, 1, 125],
    // Over AWG 1/0 by area^0.6.
    [0, 2, 125 * 2 ** 0.6],
  ])('AWG %d × %f: %f A', (number, share, amps) => {
    expectWithin(ampacityA(near(number, share), 60), amps, EXACT)
  })
  test('its largest fuse as well: NEC 240.4(D), 20 A from AWG 12 on, 15 A under it, none on AWG 8', () => {
    const most = [near(12, 0.9995), near(12, 0.998), near(8, 0.9995), near(8, 0.998), near(18, 0.998)].map((g) =>
      fuseMostA(g, 50),
    )
    expect(most).toEqual([20, 15, 50, 30, 50])
  })
})

describe('standard ratings', () => {
  test('no current, or none that means anything: 1 A', () => {
    expect([0, -1, Number.NaN].map(standardRatingA)).toEqual([1, 1, 1])
  })
  test('exactly a rating keeps it, a little over takes the next; of each decade', () => {
    const pairs = [
      [8, 8],
      [8.01, 10],
      [10, 10],
      [10.01, 12.5],
      [80, 80],
      [99.9, 100],
      [0.0315, 0.0315],
      [0.032, 0.04],
    ]
    for (const [least, rating] of pairs) expect(standardRatingA(least!)).toBe(rating)
  })
  test('of a mode: five quarters of what lasts', () => {
    // 1.25 · 8 = 10; 1.25 · 8.01 is over it.
    expect(makeSwitchNeed('m', 'M', 8, 42)).toEqual({ modeId: 'm', mode: 'M', amps: 8, ratingA: 10, volts: 42 })
    expect(makeSwitchNeed('m', 'M', 8.01, 42).ratingA).toBe(12.5)
  })
})

test.each([1e-5, 4, 1e4])('strings of V = x²: x (1 + (n − 1) √(1 − l)) = I, at any current (%f A)', (amps) => {
  const share = (n: number, lower: number) => unevenShareA(amps, n, (x) => x * x, lower)
  expectWithin(share(2, 0.19), amps / 1.9, { rel: 1e-7, because: 'the search ends at 1e-9 of the current' })
  expectWithin(share(4, 0.36), amps / 3.4, { rel: 1e-7, because: 'the search ends at 1e-9 of the current' })
})

test('each channel charges the capacitor of its own driver: 100 and 300 and 300 µF', () => {
  const [driver] = gannetPower.drivers as [Driver]
  const drivers = [
    { ...driver, id: 'a', inputMicrofarad: 100 },
    { ...driver, id: 'b', inputMicrofarad: 300 },
  ]
  const power: Power = { ...gannetPower, drivers }
  expectWithin(inrushOf(power, ['a', 'b', 'b']).farad, 700e-6, EXACT)
  expect(inrushOf(power, ['a', 'b', 'b']).typical).toBe(false)
})
