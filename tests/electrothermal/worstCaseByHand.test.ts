// The lamp's part of the worst-case table on a plate of four cells: which temperature is the worst of each figure, and by how much.
import { describe, expect, test } from 'vitest'
import type { PowerModel } from '../../src/electrothermal/model.ts'
import { worstCaseOf } from '../../src/electrothermal/worstCase.ts'
import type { EmitterType, Lamp, Power } from '../../src/lamp/schema.ts'
import type { WorstChannel } from '../../src/power/worstCase.ts'
import { expectWithin } from '../kit/expect.ts'
import { coarse, fewCells, ON, sourceOf, TWO_HALVES } from '../kit/fewCells.ts'

const HAND = { rel: 1e-6, because: 'by hand' }
/** 2.8 V + 0.05 Ω from 2 to 6 A at 20 °C; 1 % less for each 10 K; up to 120 °C. */
const emitter = (over: Partial<EmitterType> = {}): Partial<EmitterType> => ({
  forward: [
    { currentA: 2, volts: 2.9 },
    { currentA: 6, volts: 3.1 },
  ],
  forwardByJunction: [
    { junctionC: -80, factor: 1.1 },
    { junctionC: 120, factor: 0.9 },
  ],
  ...{ ratedCurrentA: 4, ratedJunctionC: 20, maxJunctionC: 120, maxCurrentA: 9 },
  ...over,
})
type Few = NonNullable<Parameters<typeof fewCells>[0]>
const lampOf = (o: Few = {}, e: Partial<EmitterType> = {}): Lamp => fewCells({ ...o, emitter: emitter(e) })
const worst = (lamp: Lamp, over: Partial<PowerModel> = {}) => worstCaseOf({ ...coarse(lamp), ...over })
/** 12 V behind `ohm`. */
const channel = (lamp: Lamp, ohm = 1): WorstChannel => worst(lamp, { source: sourceOf({ ohm }) }).channels[0]!
const rising = {
  forwardByJunction: [
    { junctionC: -80, factor: 0.9 },
    { junctionC: 120, factor: 1.1 },
  ],
}
const CELSIUS = (power: Partial<Power> = {}, ambientC = 20) => worst(lampOf({ power, ambientC })).celsius

