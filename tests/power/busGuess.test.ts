// A bus with several states at rest: the highest, or the one nearest to the current before. Closed forms: Kirchhoff and quadratics.
import { describe, expect, test } from 'vitest'
import type { Driver } from '../../src/lamp/schema.ts'
import { solveBus } from '../../src/power/bus.ts'
import type { DriverRequest } from '../../src/power/driver.ts'
import { expectWithin } from '../kit/expect.ts'

const CLOSED = { rel: 1e-6, because: 'closed form; the search ends at 1e-10 of the voltage' }

/** 18 V + 0.5 Ω at 4 A: 20 V and 80 W, with 2 V of headroom held from 22 V on. */
const request = (own: Partial<Driver> = {}, over: Partial<DriverRequest> = {}): DriverRequest => ({
  driver: {
    ...{ id: 'd', name: '', kind: 'buck', inputMinV: 0.01, inputMaxV: 300, headroomV: 2 },
    ...{ efficiency: 1, maxOutputA: 50, dimming: 'current' },
    ...own,
  },
  outA: 4,
  duty: 1,
  boardV: (a) => 18 + 0.5 * a,
  inOhm: 0,
  outOhm: 0,
  tripped: false,
  ...over,
})

/**
 * Sagging behind `ohm`: the bus is at V = v + h + r a and a (v + r a) / V = (V₀ − V) / R. With u = V₀ − v − h:
 * r (R + r) a² + (R v − r u + r (v + h)) a − (v + h) u = 0.
 */
function sagging(openV: number, ohm: number, v = 18, r = 0.5, h = 2) {
  const u = openV - v - h
  const [a, b, c] = [r * (ohm + r), ohm * v - r * u + r * (v + h), -(v + h) * u]
  const outA = (-b + Math.sqrt(b * b - 4 * a * c)) / (2 * a)
  const busV = v + h + r * outA
  return { outA, busV, supplyA: (openV - busV) / ohm }
}

describe('60 V behind 11.05 Ω: 80 W rest at 34 V (34 · 26 = 11.05 · 80), or sag at 21.9 V', () => {
  const sag = () => sagging(60, 11.05)
  const at = (guessA: number) => solveBus(60, 8, 3.05, [request()], guessA)
  test('by hand the driver sags at 3.795 A and 21.90 V', () => {
    expectWithin(sag().outA, 3.795, { abs: 1e-3, because: 'with pencil' })
    expectWithin(sag().busV, 21.897, { abs: 1e-3, because: 'with pencil' })
  })
  test.each([0, 2.33, 80 / 34, 2.36, 2.5])('from %f A: the one that holds, 34 V', (guess) => {
    const b = at(guess)
    expectWithin(b.busV, 34, CLOSED)
    expectWithin(b.supplyA, 80 / 34, CLOSED)
    expectWithin(b.terminalV, 60 - (8 * 80) / 34, CLOSED)
    expect([b.channels[0]!.state, b.overloaded]).toEqual(['holds', false])
  })
  // 3.40 A leave 22.4 V, half a volt over it: the search about the guess has to widen once.
  test.each([3.4, 3.44, 3.46, 3.5])('from %f A: the one that sags', (guess) => {
    const b = at(guess)
    expectWithin(b.busV, sag().busV, CLOSED)
    expectWithin(b.channels[0]!.outA, sag().outA, CLOSED)
    expect([b.channels[0]!.state, b.overloaded]).toEqual(['sags', false])
  })
  test.each([5.4, 6, 50])('a current that the supply can hardly give (%f A) finds the highest', (guess) => {
    expectWithin(at(guess).busV, 34, CLOSED)
  })
})

test('240 V behind 64.8 Ω: a lamp that sags stays there, though it could hold at 216 V', () => {
  // 216 · 24 = 64.8 · 80.
  const sag = sagging(240, 64.8)
  const b = solveBus(240, 0, 64.8, [request()], sag.supplyA)
  expectWithin(b.busV, sag.busV, CLOSED)
  expectWithin(solveBus(240, 0, 64.8, [request()], 0).busV, 216, CLOSED)
})

