// Drivers on a supply, by hand.
import { describe, expect, test } from 'vitest'
import type { Driver } from '../../src/lamp/schema.ts'
import { solveBus } from '../../src/power/bus.ts'
import { type DriverRequest, operateDriver } from '../../src/power/driver.ts'
import { makeSource } from '../../src/power/supply.ts'
import { expectWithin } from '../kit/expect.ts'

const buck: Driver = {
  id: 'd',
  name: '',
  kind: 'buck',
  inputMinV: 9,
  inputMaxV: 60,
  headroomV: 2,
  efficiency: 0.95,
  maxOutputA: 20,
  dimming: 'current',
}
/** Boards that keep 30 V whatever the current. */
const makeRequest = (over: Partial<DriverRequest> = {}): DriverRequest => ({
  driver: buck,
  outA: 10,
  duty: 1,
  boardV: () => 30,
  inOhm: 0,
  outOhm: 0,
  tripped: false,
  ...over,
})
const BY_HAND = { rel: 1e-6, because: 'by hand' }

describe('input current P/(η V)', () => {
  test.each([
    [300, 0.95, 44.4, 7.11238],
    [300, 0.95, 36, 8.77193],
    [1000, 0.93, 50, 21.5054],
  ])('%d W at %d from %d V: %d A', (watts, efficiency, volts, amps) => {
    const d = operateDriver(makeRequest({ driver: { ...buck, efficiency }, outA: watts / 30 }), volts)
    expectWithin(d.inA, amps, { rel: 2e-6, because: 'printed digits' })
    expectWithin(d.driverW, volts * amps - watts, { abs: 2e-3, because: 'what goes in and does not come out' })
    expect(d.state).toBe('holds')
  })
  test('a wire before it: V − R I = P/(η I), 0.5 Ω', () => {
    const d = operateDriver(makeRequest({ inOhm: 0.5 }), 40)
    expectWithin(d.inA * (40 - 0.5 * d.inA), 300 / 0.95, BY_HAND)
    expectWithin(d.wireW, 0.5 * d.inA ** 2, BY_HAND)
    expect(d.inV).toBeGreaterThan(35)
  })
  test('pulses: half the time, half the current', () => {
    expectWithin(operateDriver(makeRequest({ duty: 0.5 }), 40).inA, operateDriver(makeRequest(), 40).inA / 2, BY_HAND)
  })
  test('a linear driver takes in what it gives, and burns the rest', () => {
    const d = operateDriver(makeRequest({ driver: { ...buck, kind: 'linear' } }), 40)
    expectWithin(d.inA, 10, BY_HAND)
    expectWithin(d.driverW, 100, BY_HAND)
  })
})

describe('as the supply sags', () => {
  /** 28 V and 0.2 Ω: 30 V at 10 A. */
  const string = { boardV: (a: number) => 28 + 0.2 * a }
  test('under 30 + 2 V a buck gives what leaves its headroom: at 31 V, 5 A', () => {
    expect(operateDriver(makeRequest(string), 32.1).state).toBe('holds')
    const d = operateDriver(makeRequest(string), 31)
    expect(d.state).toBe('sags')
    expectWithin(d.outA, 5, BY_HAND)
  })
  test('no voltage for any current: off', () => expect(operateDriver(makeRequest(string), 29.9).state).toBe('off'))
  test('under its least input: off; over its most: reported', () => {
    expect(operateDriver(makeRequest({ driver: { ...buck, inputMinV: 36 } }), 35.9).state).toBe('off')
    expect(operateDriver(makeRequest(), 60.1).state).toBe('input too high')
  })
  test('a boost that need not lift can’t hold its current; one with a low input lifts', () => {
    const boost = { ...buck, kind: 'boost' as const, headroomV: 1 }
    expect(operateDriver(makeRequest({ driver: boost }), 29.5).state).toBe('input too high')
    expect(operateDriver(makeRequest({ driver: boost }), 12).state).toBe('holds')
  })
  test('once let go it stays off', () => expect(operateDriver(makeRequest({ tripped: true }), 50).state).toBe('off'))
})

describe('supply and drivers together', () => {
  test('two at 300/0.95 W behind 0.1 Ω: the upper solution of V (V₀ − V)/R = P', () => {
    const b = solveBus(40, 0.06, 0.04, [makeRequest(), makeRequest()])
    const p = 600 / 0.95
    const v = (40 + Math.sqrt(1600 - 4 * 0.1 * p)) / 2
    expectWithin(b.busV, v, BY_HAND)
    expectWithin(b.supplyA, p / v, BY_HAND)
    expectWithin(b.terminalV, 40 - 0.06 * b.supplyA, BY_HAND)
    expect(b.overloaded).toBe(false)
  })
  test('more than any voltage carries: V₀²/4R', () => {
    const many = Array.from({ length: 20 }, () => makeRequest({ driver: { ...buck, kind: 'buck-boost' } }))
    const b = solveBus(40, 0.06, 0.04, many)
    expect(b.overloaded).toBe(true)
    expect(b.channels.every((c) => c.state === 'off')).toBe(true)
  })
  test('sagging together: strings of 28 V + 0.2 Ω behind 31 V and 0.5 Ω rest where the headroom is just left', () => {
    const b = solveBus(31, 0.4, 0.1, [
      makeRequest({ boardV: (a) => 28 + 0.2 * a }),
      makeRequest({ boardV: (a) => 28 + 0.2 * a }),
    ])
    expectWithin(b.busV, 31 - 0.5 * b.supplyA, BY_HAND)
    for (const c of b.channels) {
      expect(c.state).toBe('sags')
      expectWithin(b.busV, 28 + 0.2 * c.outA + 2, BY_HAND)
    }
    expect(b.overloaded).toBe(false)
  })
})

test('10 in series, 4 in parallel of 3 Ah, 25 mΩ: 42 V full, 30 V cut-off, 62.5 mΩ, 12 Ah', () => {
  const s = makeSource({
    kind: 'pack',
    name: '',
    chemistry: 'li-ion',
    series: 10,
    parallel: 4,
    cellAh: 3,
    cellMilliohm: 25,
    cellGram: 47,
    maxCellA: 10,
    maxCellC: 60,
    cutOffCellV: 3,
    charged: 1,
  })
  expectWithin(s.openV(1), 42, BY_HAND)
  expectWithin(s.ohm, 0.0625, BY_HAND)
  expect(s).toMatchObject({ maxA: 40, cutOffV: 30, capacityC: 43_200 })
})