describe('the three temperatures', () => {
  test('cold: −20 °C, the document’s coldest, or its air where that is colder; hot: the junctions’ limit', () => {
    expect(CELSIUS()).toEqual({ cold: -20, air: 20, hot: 120 })
    expect(CELSIUS({ coldestC: 5 }).cold).toBe(5)
    expect(CELSIUS({ coldestC: -50 }).cold).toBe(-50)
    expect(CELSIUS({ coldestC: 5 }, -30)).toEqual({ cold: -30, air: -30, hot: 120 })
  })
  test('hot is that of the emitter that bears most, and at least the air', () => {
    const model = coarse(lampOf(TWO_HALVES))
    const limits = (...c: number[]) => model.boards.map((b, i) => ({ ...b, maxJunctionC: c[i]! }))
    expect(worstCaseOf({ ...model, boards: limits(90, 120) }).celsius.hot).toBe(120)
    expect(worstCaseOf({ ...model, boards: limits(90, 80) }).celsius.hot).toBe(90)
    expect(worst(lampOf({ boards: [] })).celsius.hot).toBe(20)
  })
  test('falling voltage: most of it cold, 3 V · 1.04; most that lasts in the air, warmed by itself', () => {
    const { channels, supplyA, lastingA } = worst(lampOf())
    const [c] = channels
    expect([c!.outV.temperature, c!.lastingInA.temperature]).toEqual(['cold', 'air'])
    expectWithin(c!.outV.value, 3 * 1.04, HAND)
    expectWithin(supplyA.value, (4 * 3 * 1.04) / 0.9 / 12, HAND)
    // x = 0.5 K/W · (12 W (1 − 0.001 x) − 1 W): 5.5/1.006 K over 20 °C.
    const inA = (4 * 3 * (1 - 0.001 * (5.5 / 1.006))) / 0.9 / 12
    expectWithin(c!.lastingInA.value, inA, { rel: 1e-4, because: 'junctions settle within 0.2 K' })
    expectWithin(lastingA.value, inA, { rel: 1e-4, because: 'as before' })
  })
  test('rising voltage: most of it hot, 3 V · 1.1 at each junction’s own limit', () => {
    const [c] = worst(lampOf({}, rising)).channels
    expect(c!.outV.temperature).toBe('hot')
    expectWithin(c!.outV.value, 3 * 1.1, HAND)
    expectWithin(c!.lastingInA.value, (4 * 3 * 1.1) / 0.9 / 12, HAND)
  })
  test('each mode by itself: at half of the current 2.9 V · 1.04', () => {
    const modes = [ON, { ...ON, id: 'half', share: 0.5 }]
    const { modes: [on, half] = [] } = worst(lampOf({ power: { modes } }))
    expectWithin(on!.supplyA.value, (4 * 3 * 1.04) / 0.9 / 12, HAND)
    expectWithin(half!.supplyA.value, (2 * 2.9 * 1.04) / 0.9 / 12, HAND)
    expect([on!.channels[0]!.wantedA, half!.channels[0]!.wantedA]).toEqual([4, 2])
    const x = 0.5 * (2 * 2.9 - 0.5)
    expectWithin(half!.lastingA.value, (2 * 2.9 * (1 - 0.001 * x)) / 0.9 / 12, {
      rel: 1e-4,
      because: 'the gain of 0.003',
    })
  })
  test('from full charge, whatever the run begins with', () => {
    const source = sourceOf({ openV: (q) => 6 + 6 * q, capacityC: 1000, charged: 0.1, cutOffV: 11 })
    const { fullV, lastingA } = worst(lampOf(), { source })
    expect(fullV).toBe(12)
    expectWithin(lastingA.terminalV, 11, { rel: 1e-3, because: 'most current at the least voltage' })
  })
})

describe('a driver that fails short: 12 V over 1 Ω and the hot boards, 0.9 (2.8 V + 0.05 Ω · I) each', () => {
  test('one emitter, within its table at 2 Ω and beyond it at 1 Ω', () => {
    expectWithin(channel(lampOf(), 2).shortedA, (12 - 0.9 * 2.8) / (2 + 0.045), HAND)
    expectWithin(channel(lampOf()).shortedA, (12 - 0.9 * 2.8) / (1 + 0.045), HAND)
  })
  test('two strings of three: half of the current each, three times the volts', () => {
    const c = channel(lampOf({ sites: 6, strings: 2 }))
    expectWithin(c.shortedA, (12 - 3 * 0.9 * 2.8) / (1 + 3 * 0.0225), HAND)
    expect(c.strings).toBe(2)
  })
  test('boards in series add up, side by side they share', () => {
    // From board to board and back: 0.2 m of 100 mm² at 75 °C, 1.7241e-8 Ωm (1 + 0.00393 · 55)/1e-4 m² each.
    const linkOhm = 0.2 * 1.7241e-4 * (1 + 0.00393 * 55)
    const series = channel(lampOf({ ...TWO_HALVES, wired: 'series' })).shortedA
    expectWithin(series, (12 - 2 * 0.9 * 2.8) / (1 + linkOhm + 0.09), HAND)
    expectWithin(channel(lampOf({ ...TWO_HALVES, wired: 'parallel' })).shortedA, (12 - 0.9 * 2.8) / (1 + 0.0225), HAND)
  })
  test('side by side the board of fewer in series takes it all, wherever it stands', () => {
    for (const order of [
      ['one', 'two'],
      ['two', 'one'],
    ]) {
      const lamp = lampOf({ ...TWO_HALVES, wired: 'parallel' })
      const [type] = lamp.boardTypes
      const site = { xMm: 0, yMm: 0 }
      const boardTypes = [
        { ...type!, id: 'one', sites: [site] },
        { ...type!, id: 'two', sites: [site, site] },
      ]
      const boards = lamp.boards.map((b, i) => ({ ...b, type: order[i]! }))
      expectWithin(channel({ ...lamp, boardTypes, boards }).shortedA, (12 - 0.9 * 2.8) / (1 + 0.0225), HAND)
    }
  })
  test('a table of one row, or flat at its end: 7 % of its volts at its last current for each ampere over it', () => {
    // 0.9 · 3 V at 4 A, slope 0.07 · 2.7 V/4 A.
    const slope = (0.07 * 2.7) / 4
    const one = lampOf({}, { forward: [{ currentA: 4, volts: 3 }] })
    expectWithin(channel(one).shortedA, (12 - 2.7 + 4 * slope) / (1 + slope), HAND)
    const flat = [2, 4].map((currentA) => ({ currentA, volts: 3 }))
    expectWithin(channel(lampOf({}, { forward: flat })).shortedA, (12 - 2.7 + 4 * slope) / (1 + slope), HAND)
  })
  test('of three rows the last two set the slope', () => {
    const forward = [
      { currentA: 1, volts: 2 },
      { currentA: 2, volts: 2.9 },
      { currentA: 6, volts: 3.1 },
    ]
    expectWithin(channel(lampOf({}, { forward })).shortedA, (12 - 0.9 * 2.8) / (1 + 0.045), HAND)
    // Within the table its own volts: 1 A at 0.9 · 2 V, 10.2 V over 10.2 Ω.
    expectWithin(channel(lampOf({}, { forward }), 10.2).shortedA, 1, HAND)
  })
})

