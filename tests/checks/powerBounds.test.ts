// Rules of power at their limits, from tables by hand: silent exactly at the limit, a finding just past it, and for which parts.
import { describe, expect, test } from 'vitest'
import { driverRange as driverRangeRule } from '../../src/checks/power/driverRange.ts'
import { driverShort as driverShortRule } from '../../src/checks/power/driverShort.ts'
import { emitterCurrent as emitterCurrentRule } from '../../src/checks/power/emitterCurrent.ts'
import { fuses as fusesRule } from '../../src/checks/power/fuses.ts'
import { packLimits as packLimitsRule } from '../../src/checks/power/packLimits.ts'
import { packOver as packOverRule } from '../../src/checks/power/packOver.ts'
import { ratingsUnsaid as ratingsUnsaidRule } from '../../src/checks/power/ratingsUnsaid.ts'
import { switching as switchingRule } from '../../src/checks/power/switching.ts'
import { wires as wiresRule } from '../../src/checks/power/wires.ts'
import { type PowerParts, whereWords as whereWordsInBoth } from '../../src/checks/powerParts.ts'
import type { Driver, Harness, Lamp, Pack, Power, Supply } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import type { WireRun } from '../../src/power/schedule.ts'
import type { WorstCase } from '../../src/power/worstCase.ts'
import { point, table, wireRun, worstChannel } from '../kit/fakeWorst.ts'
import { metricRule, metricWords } from '../kit/metricRules.ts'

const driverRange = metricRule(driverRangeRule)
const driverShort = metricRule(driverShortRule)
const emitterCurrent = metricRule(emitterCurrentRule)
const fuses = metricRule(fusesRule)
const packLimits = metricRule(packLimitsRule)
const packOver = metricRule(packOverRule)
const ratingsUnsaid = metricRule(ratingsUnsaidRule)
const switching = metricRule(switchingRule)
const wires = metricRule(wiresRule)
const whereWords = metricWords(whereWordsInBoth)

const gannet = gannetHead()
const lampOf = (power: Partial<Power> = {}): Lamp => ({ ...gannet, power: { ...gannet.power!, ...power } })
const harness = (over: Partial<Harness>): Lamp => lampOf({ harness: { ...gannet.power!.harness, ...over } })
const pack = (over: Partial<Pack>): Supply => ({ ...(gannet.power!.supply as Pack), ...over })
const parts = (worst: Partial<WorstCase>, wiring: WireRun[] = [], over: Partial<PowerParts> = {}): PowerParts => ({
  modes: [],
  wiring,
  ...table(worst),
  sink: { speedMS: null, leftOutFins: 0, plateKg: 1, finKg: 1 },
  ...over,
})
const rules = (found: { rule: string }[]) => found.map((f) => f.rule)

/** A value at the limit, one just past it, and what is found then. */
const atAndPast = <T>(at: T, past: T, find: (x: T) => { rule: string }[], rule: string) => {
  expect(rules(find(at)), 'at the limit').not.toContain(rule)
  expect(rules(find(past)), 'past the limit').toContain(rule)
}

