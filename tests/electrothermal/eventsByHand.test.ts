// What ends a step of time and what ends a run, each rule just under and just over its limit.
import { describe, expect, test } from 'vitest'
import {
  findLimit,
  firstEventFraction,
  hasSettled,
  moveCutOut,
  noteChannels,
  stepsDown,
  untilStep,
  wantedSeconds,
} from '../../src/electrothermal/events.ts'
import type { OperatingState, PowerModel } from '../../src/electrothermal/model.ts'
import { type Moment, momentOf, type RawRun } from '../../src/electrothermal/moment.ts'
import type { ProtectionState } from '../../src/electrothermal/protection.ts'
import { makeEvenTemperatures } from '../../src/heat/plateTemperatures.ts'
import type { Mode, Protection } from '../../src/lamp/schema.ts'
import type { DriverState } from '../../src/power/driver.ts'
import type { Source } from '../../src/power/supply.ts'
import { expectWithin } from '../kit/expect.ts'
import { AIR_C, coarse, fewCells, ON, sourceOf, stateAt, TWO_HALVES } from '../kit/fewCells.ts'
import { once } from '../kit/once.ts'

const HAND = { rel: 1e-9, because: 'by hand' }
const ACCOUNT = { inJ: 0, lightJ: 0, wallJ: 0, storedJ: 0, toAirJ: 0, driverJ: 0, wiresJ: 0, cellsJ: 0 }
const two = once(() => coarse(fewCells(TWO_HALVES)))
const modelOf = (source: Partial<Source> = {}, protection: Protection | null = null): PowerModel => ({
  ...two(),
  source: sourceOf(source),
  protection,
})
const still = once(() => {
  const model = modelOf()
  const even = makeEvenTemperatures(model.plate, AIR_C)
  return momentOf(model, ON, stateAt(model, AIR_C), 0, even, new Float64Array(2), AIR_C, ACCOUNT, 1)
})
interface Over extends Partial<Omit<Moment, 'electrics'>> {
  amps?: number
  terminalV?: number
  overloaded?: boolean
  states?: DriverState[]
}
/** At 20 °C, 100 K under every limit, both drivers at work. */
function moment({ amps, terminalV, overloaded, states, ...over }: Over = {}): Moment {
  const { electrics, ...rest } = still()
  const { bus } = electrics
  const channels = bus.channels.map((c, i) => ({ ...c, state: states?.[i] ?? c.state }))
  const supply = { supplyA: amps ?? bus.supplyA, terminalV: terminalV ?? 12, overloaded: overloaded ?? false }
  return { ...rest, overK: -100, electrics: { ...electrics, bus: { ...bus, channels, ...supply } }, ...over }
}
const runOf = (over: Partial<RawRun> = {}): RawRun => ({
  ...{ mode: ON, moments: [], limit: { kind: 'long', atS: 0, boardIndex: null }, steppedDown: null },
  ...{ sagsFromS: null, letGoFromS: null, share: 1, protection: { open: false, switched: [] } },
  ...over,
})
const steps = (stepDown: Mode['stepDown']): Mode => ({ ...ON, stepDown })
const STEPPED = { atS: 1, toShare: 0.5 }

test('a cut-out that moves: from closed to open and back, with the times', () => {
  const state: ProtectionState = { open: false, switched: [] }
  moveCutOut(state, 5)
  expect(state).toEqual({ open: true, switched: [{ atS: 5, open: true }] })
  moveCutOut(state, 9)
  expect(state.open).toBe(false)
  expect(state.switched[1]).toEqual({ atS: 9, open: false })
})

describe('drivers that sag or let go', () => {
  const noted = (over: Over, run = runOf(), at = stateAt(modelOf(), AIR_C), mode = ON) => {
    noteChannels(modelOf(), mode, at, moment(over), run)
    return { sags: run.sagsFromS, letGo: run.letGoFromS, tripped: [...at.tripped] }
  }
  test('while both hold nothing is noted', () => {
    expect(noted({ tS: 7 })).toEqual({ sags: null, letGo: null, tripped: [] })
  })
  test('the first time counts', () => {
    expect(noted({ tS: 7, states: ['holds', 'sags'] })).toEqual({ sags: 7, letGo: null, tripped: [] })
    expect(noted({ tS: 9, states: ['sags', 'sags'] }, runOf({ sagsFromS: 7 })).sags).toBe(7)
    expect(noted({ tS: 7, states: ['holds', 'off'] })).toEqual({ sags: null, letGo: 7, tripped: [1] })
    expect(noted({ tS: 9, states: ['off', 'off'] }, runOf({ letGoFromS: 7 }))).toMatchObject({
      letGo: 7,
      tripped: [0, 1],
    })
  })
  test('one that let go before stays off', () => {
    const at = stateAt(modelOf(), AIR_C, { tripped: new Set([1]) })
    expect(noted({ states: ['off', 'holds'] }, runOf(), at).tripped).toEqual([1, 0])
  })
  test('one of which nothing is asked has not let go', () => {
    const dark: Mode = { ...ON, groupA: { g: 0 } }
    expect(noted({ states: ['off', 'sags'] }, runOf(), stateAt(modelOf(), AIR_C), dark)).toEqual({
      ...{ sags: null, letGo: null, tripped: [] },
    })
    const cut = stateAt(modelOf(), AIR_C, { share: 0 })
    expect(noted({ states: ['off', 'off'] }, runOf(), cut)).toMatchObject({ letGo: null, tripped: [] })
  })
})

