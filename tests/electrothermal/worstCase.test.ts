// The lamp's part of the worst-case table: its boards' voltages, strings and kinds of channels.
import { describe, expect, test } from 'vitest'
import { makeModel } from '../../src/electrothermal/model.ts'
import { worstCaseOf } from '../../src/electrothermal/worstCase.ts'
import { preparePower } from '../../src/job/power/run.ts'
import type { EmitterType, Lamp, Mode, Power } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin, seeds } from '../kit/expect.ts'
import { lampWith } from '../kit/lampWith.ts'
import { randomPowerLamp } from '../kit/randomPower.ts'

const BY_HAND = { rel: 1e-6, because: 'by hand' }
const full: Mode = { id: 'full', name: 'Full', share: 1, stepDown: null }
/** 2.8 V + 0.1 Ω between 1 and 2 A at 25 °C; 1 % less for each 10 K. */
const emitter = (over: Partial<EmitterType> = {}): EmitterType => ({
  ...gannetHead().emitterTypes[0]!,
  forward: [
    { currentA: 1, volts: 2.9 },
    { currentA: 2, volts: 3 },
  ],
  forwardByJunction: [
    { junctionC: -35, factor: 1.06 },
    { junctionC: 25, factor: 1 },
    { junctionC: 125, factor: 0.9 },
  ],
  ratedCurrentA: 1,
  ratedJunctionC: 25,
  maxCurrentA: 1.5,
  maxJunctionC: 125,
  ...over,
})
/** Two boards of seven emitters. */
function lamp(power: Partial<Power> = {}, emitterOver: Partial<EmitterType> = {}, strings = 1): Lamp {
  const base = gannetHead()
  return {
    ...base,
    emitterTypes: [emitter(emitterOver), ...base.emitterTypes.slice(1)],
    boardTypes: base.boardTypes.map((t) => ({ ...t, emitter: base.emitterTypes[0]!.id, strings })),
    boards: base.boards.slice(0, 2).map((b) => ({ ...b, currentA: 1 })),
    power: { ...base.power!, modes: [full], ...power },
  }
}
const worst = (l: Lamp) => worstCaseOf(makeModel(l, null))
const wired = (how: 'series' | 'parallel') => ({ groups: [{ id: 'g', name: 'G', driver: 'buck', wired: how }] })

describe('temperatures', () => {
  test('−20 °C where the document names none, its own coldest air, or its air where that is colder; hot: the emitters’ limit', () => {
    expect(worst(lamp()).celsius).toEqual({ cold: -20, air: 20, hot: 125 })
    expect(worst(lamp({ coldestC: -35 })).celsius.cold).toBe(-35)
    expect(worst(lampWith({ reading: { ambientC: -30 } }, lamp({ coldestC: 0 }))).celsius.cold).toBe(-30)
  })
  test('volts of seven cold: 7 · 2.9 V · 1.06 at −35 °C', () => {
    const [c] = worst(lamp({ coldestC: -35 })).channels
    expectWithin(c!.outV.value, 7 * 2.9 * 1.06 + worstOut(c!), BY_HAND)
    expect(c!.outV.temperature).toBe('cold')
  })
  test('without boards: zeros', () => expect(worst({ ...lamp(), boards: [] }).channels).toEqual([]))
})
const worstOut = (c: { outV: { value: number }; outW: { value: number }; outA: { value: number } }) =>
  c.outV.value - c.outW.value / c.outA.value

