// A driver at one voltage, at each of its boundaries, by hand: conservation of energy, Ohm's law.
import { describe, expect, test } from 'vitest'
import type { Driver } from '../../src/lamp/schema.ts'
import { type DriverRequest, operateDriver, regulatedInputA, regulatedLoadOf } from '../../src/power/driver.ts'
import { expectWithin } from '../kit/expect.ts'

const BY_HAND = { rel: 1e-9, because: 'by hand' }
const FOUND = { rel: 1e-7, because: 'a root to 1e-9 of the current' }
const buck: Driver = {
  id: 'd',
  name: '',
  kind: 'buck',
  inputMinV: 9,
  inputMaxV: 60,
  headroomV: 2,
  efficiency: 0.8,
  maxOutputA: 20,
  dimming: 'current',
}
/** 4 A into 20 V. */
const request = (over: Partial<DriverRequest> = {}, driver: Partial<Driver> = {}): DriverRequest => ({
  driver: { ...buck, ...driver },
  outA: 4,
  duty: 1,
  boardV: () => 20,
  inOhm: 0,
  outOhm: 0,
  tripped: false,
  ...over,
})
const state = (r: DriverRequest, busV: number) => operateDriver(r, busV).state

describe('holds', () => {
  test('all of its numbers: 0.5 Ω before and 0.25 Ω after it, on half of the time', () => {
    const d = operateDriver(request({ duty: 0.5, inOhm: 0.5, outOhm: 0.25 }), 40)
    // 21 V · 4 A · 0.5/0.8 = 52.5 W; V (40 − V)/0.5 = 52.5.
    const inV = (40 + Math.sqrt(1600 - 4 * 0.5 * 52.5)) / 2
    expect(d).toMatchObject({ state: 'holds', outA: 4, duty: 0.5, boardV: 20 })
    expectWithin(d.inV, inV, BY_HAND)
    expectWithin(d.inA, 52.5 / inV, BY_HAND)
    expectWithin(d.driverW, 52.5 * 0.2, BY_HAND)
    expectWithin(d.wireW, 0.5 * d.inA ** 2 + 0.5 * 16 * 0.25, BY_HAND)
  })
  test('its headroom to the last, and not under it', () => {
    expect([state(request(), 22), state(request(), 21.999)]).toEqual(['holds', 'off'])
    expect(state(request({ outOhm: 0.25 }), 22.999)).toBe('sags')
    expect(state(request({ outOhm: 0.25 }), 23)).toBe('holds')
  })
  test('its input range, both ends counted', () => {
    const narrow = { inputMinV: 30, inputMaxV: 40 }
    expect([30, 29.999].map((v) => state(request({}, narrow), v))).toEqual(['holds', 'off'])
    expect([40, 40.001].map((v) => state(request({}, narrow), v))).toEqual(['holds', 'input too high'])
    // Under its least input the result has the volts at its own terminals, after its wires.
    const off = operateDriver(request({ inOhm: 1 }, narrow), 31)
    expect(off).toMatchObject({ state: 'off', inA: 0, outA: 0, duty: 0, boardV: 0, driverW: 0, wireW: 0 })
    expectWithin(off.inV, (31 + Math.sqrt(961 - 400)) / 2, BY_HAND)
  })
  test('off: tripped, nothing to drive, never on, no voltage; its input has the bus’s volts', () => {
    for (const r of [request({ tripped: true }), request({ outA: 0 }), request({ duty: 0 })])
      expect(operateDriver(r, 33)).toMatchObject({ state: 'off', inV: 33, inA: 0 })
    expect(operateDriver(request(), 0)).toMatchObject({ state: 'off', inV: 0 })
    expect(operateDriver(request(), 10)).toMatchObject({ state: 'off', inV: 10 })
  })
  test('more than its wires can carry at all: V²/4R', () => {
    // 100 W behind 4 Ω from 39 V; 40 V carry it, with 20 V left.
    const heavy = (over = {}) =>
      request({ inOhm: 4, boardV: () => 5, outA: 16, ...over }, { kind: 'buck-boost', headroomV: 0 })
    // From 39 V they carry 39²/16 W at most: 15.2 A at 80 %.
    const less = operateDriver(heavy(), 39)
    expect(less.state).toBe('sags')
    expectWithin(less.outA, ((39 ** 2 / 16) * 0.8) / 5, { rel: 1e-6, because: 'found at a jump' })
    const d = operateDriver(heavy(), 40)
    expect(d.state).toBe('holds')
    expectWithin(d.inV, 20, { rel: 1e-6, because: 'a double root' })
  })
})