describe('what ends a run', () => {
  const end = (
    now: Over = {},
    source: Partial<Source> = {},
    o: { at?: Partial<OperatingState>; run?: Partial<RawRun>; mode?: Mode; protection?: Protection } = {},
  ) => {
    const model = modelOf(source, o.protection ?? null)
    return findLimit(model, o.mode ?? ON, stateAt(model, AIR_C, o.at), moment(now), runOf(o.run))
  }
  const kinds = (...ends: ReturnType<typeof end>[]) => ends.map((e) => e?.kind ?? null)

  test('nothing, as long as all is well', () => expect(end({ tS: 5 })).toBeNull())
  test('a supply that can’t carry it at switch-on; later the drivers', () => {
    expect(end({ overloaded: true })).toEqual({ kind: 'supply', atS: 0, boardIndex: null })
    expect(end({ overloaded: true, tS: 3 })).toEqual({ kind: 'drivers', atS: 3, boardIndex: null })
  })
  test('a junction within 0.02 K of its limit, with its board', () => {
    expect(end({ overK: -0.02, tS: 3, hottest: 1 })).toEqual({ kind: 'junction', atS: 3, boardIndex: 1 })
    expect(kinds(end({ overK: -0.021 }), end({ overK: 5 }))).toEqual([null, 'junction'])
  })
  test('empty: within a ten thousandth of the cut-off, or of charge', () => {
    const cut = { cutOffV: 10 }
    expect(kinds(end({ terminalV: 10.0011 }, cut), end({ terminalV: 10 * (1 + 1e-4) }, cut))).toEqual([null, 'empty'])
    expect(kinds(end({ terminalV: 9 }, cut), end({ terminalV: 9 }))).toEqual(['empty', null])
    const pack = { capacityC: 100 }
    expect(kinds(end({ charge: 1.1e-6 }, pack), end({ charge: 1e-6 }, pack), end({ charge: 0 }))).toEqual([
      ...[null, 'empty', null],
    ])
  })
  test('cells within a thousandth of a kelvin of their limit', () => {
    const cells = { maxCellC: 60 }
    const hot = kinds(end({ cellC: 59.998 }, cells), end({ cellC: 60 - 1e-3 }, cells), end({ cellC: 61 }, cells))
    expect(hot).toEqual([null, 'cells', 'cells'])
    expect(end({ cellC: 500 })).toBeNull()
  })
  test('off: a mode that asks for nothing, or that stepped down to nothing; not one that the protection holds back', () => {
    expect(end({}, {}, { mode: { ...ON, share: 0 } })?.kind).toBe('off')
    expect(end({ tS: 4 }, {}, { run: { share: 0 } })).toEqual({ kind: 'off', atS: 4, boardIndex: null })
    expect(end({}, {}, { at: { share: 0 } })).toBeNull()
  })
  test('drivers: once all that are asked for anything have let go', () => {
    const let_ = (...who: number[]) => end({}, {}, { at: { tripped: new Set(who) } })?.kind
    expect([let_(0), let_(1), let_(0, 1)]).toEqual([undefined, undefined, 'drivers'])
  })
  test('a cut-out that stays open, one that cycles, and a week', () => {
    const open = { open: true, switched: [{ atS: 0, open: true }] }
    expect(end({}, {}, { run: { protection: open }, protection: { cutOut: { openC: 50 } } })?.kind).toBe('cutOut')
    const closes = { cutOut: { openC: 50, closeC: 40 } }
    expect(end({}, {}, { run: { protection: open }, protection: closes })).toBeNull()
    const cycles = [0, 50, 100, 150, 200].map((atS, i) => ({ atS, open: i % 2 === 0 }))
    const cycling = { run: { protection: { open: true, switched: cycles } }, protection: closes }
    expect(kinds(end({ passes: 0 }, {}, cycling), end({ passes: 0.1 }, {}, cycling))).toEqual(['cycles', null])
    expect(end({ passes: 0 }, {}, { protection: closes })).toBeNull()
    expect(kinds(end({ tS: 604_799 }), end({ tS: 604_800 }))).toEqual([null, 'long'])
  })
})

