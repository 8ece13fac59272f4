// The worst-case table by hand: one buck driver on a pack whose voltage rises straight with its charge.
import { describe, expect, test } from 'vitest'
import type { Driver, Mode } from '../../src/lamp/schema.ts'
import type { DriverRequest } from '../../src/power/driver.ts'
import type { Source } from '../../src/power/supply.ts'
import {
  makeWorstCase,
  TEMPERATURES,
  type Temperature,
  type WorstCase,
  type WorstChannelInput,
  type WorstInput,
} from '../../src/power/worstCase.ts'
import { expectWithin } from '../kit/expect.ts'

const BY_HAND = { rel: 1e-6, because: 'by hand' }
const SEARCH = { rel: 1e-4, because: 'a golden section of 18 turns about a kink' }

const driver: Driver = {
  id: 'd',
  name: '',
  kind: 'buck',
  inputMinV: 5,
  inputMaxV: 60,
  headroomV: 2,
  efficiency: 0.9,
  maxOutputA: 10,
  dimming: 'current',
}
/** 24 V empty, 36 V full, cut-off 24 V. */
const pack: Source = {
  openV: (q) => 24 + 12 * q,
  ohm: 0.1,
  maxA: 100,
  shortA: null,
  cutOffV: 24,
  capacityC: 3600,
  charged: 0.4,
  heatJK: 1,
  maxCellC: 60,
}
const mode = (id: string, share = 1): Mode => ({ id, name: id.toUpperCase(), share, stepDown: null })
const VOLTS: Record<Temperature, number> = { cold: 22, air: 20, hot: 18 }

const channel = (over: Partial<WorstChannelInput> = {}): WorstChannelInput => ({
  id: 'a',
  ...{ key: 'k', group: 'g' },
  driver,
  strings: 1,
  maxEmitterA: 3,
  inOhm: 0,
  outOhm: 0,
  wantedA: (m) => 2 * m.share,
  faultV: (amps) => 20 + 1.5 * amps,
  stringV: (amps) => 10 + amps,
  lower: 0.1,
  ...over,
})
function worst(over: Partial<WorstInput> & { volts?: (t: Temperature, outA: number) => number } = {}): WorstCase {
  const channels = over.channels ?? [channel()]
  const volts = over.volts ?? ((t) => VOLTS[t])
  return makeWorstCase({
    source: pack,
    mainOhm: 0,
    celsius: { cold: -20, air: 20, hot: 140 },
    ...{ modes: [mode('full')], welded: [] },
    channels,
    requests: (m, t): DriverRequest[] =>
      channels.map((c) => ({
        driver: c.driver,
        outA: Math.min(c.wantedA(m), c.driver.maxOutputA),
        duty: 1,
        boardV: (outA) => volts(t, outA),
        inOhm: c.inOhm,
        outOhm: c.outOhm,
        tripped: false,
      })),
    ...over,
  })
}