describe('sags', () => {
  test('as far as its headroom leaves: 18 V + 0.5 Ω + 0.25 Ω, 2 V: at 21.5 V 2 A', () => {
    const d = operateDriver(request({ boardV: (a) => 18 + 0.5 * a, outOhm: 0.25 }), 21.5)
    expect(d.state).toBe('sags')
    expectWithin(d.outA, 2, FOUND)
    expectWithin(d.inA, (2 * 19.5) / 0.8 / 21.5, FOUND)
  })
  test('a wire before it counts: V − R I − (18 + 0.5 a) − 2 = 0, V I = a (18 + 0.5 a)/0.8 at its terminals', () => {
    const d = operateDriver(request({ boardV: (a) => 18 + 0.5 * a, inOhm: 0.5 }), 22)
    expectWithin(d.inV, 18 + 0.5 * d.outA + 2, FOUND)
    expectWithin(d.inV * d.inA, (d.outA * (18 + 0.5 * d.outA)) / 0.8, FOUND)
    expectWithin(22 - d.inV, 0.5 * d.inA, FOUND)
  })
  test('a linear one: what goes in comes out, on half of the time', () => {
    const d = operateDriver(request({ boardV: (a) => 18 + 0.5 * a, inOhm: 1, duty: 0.5 }, { kind: 'linear' }), 22)
    // 22 − 0.5 a − 18 − 0.5 a − 2 = 0.
    expectWithin(d.outA, 2, FOUND)
    expectWithin(d.inA, 1, FOUND)
  })
  test('a buck on half of the time draws half', () => {
    const d = operateDriver(request({ boardV: (a) => 18 + 0.5 * a, duty: 0.5 }), 21)
    expectWithin(d.outA, 2, FOUND)
    expectWithin(d.inA, (0.5 * 2 * 19) / 0.8 / 21, FOUND)
  })
})

describe('by kind', () => {
  test('a boost holds as long as its string needs its headroom more than there is; over that nothing holds the current', () => {
    const boost = { kind: 'boost' as const }
    expect([12, 18, 18.001, 30].map((v) => state(request({}, boost), v))).toEqual([
      'holds',
      'holds',
      'input too high',
      'input too high',
    ])
    expect(state(request({ outOhm: 0.25 }, boost), 19)).toBe('holds')
  })
  test('one that does both holds at any input of its range', () =>
    expect([10, 20, 22, 50].map((v) => state(request({}, { kind: 'buck-boost' }), v))).toEqual(Array(4).fill('holds')))
  test('a linear one burns the rest, whatever its efficiency says', () => {
    const d = operateDriver(request({ duty: 0.5 }, { kind: 'linear' }), 30)
    expect([d.inA, d.driverW]).toEqual([2, 0.5 * 4 * 10])
  })
})

describe('the quick way, where it clearly holds', () => {
  const quick = (r: DriverRequest, busV: number) => regulatedInputA(regulatedLoadOf(r), busV)
  test('its load: watts in, of a linear one amperes', () => {
    expect(regulatedLoadOf(request({ outOhm: 0.25, duty: 0.5 }))).toMatchObject({ needV: 21, load: 52.5 })
    expect(regulatedLoadOf(request({ duty: 0.5 }, { kind: 'linear' }))).toMatchObject({ needV: 20, load: 2 })
  })
  test.each<[string, DriverRequest, number]>([
    ['buck', request({ inOhm: 0.5 }), 40],
    ['linear', request({ inOhm: 0.5 }, { kind: 'linear' }), 40],
    ['boost', request({ inOhm: 0.5 }, { kind: 'boost' }), 18],
    ['buck-boost under the string', request({ inOhm: 0.5 }, { kind: 'buck-boost' }), 19],
    ['all that its wires carry', request({ inOhm: 4, boardV: () => 5, outA: 16 }, { kind: 'buck-boost' }), 40],
    ['buck at its headroom', request(), 22],
    ['buck at its least input', request({}, { inputMinV: 30 }), 30],
    ['buck at its most', request({}, { inputMaxV: 30 }), 30],
    ['boost at its headroom', request({}, { kind: 'boost' }), 18],
  ])('%s: as the long way', (_, r, busV) => {
    expectWithin(quick(r, busV), operateDriver(r, busV).inA, BY_HAND)
    expect(state(r, busV)).toBe('holds')
  })
  test.each<[string, DriverRequest, number]>([
    ['tripped', request({ tripped: true }), 40],
    ['nothing to drive', request({ outA: 0 }), 40],
    ['more than the wires carry', request({ inOhm: 5 }), 40],
    ['under its least input', request({}, { inputMinV: 30 }), 29.999],
    ['over its most', request({}, { inputMaxV: 30 }), 30.001],
    ['under its headroom', request(), 21.999],
    ['linear under its headroom', request({}, { kind: 'linear' }), 21.999],
    ['a boost whose input is too high', request({}, { kind: 'boost' }), 18.001],
  ])('%s: not clear', (_, r, busV) => expect(quick(r, busV)).toBe(-1))
})