describe('a step-down', () => {
  test('by the clock: within a nanosecond', () => {
    const mode = steps({ watch: 'time', afterS: 30, toShare: 0.5 })
    expect([29.999, 30 - 1e-9, 30, 31].map((tS) => stepsDown(mode, moment({ tS }), runOf()))).toEqual([
      ...[false, true, true, true],
    ])
    expect(stepsDown(mode, moment({ tS: 40 }), runOf({ steppedDown: STEPPED }))).toBe(false)
    expect(stepsDown(ON, moment({ tS: 40 }), runOf())).toBe(false)
  })
  test('by the plate or the junction, each its own: within 0.02 K', () => {
    const at = (watch: 'plate' | 'junction', plateMaxC: number, junctionMaxC: number) =>
      stepsDown(steps({ watch, atC: 60, toShare: 0.5 }), moment({ plateMaxC, junctionMaxC }), runOf())
    expect([at('plate', 59.979, 90), at('plate', 59.98, 20), at('plate', 60, 20)]).toEqual([false, true, true])
    expect([at('junction', 90, 59.979), at('junction', 20, 59.98), at('junction', 20, 61)]).toEqual([false, true, true])
  })
  test('time until it, at least a microsecond; none by temperature, nor once it has come', () => {
    const mode = steps({ watch: 'time', afterS: 30, toShare: 0.5 })
    expect(untilStep(mode, moment({ tS: 12 }), runOf())).toBe(18)
    expect(untilStep(mode, moment({ tS: 30 }), runOf())).toBe(1e-6)
    expect(untilStep(mode, moment({ tS: 12 }), runOf({ steppedDown: STEPPED }))).toBeNull()
    expect(untilStep(steps({ watch: 'plate', atC: 60, toShare: 0 }), moment(), runOf())).toBeNull()
    expect(untilStep(ON, moment(), runOf())).toBeNull()
  })
})

describe('the next step', () => {
  const seconds = (now: Over, source: Partial<Source> = {}, mode = ON, eventS = 0, run = runOf()) =>
    wantedSeconds(modelOf(source), mode, moment(now), run, eventS)

  test('a tenth of a second, or a fifth of the time since the last event', () => {
    expectWithin(seconds({ tS: 0 }), 0.1, HAND)
    expectWithin(seconds({ tS: 0.4 }), 0.1, HAND)
    expectWithin(seconds({ tS: 10 }), 2, HAND)
    expectWithin(seconds({ tS: 10 }, {}, ON, 9), 0.2, HAND)
  })
  test('no longer than to the step-down, and to a week', () => {
    const mode = steps({ watch: 'time', afterS: 11, toShare: 0.5 })
    expectWithin(seconds({ tS: 10 }, {}, mode), 1, HAND)
    expectWithin(seconds({ tS: 10 }, {}, mode, 0, runOf({ steppedDown: STEPPED })), 2, HAND)
    expectWithin(seconds({ tS: 604_790 }), 10.001, { abs: 1e-6, because: '10 s and a millisecond' })
  })
  test('3 % of the charge at most; near its end a quarter of what is left, but not under a tenth of that', () => {
    const pack = { capacityC: 1000 }
    // 2 A of 1000 C: 3 % are 15 s, all of it 500 s.
    const at = (charge: number, tS = 1e4) => seconds({ tS, charge, amps: 2 }, pack)
    expectWithin(at(1), 15, HAND)
    expectWithin(at(1, 50), 10, HAND)
    expectWithin(at(0.1), 12.5, HAND)
    expectWithin(at(0.02), 2.5, HAND)
    expectWithin(at(0.001), 1.5, HAND)
    expectWithin(seconds({ tS: 1e4, charge: 1, amps: 0 }, pack), 2000, HAND)
    expectWithin(seconds({ tS: 1e4, charge: 1, amps: 2 }), 2000, HAND)
  })
})

