// The bus at rest where drivers differ: some hold, some sag, some let go. By hand: Kirchhoff.
import { describe, expect, test } from 'vitest'
import type { Driver } from '../../src/lamp/schema.ts'
import { solveBus } from '../../src/power/bus.ts'
import type { DriverRequest } from '../../src/power/driver.ts'
import { expectWithin } from '../kit/expect.ts'

const BY_HAND = { rel: 1e-6, because: 'by hand' }
const driver: Driver = {
  id: 'd',
  name: '',
  kind: 'buck',
  inputMinV: 9,
  inputMaxV: 60,
  headroomV: 2,
  efficiency: 1,
  maxOutputA: 50,
  dimming: 'current',
}
/** 20 V at so many amperes. */
const load = (outA: number, over: Partial<DriverRequest> = {}, own: Partial<Driver> = {}): DriverRequest => ({
  driver: { ...driver, ...own },
  outA,
  duty: 1,
  boardV: () => 20,
  inOhm: 0,
  outOhm: 0,
  tripped: false,
  ...over,
})
const upper = (openV: number, ohm: number, watts: number) => (openV + Math.sqrt(openV ** 2 - 4 * ohm * watts)) / 2

describe('at rest', () => {
  test('nothing is drawn: no driver, or none that is on', () => {
    for (const requests of [[], [load(0)], [load(4, { tripped: true })]]) {
      const b = solveBus(40, 0.1, 0.2, requests)
      expect([b.supplyA, b.terminalV, b.busV, b.overloaded]).toEqual([0, 40, 40, false])
      expect(b.channels).toHaveLength(requests.length)
    }
  })
  test('no voltage: all off, nothing fails', () => {
    const b = solveBus(0, 0.1, 0.1, [load(4)])
    expect([b.supplyA, b.channels[0]!.state]).toEqual([0, 'off'])
  })
  test('the supply’s share of the resistance sets its terminals, the whole the bus', () => {
    const b = solveBus(40, 0.3, 0.2, [load(4)])
    expectWithin(b.busV, upper(40, 0.5, 80), BY_HAND)
    expectWithin(b.terminalV, 40 - 0.3 * b.supplyA, BY_HAND)
    expectWithin(b.busV, b.terminalV - 0.2 * b.supplyA, BY_HAND)
  })
  test.each([0, 1, 2.2, 5, 30, 1000])('wherever the search begins (%f A) it ends at the same', (guess) => {
    expectWithin(solveBus(40, 0.3, 0.2, [load(4)], guess).supplyA, 80 / upper(40, 0.5, 80), BY_HAND)
  })
  test('one tripped, one on: only that one counts', () => {
    const b = solveBus(40, 0.5, 0, [load(9, { tripped: true }), load(4)])
    expectWithin(b.supplyA, 80 / upper(40, 0.5, 80), BY_HAND)
    expect(b.channels.map((c) => c.state)).toEqual(['off', 'holds'])
  })
})

describe('some sag', () => {
  /** 18 V + 0.5 Ω: 4 A need 20 V, and 2 V more. */
  const soft = load(4, { boardV: (a) => 18 + 0.5 * a })
  test.each([0, 4, 20])('one holds (a lamp that lifts), one sags; search from %f A', (guess) => {
    const hold = load(1, {}, { kind: 'buck-boost' })
    const b = solveBus(23, 0.4, 0.1, [hold, soft], guess)
    expect(b.channels.map((c) => c.state)).toEqual(['holds', 'sags'])
    expect(b.overloaded).toBe(false)
    const outA = b.channels[1]!.outA
    expectWithin(b.busV, 18 + 0.5 * outA + 2, BY_HAND)
    expectWithin(b.supplyA, (20 + outA * (18 + 0.5 * outA)) / b.busV, BY_HAND)
    expectWithin(b.busV, 23 - 0.5 * b.supplyA, BY_HAND)
  })
  test('so little is left that it is off, at rest', () => {
    const b = solveBus(19.9, 0.4, 0.1, [soft])
    expect([b.channels[0]!.state, b.supplyA, b.overloaded]).toEqual(['off', 0, false])
  })
})

describe('no rest', () => {
  test('one that pulls the bus under its own least input lets go and is reported; the other goes on', () => {
    // 100 W behind 1 Ω from 30 V would rest at 26.2 V, under 27 V; alone at 20 W it rests at 29.3 V. The light one could still at 26.5 V.
    const heavy = load(5, {}, { inputMinV: 27, kind: 'buck-boost' })
    const light = load(1, {}, { inputMinV: 26.5, kind: 'buck-boost' })
    const b = solveBus(30, 0.6, 0.4, [heavy, light])
    expect(b.overloaded).toBe(true)
    expect(b.channels.map((c) => c.state)).toEqual(['off', 'holds'])
    expectWithin(b.busV, upper(30, 1, 20), BY_HAND)
    expectWithin(b.terminalV, 30 - 0.6 * b.supplyA, BY_HAND)
  })
  test('all let go: nothing is drawn, and it is reported', () => {
    const heavy = load(5, {}, { inputMinV: 27, kind: 'buck-boost' })
    const b = solveBus(30, 0.6, 0.4, [heavy])
    expect([b.overloaded, b.supplyA, b.terminalV]).toEqual([true, 0, 30])
  })
})