describe('fuses', () => {
  const of = (over: Partial<WireRun>, worst: Partial<WorstCase> = {}, lamp = gannet) =>
    fuses(lamp, parts(worst, [wireRun(over)]))
  const fuse = (amps: number) => ({ fuse: { amps, volts: 32 } })
  test('too big, too small, voltage, breaking capacity, wire’s end', () => {
    atAndPast(20, 20.1, (a) => of(fuse(a)), 'fuse-too-big')
    atAndPast(12.5, 12.4, (a) => of(fuse(a)), 'fuse-too-small')
    atAndPast(32, 32.1, (fullV) => of({}, { fullV }), 'fuse-voltage')
    atAndPast(1000, 1001, (shortA) => of({ shortA }), 'fuse-breaking-capacity')
    atAndPast(20.25, 20.24, (endShortA) => of({ endShortA }), 'fuse-never-opens')
    // Six of 10 A.
    atAndPast(60, 61, (a) => of({ ...fuse(a), fuseRange: null }), 'fuse-over-pack')
    const named = (breaksA: number) => ({ fuse: { amps: 15, volts: 32, breaksA } })
    atAndPast(900, 899, (b) => of(named(b)), 'fuse-breaking-capacity')
  })
  test('what is not known is not found: no short circuit, no end of a wire; a fixed supply has no cells', () => {
    expect(of({ shortA: null, endShortA: null })).toEqual([])
    const fixed = lampOf({ supply: { kind: 'fixed', name: '', volts: 40, milliohm: 1, maxA: 5 } })
    expect(of(fuse(15), {}, fixed)).toEqual([])
    const { power: _, ...unsaid } = gannet
    expect(of(fuse(99), {}, unsaid)).toEqual([])
  })
  test('missing: main severe, with the one that fits; channels where the main fuse is more than their wire may have', () => {
    const [f] = of({ fuse: null })
    expect(f).toMatchObject({ rule: 'fuse-missing', severity: 'severe', parts: ['fuse main', 'wire main'] })
    expect(f!.cure).toBe('Fuse it at the supply’s own terminal, 15 A.')
    const channel = (mostA: number, main: Partial<WireRun> = {}) =>
      fuses(
        gannet,
        parts({}, [
          wireRun(main),
          wireRun({ id: 'A in', part: 'channel', channel: 'A', fuse: null, fuseRange: { leastA: 1, mostA, fitsA: 2 } }),
        ]),
      )
    atAndPast(15, 14.9, channel, 'fuse-missing')
    expect(channel(14.9)[0]).toMatchObject({ severity: 'warning', parts: ['fuse A in', 'wire A in'] })
    expect(channel(14.9)[0]!.cure).toBe('Fuse every channel with 2 A.')
    expect(rules(channel(1000, { fuse: null, fuseRange: null }))).toEqual(['fuse-missing', 'fuse-missing'])
  })
  test('the worst of several comes first; parts are all of them; two kinds of fuse are distinguished', () => {
    const found = fuses(
      gannet,
      parts({}, [
        wireRun({ id: 'A in', part: 'channel', weakest: 'AWG 20', fuseRange: { leastA: 1, mostA: 5, fitsA: 2 } }),
        wireRun({ id: 'B in', part: 'channel', weakest: 'AWG 26', fuseRange: { leastA: 1, mostA: 1, fitsA: null } }),
        wireRun({ id: 'C in', part: 'channel' }),
      ]),
    )
    expect(found).toHaveLength(1)
    expect(found[0]!.title).toBe('2 channel fuses of 15 A on AWG 12 and, after it, AWG 26, which may have 1 A at most.')
    expect(found[0]!.parts).toEqual(['fuse B in', 'fuse A in'])
    expect(found[0]!.cure).toBe('No usual fuse fits between 1 A and 1 A: use thicker wire.')
    const main = of({ weakest: 'AWG 26', fuseRange: { leastA: 12.5, mostA: 1, fitsA: null } })
    expect(main[0]!.cure).toMatch(/use thicker wire, or fuse every channel\.$/)
  })
})

describe('wires', () => {
  const of = (over: Partial<WireRun>, worst: Partial<WorstCase> = {}) => wires(gannet, parts(worst, [wireRun(over)]))
  test('current, insulation, drop', () => {
    atAndPast(20, 20.1, (amps) => of({ amps }), 'wire-over-current')
    atAndPast(74.9, 75, (airC) => of({ airC }), 'insulation-over-place')
    // 3 % of 10 V.
    atAndPast(0.3, 0.301, (dropV) => of({ dropV }, { emptyV: 10 }), 'drop-over-limit')
    expect(rules(of({ airC: 80, bearsA: 0 }))).toEqual(['insulation-over-place'])
    expect(rules(of({ airC: 80, bearsA: 0, coolBearsA: 9 }))).toEqual(['wire-over-current', 'insulation-over-place'])
  })
  test('a row for each part of the wiring; the drop names where most is lost', () => {
    const run = (part: WireRun['part'], amps: number, id: string) => wireRun({ part, amps, id })
    const found = wires(
      gannet,
      parts({}, [run('main', 21, 'main'), run('channel', 5, 'A in'), run('link', 22, 'l1'), run('link', 23, 'l2')]),
    )
    expect(found.map((f) => [f.title.split(':')[0], f.parts])).toEqual([
      ['1 main run', ['wire main']],
      ['2 links between boards', ['wire l1', 'wire l2']],
    ])
    expect(found[1]!.title).toContain('23 A through')
    const dropping = (mainV: number, channelV: number) =>
      wires(
        gannet,
        parts({}, [
          wireRun({ dropV: mainV }),
          wireRun({ id: 'A in', part: 'channel', dropV: channelV }),
          wireRun({ id: 'B in', part: 'channel', dropV: channelV / 2 }),
        ]),
      )
    expect(dropping(1, 0.9)[0]).toMatchObject({ parts: ['wire main'], cure: expect.stringContaining('the main run.') })
    expect(dropping(0.9, 1)[0]).toMatchObject({ parts: ['wire A in'], cure: expect.stringContaining('the channels.') })
    expect(dropping(0.9, 1)[0]!.title).toBe('The wires cost 1.9 V of 9 V, 21.2 %; 3 % is allowed.')
  })
})