describe('a driver that fails short', () => {
  test('hot boards, their table carried on straight: 42 V over everything, 7 · (2.8 + 0.1 a) · 0.9', () => {
    const l = lamp()
    const model = makeModel(l, null)
    const [channel] = model.channels
    const ohm = model.source.ohm + model.mainOhm + channel!.inOhm + channel!.outOhm
    const amps = (42 - 7 * 2.8 * 0.9) / (ohm + 7 * 0.1 * 0.9)
    const [c] = worst(l).channels
    expectWithin(c!.shortedA, amps, BY_HAND)
    expectWithin(c!.shortedEmitterA, amps, BY_HAND)
  })
  test('a table of one row: a slope of 7 % of its volts at its current', () => {
    const l = lamp({}, { forward: [{ currentA: 1, volts: 2.9 }] })
    const model = makeModel(l, null)
    const [channel] = model.channels
    const ohm = model.source.ohm + model.mainOhm + channel!.inOhm + channel!.outOhm
    const slope = 0.07 * 2.9 * 0.9 * 7
    expectWithin(worst(l).channels[0]!.shortedA, (42 - 7 * 2.9 * 0.9 + slope) / (ohm + slope), BY_HAND)
  })
  test('in series the volts add, side by side the current is shared', () => {
    const series = worst(lamp(wired('series'))).channels[0]!
    const one = worst(lamp()).channels[0]!
    expect(series.shortedA).toBeLessThan(one.shortedA / 2)
    const both = worst(lamp(wired('parallel'))).channels[0]!
    expect(both.shortedA).toBeGreaterThan(one.shortedA)
    expect(both.shortedEmitterA).toBeGreaterThan(both.shortedA / 2)
  })
})

describe('shares', () => {
  test('seven strings of one emitter: 2 % of its volts lower; six at y and one at x, 6 y + x = 7 A, 2.8 + 0.1 y = 0.98 (2.8 + 0.1 x)', () => {
    const l = lamp({ drivers: [{ ...lamp().power!.drivers[0]!, maxOutputA: 20 }] }, { maxCurrentA: 9 }, 7)
    const [c] = worst(l).channels
    expect([c!.strings, c!.emitterA.value]).toEqual([7, 1])
    // Under 1 A the table keeps 2.9 V: the six others; the one: 2.9 = 0.98 (2.8 + 0.1 x).
    expectWithin(c!.unevenA.value, (2.9 / 0.98 - 2.8) / 0.1, BY_HAND)
  })
  test('boards side by side: 20 K apart besides, 2 % more, and seven in series differ by 2/√7 %', () => {
    const l = lamp({ ...wired('parallel'), drivers: [{ ...lamp().power!.drivers[0]!, maxOutputA: 20 }] })
    const [c] = worst(l).channels
    const lower = 0.02 / Math.sqrt(7) + 0.02
    expectWithin(c!.unevenA.value, (2.9 / (1 - lower) - 2.8) / 0.1, BY_HAND)
    expect([c!.strings, c!.emitterA.value]).toEqual([2, 1])
  })
  test('one string in series shares nothing', () => {
    const [c] = worst(lamp(wired('series'))).channels
    expect([c!.strings, c!.unevenA.value]).toEqual([1, 1])
  })
})

describe('kinds of channels', () => {
  test('a longer wire, another current or another group is a kind of its own', () => {
    const l = lamp()
    expect(worst(l).channels.map((c) => c.ids)).toEqual([['B1', 'B2']])
    const longer = lampWith({ power: { harness: { channelLengthMm: { B2: 900 } } } }, l)
    expect(worst(longer).channels.map((c) => c.ids)).toEqual([['B1'], ['B2']])
    const bright = { ...l, boards: l.boards.map((b, i) => (i ? { ...b, currentA: 1.2 } : b)) }
    expect(worst(bright).channels.map((c) => [c.ids, c.outA.value])).toEqual([
      [['B1'], 1],
      [['B2'], 1.2],
    ])
    expect(worst(l).channels[0]).toMatchObject({ driverId: 'buck', maxEmitterA: 1.5 })
  })
})

test.each(seeds(amount(4, 12)))(
  'no run of a random lamp draws more, or drives more through an emitter, than the table says, seed %i',
  (seed) => {
    const { lamp: l, kept: retained } = randomPowerLamp(seed)
    // The runs alone: what is judged beside them takes most of the time; half of the cells each way will do.
    const { modes, runUnprotected } = preparePower(l, { retained, refine: 1 / 2 })
    const worst = worstCaseOf(makeModel(l, retained))
    for (const m of modes.map(runUnprotected)) {
      const table = worst.modes.find((w) => w.id === m.id)!
      // What is drawn where a driver just holds is found to the table's own search.
      expect(m.mostA).toBeLessThanOrEqual(table.supplyA.value * (1 + 1e-3))
      const most = Math.max(...m.boardA.flatMap((row) => [...row]))
      expect(most).toBeLessThanOrEqual(Math.max(...table.channels.map((c) => c.emitterA)) * (1 + 1e-3))
    }
  },
)