describe('a driver that holds down to cut-off', () => {
  test('most is drawn cold and empty, 22 V · 2 A/0.9 from 24 V; what lasts in the air given; charge and place are named', () => {
    const w = worst()
    expect([w.fullV, w.emptyV]).toEqual([36, 24])
    expectWithin(w.supplyA.value, (22 * 2) / 0.9 / 24, BY_HAND)
    expect(w.supplyA).toMatchObject({ modeId: 'full', mode: 'FULL', terminalV: 24, temperature: 'cold' })
    // At rest 24 V + 0.1 Ω · 2.037 A, of 24 to 36 V.
    expectWithin(w.supplyA.charge!, (0.1 * w.supplyA.value) / 12, { abs: 1e-6, because: 'forty halvings' })
    expectWithin(w.lastingA.value, (20 * 2) / 0.9 / 24, BY_HAND)
    expect(w.lastingA.temperature).toBe('air')
    expect(w.modes[0]!.supplyA).toEqual(w.supplyA)
    expect(w.modes[0]!.lastingA).toEqual(w.lastingA)
  })
  test('the channel: input of the full supply, currents, volts, watts', () => {
    const [c] = worst().channels
    expect(c!.inV).toMatchObject({ value: 36, mode: '', temperature: 'air' })
    expectWithin(c!.inA.value, (22 * 2) / 0.9 / 24, BY_HAND)
    expectWithin(c!.lastingInA.value, (20 * 2) / 0.9 / 24, BY_HAND)
    expect([c!.outA.value, c!.outV.value, c!.outW.value, c!.emitterA.value]).toEqual([2, 22, 44, 2])
    expect(c!.outV.temperature).toBe('cold')
    expect(worst().modes[0]!.channels[0]).toEqual({
      wantedA: 2,
      outA: 2,
      emitterA: 2,
      unevenA: 2,
      inputTooHigh: false,
      sagsUnderV: null,
      dark: false,
    })
  })
  test('watts are a mean over the pulses, amperes those of a pulse', () => {
    const channels = [channel()]
    const [c] = makeWorstCase({
      source: pack,
      mainOhm: 0,
      celsius: { cold: 0, air: 1, hot: 2 },
      ...{ modes: [mode('full')], welded: [] },
      channels,
      requests: () => [{ driver, outA: 2, duty: 0.25, boardV: () => 20, inOhm: 0, outOhm: 0, tripped: false }],
    }).channels
    expect([c!.outW.value, c!.outA.value]).toEqual([10, 2])
    expectWithin(c!.inA.value, (20 * 2 * 0.25) / 0.9 / 24, BY_HAND)
  })
  test('where hot boards need more (a table may rise), hot lasts', () => {
    const w = worst({ volts: (t) => (t === 'hot' ? 21 : 20) })
    expect(w.lastingA.temperature).toBe('hot')
    expectWithin(w.lastingA.value, (21 * 2) / 0.9 / 24, BY_HAND)
  })
  test('wires: the volts at the driver’s output count its own leads, watts do not', () => {
    const [c] = worst({ channels: [channel({ outOhm: 0.25 })] }).channels
    expect([c!.outV.value, c!.outW.value]).toEqual([22.5, 44])
    const far = worst({ mainOhm: 0.5, volts: () => 18 })
    // V (24 − V)/0.5 = 36/0.9.
    const busV = (24 + Math.sqrt(576 - (2 * 36) / 0.9)) / 2
    expectWithin(far.supplyA.value, 36 / 0.9 / busV, BY_HAND)
  })
  test('every temperature and mode is tried; the largest of all modes', () => {
    const seen: string[] = []
    const channels = [channel()]
    makeWorstCase({
      source: pack,
      mainOhm: 0,
      celsius: { cold: 0, air: 1, hot: 2 },
      ...{ modes: [mode('low', 0.5), mode('full'), mode('off', 0)], welded: [] },
      channels,
      requests: (m, t) => {
        seen.push(`${m.id} ${t}`)
        return []
      },
    })
    expect(seen).toEqual(['low', 'full', 'off'].flatMap((m) => TEMPERATURES.map((t) => `${m} ${t}`)))
    const w = worst({ modes: [mode('low', 0.5), mode('full'), mode('off', 0)] })
    expect(w.supplyA.modeId).toBe('full')
    expectWithin(w.modes[0]!.supplyA.value, (22 * 1) / 0.9 / 24, BY_HAND)
    expect(w.modes[2]!.supplyA).toMatchObject({ value: 0, modeId: 'off', mode: 'OFF', terminalV: 36, charge: null })
    expect(w.modes[2]!.channels[0]).toMatchObject({ wantedA: 0, outA: 0, dark: true, sagsUnderV: null })
    expect(w.modes.map((m) => m.channels[0]!.wantedA)).toEqual([1, 2, 0])
  })
})

describe('a driver that runs out of headroom before cut-off', () => {
  /** 20 V + 1 Ω: 4 A need 24 V and 2 V more. */
  const sagging = (over: Parameters<typeof worst>[0] = {}) =>
    worst({ channels: [channel({ wantedA: () => 4 })], volts: (_, a) => 20 + a, ...over })
  test('most is drawn where it just holds, 24 V · 4 A/0.9 from 26 V, between two of the even steps', () => {
    // 12 V in 32 steps: 26.0 would be one of them; a cut-off of 23.9 V moves them.
    const w = sagging({ source: { ...pack, cutOffV: 23.9 } })
    expectWithin(w.supplyA.value, (24 * 4) / 0.9 / 26, SEARCH)
    expectWithin(w.supplyA.terminalV, 26, SEARCH)
  })
  test('and where the even step with most lies just under it', () => {
    // Step 27 of 32 at 25.98 V: 3.98 A there, 4.08 A from the supply; at step 26 4.05 A.
    const w = sagging({ source: { ...pack, cutOffV: 36 - (32 * 10.02) / 27 } })
    expectWithin(w.supplyA.value, (24 * 4) / 0.9 / 26, SEARCH)
  })
  test('from where on it can’t hold, to a step; it isn’t dark', () => {
    const [c] = sagging().modes[0]!.channels
    expect(c!.sagsUnderV!).toBeLessThan(26)
    expect(c!.sagsUnderV!).toBeGreaterThan(26 - 12 / 32)
    expect(c).toMatchObject({ dark: false, inputTooHigh: false, outA: 4 })
  })
  test('at no voltage anything: dark, from the full supply on', () => {
    const w = sagging({ volts: () => 40 })
    expect(w.modes[0]!.channels[0]).toMatchObject({ dark: true, outA: 0, sagsUnderV: 36 })
    expect(w.channels[0]!.outA.value).toBe(0)
  })
})