describe('rest under a fortieth of the open voltage', () => {
  /** 0.2 V + 0.05 Ω at 4 A: 0.4 V and 1.6 W, held from 0.5 V on. */
  const faint = () => request({ headroomV: 0.1 }, { boardV: (a) => 0.2 + 0.05 * a })
  test('60 V behind 1000 Ω can’t give 1.6 W (60²/4000 = 0.9 W): it sags at 0.3 V', () => {
    const b = solveBus(60, 500, 500, [faint()])
    const sag = sagging(60, 1000, 0.2, 0.05, 0.1)
    expectWithin(sag.busV, 0.3045, { abs: 1e-3, because: 'with pencil' })
    expectWithin(b.busV, sag.busV, { abs: 6e-6, because: '1e-7 of the open voltage' })
    expect([b.channels[0]!.state, b.overloaded]).toEqual(['sags', false])
  })
  test('a driver beside it that lifts from any voltage draws nothing at 0 V, and does not hide it', () => {
    // 1 µW from 0.1 V on moves it by a few microvolts.
    const lifts = request({ kind: 'buck-boost', inputMinV: 0.1 }, { outA: 1e-6, boardV: () => 1 })
    const b = solveBus(60, 500, 500, [faint(), lifts])
    expectWithin(b.busV, sagging(60, 1000, 0.2, 0.05, 0.1).busV, {
      abs: 1e-3,
      because: '3.3 µA behind 1000 Ω are 3 mV at most',
    })
    expect([b.channels.map((c) => c.state), b.overloaded]).toEqual([['sags', 'holds'], false])
  })
  test('behind 546.9 Ω both are possible (35 · 25 = 546.875 · 1.6): without a guess the highest', () => {
    expectWithin(solveBus(60, 546.875, 0, [faint()]).busV, 35, CLOSED)
  })
})

describe('no rest', () => {
  const heavy = () => request({ kind: 'buck-boost', inputMinV: 27 }, { outA: 5, boardV: () => 20 })
  test('all let go: the bus rises to the open voltage', () => {
    const b = solveBus(30, 0.6, 0.4, [heavy()])
    expect([b.busV, b.terminalV, b.supplyA, b.overloaded]).toEqual([30, 30, 0, true])
  })
  test('with the least input under a fortieth of the open voltage too', () => {
    const low = request({ kind: 'buck-boost', inputMinV: 0.5 }, { outA: 50, boardV: () => 20 })
    const b = solveBus(30, 0.6, 0.4, [low])
    expect([b.busV, b.supplyA, b.channels[0]!.state, b.overloaded]).toEqual([30, 0, 'off', true])
  })
  test('whatever the guess: 100 W behind 1 Ω, from 28 V or from below zero', () => {
    for (const guess of [2, 31, 1e6]) expect(solveBus(30, 0.6, 0.4, [heavy()], guess).busV).toBe(30)
  })
})

test('a guess beyond all that the supply gives (under 0 V) is no state at rest', () => {
  // 20 W behind 1 Ω from 30 V: V (30 − V) = 20.
  const light = request({ kind: 'buck-boost' }, { outA: 1, boardV: () => 20 })
  for (const guess of [30, 31, 1000]) expectWithin(solveBus(30, 1, 0, [light], guess).busV, 15 + Math.sqrt(205), CLOSED)
})

test('a linear driver draws what it gives: 2 A over 0.5 Ω from 40 V', () => {
  const b = solveBus(40, 0.3, 0.2, [request({ kind: 'linear' }, { outA: 2 })])
  expectWithin(b.busV, 39, { ulps: 2 })
  expectWithin(b.supplyA, 2, { ulps: 2 })
})