describe('contactor, connectors, capacitors', () => {
  const contactor = (over: Partial<NonNullable<Harness['contactor']>>, worst: Partial<WorstCase>, charging = {}) =>
    switching(
      harness({ contactor: { maxA: 50, milliohm: 1, ...over } }),
      parts(worst, [], { inrush: { ...table({}).inrush, ...charging } }),
    )
  test('rated, breaking, voltage, making', () => {
    atAndPast(50, 50.1, (a) => contactor({}, { lastingA: point(a) }), 'contactor-over-current')
    atAndPast(60, 60.1, (a) => contactor({ breaksA: 60 }, { supplyA: point(a) }), 'contactor-breaking-capacity')
    atAndPast(48, 48.1, (fullV) => contactor({ maxV: 48 }, { fullV }), 'contactor-voltage')
    // Four times 50 A; its own making capacity; through a pre-charge.
    atAndPast(200, 201, (peakA) => contactor({}, {}, { peakA }), 'inrush')
    atAndPast(90, 91, (peakA) => contactor({ makesA: 90 }, {}, { peakA }), 'inrush')
    atAndPast(200, 201, (prechargeA) => contactor({}, {}, { peakA: 999, prechargeA }), 'inrush')
  })
  test('a capacitance that is only taken as typical is a warning; the resistor that helps', () => {
    const inrush = (typical: boolean) => contactor({ makesA: 100 }, { fullV: 42 }, { peakA: 300, typical })[0]!
    expect([inrush(true).severity, inrush(false).severity]).toEqual(['warning', 'severe'])
    // 42 V / 50 A.
    expect(inrush(false).cure).toContain('A resistor of 0.84 Ω or more')
    expect(inrush(true).parts).toEqual(['contactor'])
  })
  test('nothing where there is no contactor, no rating, or no number', () => {
    expect(switching(harness({ contactor: null }), parts({ lastingA: point(999), supplyA: point(999) }))).toEqual([])
    expect(contactor({}, { supplyA: point(999), fullV: 999 })).toEqual([])
    expect(contactor({}, {}, { peakA: null })).toEqual([])
  })
  test('connectors: where there are some', () => {
    const plugged = (connectors: number, amps: number) =>
      switching(
        harness({ contactor: null, connectorMaxA: 10, connectorMaxV: 60 }),
        parts({}, [wireRun({ connectors, amps })]),
      )
    atAndPast(10, 10.1, (a) => plugged(1, a), 'connector-over-current')
    expect(plugged(0, 99)).toEqual([])
    const volts = (fullV: number, outV: number) =>
      switching(
        harness({ contactor: null, connectorMaxA: 10, connectorMaxV: 60 }),
        parts({ fullV, channels: [worstChannel({ outV: point(outV) })] }, [wireRun({ connectors: 1 })]),
      )
    atAndPast(60, 60.1, (v) => volts(v, 5), 'connector-voltage')
    atAndPast(60, 60.1, (v) => volts(5, v), 'connector-voltage')
    expect(volts(61, 5)[0]!.parts).toEqual(['contacts', 'wire main'])
  })
})