describe('strings that share a current of 8 A', () => {
  const wide = { driver: { maxOutputA: 20 } }
  /** y + x = 8 A, 2.8 + 0.05 y = (1 − l)(2.8 + 0.05 x). */
  const uneven = (l: number) => (0.4 + 2.8 * l) / (0.05 * (2 - l))

  test('on one board 2 % of the volts apart; in strings of four 1 %', () => {
    expectWithin(channel(lampOf({ ...wide, sites: 2, strings: 2 }), 0.01).unevenA.value, uneven(0.02), HAND)
    // Four in series need more than 12 V.
    const four = worst(lampOf({ ...wide, sites: 8, strings: 2 }), { source: sourceOf({ openV: () => 24, ohm: 0.01 }) })
    expectWithin(four.channels[0]!.unevenA.value, uneven(0.01), HAND)
  })
  test('on boards apart 20 K besides: 2 % more; none where voltage rises with temperature', () => {
    const side = { ...wide, ...TWO_HALVES, wired: 'parallel' as const }
    expectWithin(channel(lampOf(side), 0.01).unevenA.value, uneven(0.04), HAND)
    expectWithin(channel(lampOf(side, rising), 0.01).unevenA.value, uneven(0.02), HAND)
    // One board on a group's driver has no other beside it.
    const one = { ...wide, sites: 2, strings: 2, wired: 'parallel' as const }
    expectWithin(channel(lampOf(one), 0.01).unevenA.value, uneven(0.02), HAND)
  })
  test('unlike boards side by side: the one of lower volts takes more, by what it lies below the others, wherever it stands', () => {
    const model = coarse(lampOf({ ...wide, ...TWO_HALVES, wired: 'parallel' }))
    for (const low of [0, 1]) {
      const boards = model.boards.map((b, i) => ({
        ...b,
        tables: i === low ? { ...b.tables, volts: (a: number, c: number) => b.tables.volts(a, c) - 0.03 } : b.tables,
      }))
      const [c] = worstCaseOf({ ...model, boards, source: sourceOf({ ohm: 0.01 }) }).channels
      // At 4 A 2.97 V beside 3 V: 1 %. 20 K warmer the lower one has 2.91 V of 2.97.
      expectWithin(c!.unevenA.value, uneven(0.02 + (1 - 2.91 / 2.97) + 0.01), HAND)
    }
  })
  test('boards in series of two strings each: by the strings, not by the boards', () => {
    const c = channel(lampOf({ ...wide, ...TWO_HALVES, sites: 2, strings: 2, wired: 'series' }), 0.01)
    expect([c.strings, c.emitterA.value]).toEqual([2, 4])
    expectWithin(c.unevenA.value, uneven(0.02), HAND)
  })
  test('in series the board of fewer strings counts, side by side all of them', () => {
    const mixed = (wired: 'series' | 'parallel', order: string[]) => {
      const lamp = lampOf({ ...wide, ...TWO_HALVES, wired })
      const [type] = lamp.boardTypes
      const site = { xMm: 0, yMm: 0 }
      const boardTypes = [
        { ...type!, id: 'one', sites: [site] },
        { ...type!, id: 'two', sites: [site, site], strings: 2 },
      ]
      return channel({ ...lamp, boardTypes, boards: lamp.boards.map((b, i) => ({ ...b, type: order[i]! })) }).strings
    }
    expect([mixed('series', ['one', 'two']), mixed('series', ['two', 'one'])]).toEqual([1, 1])
    expect([mixed('parallel', ['one', 'two']), mixed('parallel', ['two', 'one'])]).toEqual([3, 3])
  })
  test('the least of what their emitters bear', () => {
    const lamp = lampOf({ ...TWO_HALVES, wired: 'series' })
    const [type, e] = [lamp.boardTypes[0]!, lamp.emitterTypes[0]!]
    const bears = (...amps: number[]) => {
      const emitterTypes = amps.map((maxCurrentA, i) => ({ ...e, id: `e${i}`, maxCurrentA }))
      const boardTypes = amps.map((_, i) => ({ ...type, id: `t${i}`, emitter: `e${i}` }))
      const boards = lamp.boards.map((b, i) => ({ ...b, type: `t${i}` }))
      return channel({ ...lamp, emitterTypes, boardTypes, boards }).maxEmitterA
    }
    expect([bears(5, 7), bears(7, 5)]).toEqual([5, 5])
  })
})