describe('limits of the supply', () => {
  test('the charge that was entered changes nothing', () => {
    expect(worst({ source: { ...pack, charged: 0.01 } })).toEqual(worst({ source: { ...pack, charged: 1 } }))
  })
  test('an input over its range is seen at full charge', () => {
    const low = { ...driver, inputMaxV: 30 }
    const over = worst({ channels: [channel({ driver: low })] }).modes[0]!.channels[0]!
    // It still gives its current, so nothing sags.
    expect(over).toMatchObject({ inputTooHigh: true, sagsUnderV: null, dark: false, outA: 2 })
    expect(
      worst({ channels: [channel({ driver: { ...driver, inputMaxV: 36 } })] }).modes[0]!.channels[0],
    ).toMatchObject({
      inputTooHigh: false,
    })
  })
  test('a supply without end: one voltage, its own resistance counts: V (36 − V)/1 = 44/0.9; no charge', () => {
    const w = worst({ source: { ...pack, openV: () => 36, ohm: 1, cutOffV: null, capacityC: null } })
    const v = (36 + Math.sqrt(36 ** 2 - (4 * 44) / 0.9)) / 2
    expectWithin(w.supplyA.value, 36 - v, BY_HAND)
    expect([w.emptyV, w.supplyA.charge]).toEqual([36, null])
  })
  test('a cut-off over the full voltage cuts nothing off: down to no charge; one at it leaves one voltage', () => {
    expect(worst({ source: { ...pack, cutOffV: 40 } }).emptyV).toBe(24)
    expect(worst({ source: { ...pack, cutOffV: 36 } }).emptyV).toBe(36)
  })
  test('no channels: zeros, no modes', () => {
    const w = worst({ channels: [] })
    expect([w.modes, w.channels, w.supplyA.value, w.lastingA.value]).toEqual([[], [], 0, 0])
    expect(w.supplyA).toEqual({ value: 0, modeId: '', mode: '', terminalV: 36, charge: null, temperature: 'air' })
  })
})

describe('channels', () => {
  test('alike ones are one entry; unlike ones are read at their own place', () => {
    const channels = [
      channel(),
      channel({ id: 'b', key: 'other', wantedA: () => 3, driver: { ...driver, id: 'e' } }),
      channel({ id: 'c' }),
    ]
    const w = worst({ channels })
    expect(w.channels.map((c) => [c.ids, c.driverId, c.outA.value])).toEqual([
      [['a', 'c'], 'd', 2],
      [['b'], 'e', 3],
    ])
    expectWithin(w.supplyA.value, (22 * 7) / 0.9 / 24, BY_HAND)
    expect(w.modes[0]!.channels.map((c) => c.wantedA)).toEqual([2, 3])
  })
  test('two strings that share 4 A, one of them a tenth lower: 14 − x = 0.9 (10 + x)', () => {
    const w = worst({ channels: [channel({ strings: 2, wantedA: () => 4 })] })
    const [c] = w.channels
    expect([c!.strings, c!.emitterA.value, w.modes[0]!.channels[0]!.emitterA]).toEqual([2, 2, 2])
    expectWithin(c!.unevenA.value, 5 / 1.9, BY_HAND)
    expectWithin(w.modes[0]!.channels[0]!.unevenA, 5 / 1.9, BY_HAND)
  })
  test('a driver’s own limit holds the output, not what is asked', () => {
    const w = worst({ channels: [channel({ wantedA: () => 19, driver: { ...driver, maxOutputA: 3 } })] })
    expect(w.modes[0]!.channels[0]).toMatchObject({ wantedA: 19, outA: 3 })
  })
  test('a driver that fails short: 36 V over 0.1 + 0.2 + 0.3 + 0.4 Ω and 20 V + 1.5 Ω', () => {
    const w = worst({ mainOhm: 0.2, channels: [channel({ inOhm: 0.3, outOhm: 0.4, strings: 2 })] })
    expectWithin(w.channels[0]!.shortedA, 16 / 2.5, BY_HAND)
    // Of 6.4 A shared by two: 10 + 6.4 − x = 9 + 0.9 x.
    expectWithin(w.channels[0]!.shortedEmitterA, 7.4 / 1.9, BY_HAND)
  })
})