describe('pack', () => {
  const mode = (amps: number): WorstCase['modes'][number] => ({
    id: 'full',
    name: 'Full',
    supplyA: point(amps),
    lastingA: point(amps),
    ...{ channels: [], groupsA: [] },
  })
  const of = (amps: number, over: Partial<Pack> = {}) =>
    packOver(
      lampOf({ supply: pack({ parallel: 4, maxCellA: 5, ...over }) }),
      parts({ modes: [mode(amps)], supplyA: point(amps) }),
    )
  test('cells and protection', () => {
    atAndPast(20, 20.1, (a) => of(a), 'pack-over-current')
    atAndPast(15, 15.1, (a) => of(a, { protectionA: 15 }), 'protection-over-current')
    atAndPast(20, 20.1, (protectionA) => of(1, { protectionA }), 'protection-over-pack')
    expect(of(21)[0]!.cure).toMatch(/^At least 5 cells in parallel/)
    // The example's own board lets 40 A through; the cells here give 20 A.
    expect(rules(of(20))).toEqual(['protection-over-pack'])
    expect(of(15, { protectionA: 20 })).toEqual([])
  })
  test('its chemistry: 2.5 V, full 4.2 V, −20 °C and 0 °C (memory)', () => {
    const cells = (over: Partial<Pack>) => packLimits(lampOf({ supply: pack(over) }))
    atAndPast(2.5, 2.49, (cutOffCellV) => cells({ cutOffCellV }), 'cell-cut-off-low')
    atAndPast(4.19, 4.2, (cutOffCellV) => cells({ cutOffCellV }), 'cell-cut-off-high')
    expect(cells({ cutOffCellV: 2 })[0]!.severity).toBe('severe')
    expect(cells({ chemistry: 'nimh', cutOffCellV: 0.9 })[0]).toMatchObject({
      rule: 'cell-cut-off-low',
      severity: 'warning',
    })
    const at = (coldestC: number, over: Partial<Pack> = {}) => packLimits(lampOf({ supply: pack(over), coldestC }))
    atAndPast(0, -0.1, (c) => at(c), 'pack-cold')
    expect([-20, -20.1].map((c) => at(c)[0]!.severity)).toEqual(['note', 'warning'])
    expect(at(-20, { chemistry: 'lead-acid', cutOffCellV: 1.8 })).toEqual([])
    const { power } = gannet
    expect(packLimits({ ...lampOf(), reading: { ...gannet.reading, ambientC: -5 } })[0]!.rule).toBe('pack-cold')
    expect(
      packLimits({
        ...gannet,
        power: { ...power!, supply: { kind: 'fixed', name: '', volts: 9, milliohm: 1, maxA: 1 } },
      }),
    ).toEqual([])
  })
})

describe('drivers and emitters', () => {
  const [driver] = gannet.power!.drivers as [Driver]
  type Channels = WorstCase['modes'][number]['channels']
  const own = { wantedA: 1, outA: 1, emitterA: 1, unevenA: 1, inputTooHigh: false, sagsUnderV: null, dark: false }
  const modes = (over: Partial<Channels[number]>): WorstCase['modes'] => [
    { id: 'full', name: 'Full', supplyA: point(1), lastingA: point(1), channels: [{ ...own, ...over }], groupsA: [] },
  ]
  const of = (over: Partial<Channels[number]>, own_: Partial<Driver> = {}, worst: Partial<WorstCase> = {}) =>
    driverRange(
      lampOf({ drivers: [{ ...driver, ...own_ }] }),
      parts({ modes: modes(over), channels: [worstChannel({ driverId: 'buck' })], ...worst }),
    )
  test('input, output', () => {
    atAndPast(60, 60.1, (fullV) => of({}, {}, { fullV }), 'driver-input-too-high')
    atAndPast(3, 3.01, (wantedA) => of({ wantedA }), 'driver-output-too-small')
    expect(of({ wantedA: 3.01 })[0]!.parts).toEqual(['driver buck'])
  })
  test('one that can’t hold down is a boost’s fault alone; dark and sagging as well', () => {
    expect(rules(of({ inputTooHigh: true }, { kind: 'boost' }))).toEqual(['driver-range'])
    expect(of({ inputTooHigh: true })).toEqual([])
    expect(rules(of({ dark: true }))).toEqual(['driver-range'])
    expect(of({ dark: true, wantedA: 0 })).toEqual([])
    expect(of({ sagsUnderV: 10 })[0]).toMatchObject({ rule: 'driver-sags', severity: 'note' })
    expect(of({ sagsUnderV: 10 })[0]!.title).toMatch(/^“Full”: under 10 V of the supply/)
    expect(of({ sagsUnderV: 10 }, { kind: 'boost' })).toEqual([])
    expect(of({ sagsUnderV: 10 }, { kind: 'buck-boost' })).toEqual([])
  })
  test('a driver that no channel has says nothing', () => expect(of({ wantedA: 99 }, { id: 'other' })).toEqual([]))
  test('an emitter’s largest current, and the place of its board', () => {
    const emitters = (emitterA: number, ids = ['B2']) =>
      emitterCurrent(
        gannet,
        parts({ modes: modes({ emitterA }), channels: [worstChannel({ ids, emitterA: point(emitterA) })] }),
      )
    atAndPast(3, 3.01, (a) => emitters(a), 'emitter-over-current')
    expect(emitters(4)[0]).toMatchObject({ place: { kind: 'board', boardIndex: 1 }, parts: ['board B2'] })
    expect(emitters(4, ['group'])[0]!.place).toEqual({ kind: 'part', part: 'emitters' })
    expect(emitters(4)[0]!.title).toBe('“Full”: up to 4 A through each emitter of B2, which bears 3 A.')
  })
  test('a driver that fails short: what the fuse surely opens is silent, what the emitter bears too', () => {
    const short = (over: Parameters<typeof worstChannel>[0], protectedBy: WireRun['protectedBy']) =>
      driverShort(
        gannet,
        parts({ channels: [worstChannel(over)] }, [
          wireRun({ id: 'c in', part: 'channel', channel: 'c', protectedBy }),
        ]),
      )
    const fuse = { amps: 10, volts: 32, at: 'channel' as const }
    atAndPast(13.6, 13.5, (shortedA) => short({ shortedA, shortedEmitterA: 9 }, fuse), 'driver-short')
    atAndPast(3, 3.1, (shortedEmitterA) => short({ shortedA: 1, shortedEmitterA }, null), 'driver-short')
    expect(short({ shortedA: 9, shortedEmitterA: 9 }, null)[0]!.title).toMatch(/and no fuse opens\.$/)
    expect(short({ shortedA: 9, shortedEmitterA: 9 }, fuse)[0]!.parts).toEqual(['driver d', 'fuse c in', 'board c'])
    expect(short({ ids: ['z'], shortedA: 9, shortedEmitterA: 9 }, null)).toEqual([])
  })
})