describe('channels are alike only where all of it is', () => {
  const kinds = (change: (model: PowerModel) => Partial<PowerModel>) => {
    const model = coarse(lampOf(TWO_HALVES))
    return worstCaseOf({ ...model, ...change(model) }).channels.map((c) => c.ids)
  }
  const apart = [['B1'], ['B2']]

  test('two of a kind are one row', () => expect(kinds(() => ({}))).toEqual([['B1', 'B2']]))
  test('another driver, wiring, or wires before or behind it', () => {
    const second = (over: (c: PowerModel['channels'][number]) => Partial<PowerModel['channels'][number]>) =>
      kinds(({ channels }) => ({ channels: channels.map((c, i) => (i === 1 ? { ...c, ...over(c) } : c)) }))
    expect(second((c) => ({ driver: { ...c.driver, id: 'e' } }))).toEqual(apart)
    expect(second(() => ({ wired: 'parallel' }))).toEqual(apart)
    expect(second(() => ({ inOhm: 0.01 }))).toEqual(apart)
    expect(second(() => ({ outOhm: 0.01 }))).toEqual(apart)
    expect(second(() => ({}))).toEqual([['B1', 'B2']])
  })
  test('another emitter, number of them, strings, current, group or way of its heat', () => {
    const second = (over: (b: PowerModel['boards'][number]) => Partial<PowerModel['boards'][number]>) =>
      kinds(({ boards }) => ({ boards: boards.map((b, i) => (i === 1 ? { ...b, ...over(b) } : b)) }))
    expect(second((b) => ({ tables: { ...b.tables, type: { ...b.tables.type, id: 'f' } } }))).toEqual(apart)
    for (const other of [{ emitters: 2 }, { strings: 2 }, { ownA: 3 }, { group: 'h' }, { chainKW: 9 }, { jointKW: 9 }])
      expect(second(() => other)).toEqual(apart)
  })
})