describe('where in a step the first event falls', () => {
  const part = (
    a: Over,
    b: Over,
    o: { source?: Partial<Source>; mode?: Mode; run?: RawRun; protection?: Protection } = {},
  ) => firstEventFraction(modelOf(o.source, o.protection ?? null), o.mode ?? ON, o.run ?? runOf(), moment(a), moment(b))

  test('none: the whole step', () => expect(part({ overK: -9 }, { overK: -8 })).toBe(1))
  test('a junction from 3 K under to 1 K over its limit: after three quarters', () => {
    expectWithin(part({ overK: -3 }, { overK: 1 }), 0.75, HAND)
    // Just there at the end, or over it from the start: nothing to find.
    expect([
      part({ overK: -3 }, { overK: 0 }),
      part({ overK: 0 }, { overK: 1 }),
      part({ overK: 1 }, { overK: 2 }),
    ]).toEqual([...[1, 1, 1]])
    expect(part({ overK: 1 }, { overK: -3 })).toBe(1)
  })
  test('a step-down by temperature, until it has come', () => {
    const mode = (watch: 'plate' | 'junction') => steps({ watch, atC: 60, toShare: 0.5 })
    const from = { plateMaxC: 58, junctionMaxC: 56 }
    const to = { plateMaxC: 66, junctionMaxC: 64 }
    expectWithin(part(from, to, { mode: mode('plate') }), 0.25, HAND)
    expectWithin(part(from, to, { mode: mode('junction') }), 0.5, HAND)
    expect(part(from, to, { mode: mode('plate'), run: runOf({ steppedDown: STEPPED }) })).toBe(1)
    expect(part(from, to, { mode: steps({ watch: 'time', afterS: 60, toShare: 0 }) })).toBe(1)
  })
  test('the cut-out on its way up, its lower temperature on the way down, the fold-back’s start', () => {
    const protection = { cutOut: { openC: 60, closeC: 40 }, foldBack: { startC: 50, endC: 70, leastShare: 0 } }
    const open = runOf({ protection: { open: true, switched: [] } })
    expectWithin(part({ watchedC: 59 }, { watchedC: 61 }, { protection }), 0.5, HAND)
    expectWithin(part({ watchedC: 45 }, { watchedC: 65 }, { protection }), 0.25, HAND)
    expectWithin(part({ watchedC: 41 }, { watchedC: 37 }, { protection, run: open }), 0.25, HAND)
    expect(part({ watchedC: 39 }, { watchedC: 41 }, { protection, run: open })).toBe(1)
    expect(part({ watchedC: 61 }, { watchedC: 59 }, { protection })).toBe(1)
  })
  test('the cut-off voltage on the way down, the cells’ limit on the way up; the earliest of all wins', () => {
    const source = { cutOffV: 10, maxCellC: 50 }
    expectWithin(part({ terminalV: 10.5 }, { terminalV: 9.5 }, { source }), 0.5, HAND)
    expect(part({ terminalV: 9.5 }, { terminalV: 10.5 }, { source })).toBe(1)
    expectWithin(part({ cellC: 49 }, { cellC: 53 }, { source }), 0.25, HAND)
    expect(part({ cellC: 51 }, { cellC: 49 }, { source })).toBe(1)
    expectWithin(part({ cellC: 49, overK: -1 }, { cellC: 53, overK: 9 }, { source }), 0.1, HAND)
    expectWithin(part({ cellC: 49, overK: -1 }, { cellC: 53, overK: 1 }, { source }), 0.25, HAND)
  })
})

describe('settled on a supply without end', () => {
  /** 0.5 W/K: 0.5 K are 0.25 W. */
  const settled = (...moments: Over[]) => {
    const model = modelOf()
    return hasSettled({ ...model, sink: { ...model.sink, totalWK: () => 0.5 } }, moments.map(moment))
  }
  const stored = (storedJ: number) => ({ account: { ...ACCOUNT, storedJ } })

  test('not in the first minute', () => {
    expect([settled({ tS: 10 }, { tS: 59.9 }), settled({ tS: 10 }, { tS: 60 })]).toEqual([false, true])
  })
  test('by the last moment in the first half of the time: moved by less than 0.1 K', () => {
    const to = (plateMaxC: number) =>
      settled({ tS: 40, plateMaxC: 9 }, { tS: 50, plateMaxC: 30 }, { tS: 100, plateMaxC })
    expect([to(30.09), to(29.91), to(30.11), to(29.89)]).toEqual([true, true, false, false])
    // What moved later doesn't count; without a moment in the first half there is none to compare.
    expect(settled({ tS: 50 }, { tS: 51, plateMaxC: 30 }, { tS: 100 })).toBe(true)
    expect(settled({ tS: 51 }, { tS: 100 })).toBe(false)
  })
  test('and what is still stored would lift it by less than half a kelvin, up or down', () => {
    const over = (joules: number) => settled({ tS: 50, ...stored(100) }, { tS: 100, ...stored(100 + joules) })
    // 0.25 W for 50 s.
    expect([over(12.4), over(-12.4), over(12.6), over(-12.6)]).toEqual([true, true, false, false])
  })
})