test('what the document does not name, once, with what it must be at least', () => {
  const bare = lampOf({
    supply: pack({}),
    harness: { ...gannet.power!.harness, contactor: { maxA: 50, milliohm: 1 } },
  })
  const { connectorMaxA: _, connectorMaxV: __, ...without } = bare.power!.harness
  const { protectionA: ___, ...cells } = bare.power!.supply as Pack
  const [f] = ratingsUnsaid(
    { ...bare, power: { ...bare.power!, harness: without, supply: cells } },
    parts({ fullV: 42, supplyA: point(31.01) }, [wireRun({ connectors: 1, amps: 29.8 }), wireRun({ amps: 99 })]),
  )
  expect(f).toMatchObject({ rule: 'ratings-unsaid', severity: 'note' })
  expect(f!.title).toBe(
    'Not in the document, to be looked up before it is built: contactor for at least 42 V DC; contactor that breaks at least 31.1 A; ' +
      'connectors for up to 29.8 A; connectors for at least 42 V DC; ' +
      'protection board for at least 31.1 A.',
  )
  const channels = ['A in', 'B in'].map((id) => wireRun({ id, part: 'channel' }))
  const known = { faults: { supplyA: 1, branchA: 1 } }
  const loose = { ...gannet.power!.harness, channel: { ...gannet.power!.harness.channel } }
  delete loose.channel.bundled
  const bundles = (l: Lamp, n: number) => ratingsUnsaid(l, parts({}, channels.slice(0, n), known)).map((x) => x.title)
  expect(bundles(harness(loose), 2)).toEqual([
    'Not in the document, to be looked up before it is built: how many conductors lie in one bundle (each pair alone is taken).',
  ])
  expect([bundles(harness(loose), 1), bundles(gannet, 2)]).toEqual([[], []])
  expect(ratingsUnsaid(gannet, parts({}, [], { faults: { supplyA: 1, branchA: 1 } }))).toEqual([])
  expect(ratingsUnsaid({ ...gannet, boards: [] }, parts({}))).toEqual([])
})

test('where a value occurs, in words', () => {
  const celsius = { cold: -20, air: 20, hot: 140 }
  expect(whereWords(point(1, { terminalV: 31.25, charge: 0.083, temperature: 'cold' }), celsius)).toBe(
    '“Full”, 31.3 V at the supply’s terminals (charge 8.3 %), cold start at −20 °C',
  )
  expect(whereWords(point(1, { charge: null, temperature: 'hot' }), celsius)).toBe(
    '“Full”, 10 V at the supply’s terminals, junctions at their limit',
  )
})
