// Rules of power at what small faults put in by hand got past: the second of two, the larger of two, the limit itself. Tables by hand.
import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { airStops as airStopsRule } from '../../src/checks/power/airStops.ts'
import { boostOpen as boostOpenRule } from '../../src/checks/power/boostOpen.ts'
import { driverHeat as driverHeatRule } from '../../src/checks/power/driverHeat.ts'
import { fuses as fusesRule } from '../../src/checks/power/fuses.ts'
import { junctionOver as junctionOverRule } from '../../src/checks/power/junctionOver.ts'
import { limitsTooHigh as limitsTooHighRule } from '../../src/checks/power/limitsTooHigh.ts'
import { packOver as packOverRule } from '../../src/checks/power/packOver.ts'
import { protection as protectionRule } from '../../src/checks/power/protection.ts'
import { ratingsUnsaid as ratingsUnsaidRule } from '../../src/checks/power/ratingsUnsaid.ts'
import { shortUnknown as shortUnknownRule } from '../../src/checks/power/shortUnknown.ts'
import { strings as stringsRule } from '../../src/checks/power/strings.ts'
import { switching as switchingRule } from '../../src/checks/power/switching.ts'
import { touchHot as touchHotRule } from '../../src/checks/power/touchHot.ts'
import { wires as wiresRule } from '../../src/checks/power/wires.ts'
import type { PowerParts } from '../../src/checks/powerParts.ts'
import { lasts, mass } from '../../src/checks/words.ts'
import type { Driver, Lamp, Pack, Power } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { inSystem } from '../../src/num/quantity.ts'
import type { WireRun } from '../../src/power/schedule.ts'
import type { GroupNeed } from '../../src/power/switching.ts'
import type { WorstCase } from '../../src/power/worstCase.ts'
import { point, table, wireRun, worstChannel } from '../kit/fakeWorst.ts'
import { metricRule } from '../kit/metricRules.ts'

const airStops = metricRule(airStopsRule)
const boostOpen = metricRule(boostOpenRule)
const driverHeat = metricRule(driverHeatRule)
const fuses = metricRule(fusesRule)
const junctionOver = metricRule(junctionOverRule)
const limitsTooHigh = metricRule(limitsTooHighRule)
const packOver = metricRule(packOverRule)
const protection = metricRule(protectionRule)
const ratingsUnsaid = metricRule(ratingsUnsaidRule)
const shortUnknown = metricRule(shortUnknownRule)
const strings = metricRule(stringsRule)
const switching = metricRule(switchingRule)
const touchHot = metricRule(touchHotRule)
const wires = metricRule(wiresRule)

const gannet = gannetHead()
const [buck] = gannet.power!.drivers as [Driver]
const lampOf = (power: Partial<Power> = {}): Lamp => ({ ...gannet, power: { ...gannet.power!, ...power } })
const parts = (worst: Partial<WorstCase>, wiring: WireRun[] = [], modes: PowerParts['modes'] = []): PowerParts => ({
  ...{ modes, wiring, sink: { speedMS: null, leftOutFins: 0, plateKg: 1, finKg: 1 } },
  ...table(worst),
})
const rules = (found: { rule: string }[]) => found.map((f) => f.rule)
type Mode = PowerParts['modes'][number]
const mode = (name: string, over: Partial<Mode> = {}): Mode => ({
  ...{ id: name, name, limit: { kind: 'steady', atS: 600, boardIndex: null }, steppedDown: null, sagsFromS: null },
  ...{ letGoFromS: null, steady: null, channels: [], limits: [], watchedC: [20, 70, 120], protection: null },
  curves: { tS: [0, 60, 120], plateMaxC: [20, 70, 120], junctionMaxC: [20, 90, 140], plateMinC: [20, 40, 60] },
  ...over,
})

test.each([
  ['power', 'checkPower.ts', 'POWER'],
  ['design', 'check.ts', 'DESIGN'],
  ['sheet', 'check.ts', 'SHEET'],
])('every file of rules in src/checks/%s is asked: it says nothing else', (folder, file, list) => {
  const source = readFileSync(new URL(`../../src/checks/${file}`, import.meta.url), 'utf8')
  const [, listed = ''] =
    new RegExp(`const ${list}\\b[^=]*=> Finding\\[\\]\\)\\[\\] = \\[([^\\]]*)\\]`, 's').exec(source) ?? []
  const missing = readdirSync(new URL(`../../src/checks/${folder}`, import.meta.url)).flatMap((name) => {
    const own = readFileSync(new URL(`../../src/checks/${folder}/${name}`, import.meta.url), 'utf8')
    const exported = [...own.matchAll(/^export function (\w+)\((?:(?!\n\}).)*?\): Finding\[\]/gms)].map(
      ([, it = '']) => it,
    )
    expect(exported, name).not.toEqual([])
    return exported.filter((it) => !new RegExp(`\\b${it}\\b`).test(listed))
  })
  expect(listed.length).toBeGreaterThan(100)
  expect(missing).toEqual([])
})

describe('strings and drivers', () => {
  const [type] = gannet.boardTypes
  const lamp = (count: number, sites: number): Lamp => ({
    ...lampOf(),
    boardTypes: [{ ...type!, strings: count, sites: Array.from({ length: sites }, (_, i) => ({ xMm: i, yMm: 0 })) }],
    boards: gannet.boards.slice(0, 1),
  })
  test('three emitters in two strings', () => {
    expect(strings(lamp(2, 3), parts({}))[0]).toMatchObject({ rule: 'strings-unequal', severity: 'severe' })
  })
  test('one of three strings opens: 6 A through two, 3 A each (Kirchhoff), over an emitter that bears 2.99 A', () => {
    const of = (maxEmitterA: number) =>
      strings(
        lamp(3, 6),
        parts({
          channels: [
            worstChannel({
              ids: ['B1'],
              strings: 3,
              maxEmitterA,
              outA: point(6),
              emitterA: point(2),
              unevenA: point(2),
            }),
          ],
        }),
      )
    expect([of(3), rules(of(2.99))]).toEqual([[], ['string-opens']])
    expect(of(2.99)[0]!.title).toContain('when one of 3 strings opens, 3 A pass each emitter of the others')
  })
  test.each(['boost', 'buck-boost'] as const)('a %s that opens rises over the highest of its strings', (kind) => {
    const channels = [20, 48.1, 30].map((v, i) => worstChannel({ ids: [`c${i}`], driverId: 'buck', outV: point(v) }))
    const [f] = boostOpen(lampOf({ drivers: [{ ...buck, kind }] }), parts({ channels }))
    expect(f!.title).toContain('its output rises over the 48.1 V of the string')
    expect(boostOpen(lampOf(), parts({ channels }))).toEqual([])
  })
  test('a driver’s heat: over 10 W it needs a sink of its own; all together from 1 W on', () => {
    const of = (watts: number, n = 1) =>
      driverHeat(
        lampOf(),
        parts({
          channels: [
            worstChannel({
              ids: Array.from({ length: n }, (_, i) => `c${i}`),
              driverId: 'buck',
              driverW: point(watts),
            }),
          ],
        }),
      )[0]?.severity
    expect([of(10), of(10.1), of(1), of(1.01), of(0.5, 2), of(0.51, 2)]).toEqual([
      ...['note', 'warning', undefined, 'note', undefined, 'note'],
    ])
  })
})

test('a driver on the plate: capacitors bear 85 °C (IEC 60384-4: memory), also when it is left on', () => {
  const of = (topC: number, leftOnC?: number) => {
    const curves = (c: number) => ({ tS: [0, 600], plateMaxC: [20, c], junctionMaxC: [20, c] })
    const leftOn = leftOnC === undefined ? null : { curves: curves(leftOnC), limit: { kind: 'steady', atS: 600 } }
    const worst = { channels: [worstChannel({ driverId: 'buck' })] }
    const lamp = lampOf({ drivers: [{ ...buck, mounted: 'plate' }] })
    return driverHeat(lamp, parts(worst, [], [mode('A', { curves: curves(topC), leftOn })]))
  }
  expect([of(85), rules(of(85.1))]).toEqual([[], ['driver-on-hot-plate']])
  expect(of(60, 99.5)[0]!.title).toContain(' on a plate that gets to 100 °C in “A”: usual capacitors bear 85 °C')
})

describe('supply', () => {
  test('what is drawn for an instant, cold, counts for cells and protection', () => {
    const cold: WorstCase['modes'][number] = {
      ...{ id: 'full', name: 'Full', supplyA: point(20.1), lastingA: point(10), channels: [], groupsA: [] },
    }
    const supply = { ...(gannet.power!.supply as Pack), parallel: 4, maxCellA: 5, protectionA: 20 }
    const found = packOver(lampOf({ supply }), parts({ modes: [cold], supplyA: point(20.1), lastingA: point(10) }))
    expect(rules(found)).toEqual(['pack-over-current', 'protection-over-current'])
  })
  test('an unknown short circuit: a blade fuse of 10 A is sure from 13.5 A on (ISO 8820-3: memory)', () => {
    const of = (maxA: number) =>
      shortUnknown(
        lampOf({ supply: { kind: 'fixed', name: 'Unit', volts: 40, milliohm: 1, maxA } }),
        parts({}, [wireRun({ fuse: { amps: 10, volts: 58 } })]),
      )[0]!.title
    expect([13.5, 13.4].map((a) => of(a).includes('nothing opens the main fuse of 10 A'))).toEqual([false, true])
  })
  test('ratings that nobody names: the largest of the plugged runs, and the voltage rounded up', () => {
    const { connectorMaxA: _, connectorMaxV: __, ...harness } = gannet.power!.harness
    const runs = [29.8, 5, 12].map((amps) => wireRun({ connectors: 1, amps }))
    const [f] = ratingsUnsaid(lampOf({ harness }), parts({ fullV: 33.61 }, runs))
    expect(f!.title).toContain('connectors for up to 29.8 A; connectors for at least 33.7 V DC')
  })
})

describe('limits that no usual part bears', () => {
  const cells = (over: Partial<Pack>) =>
    limitsTooHigh(lampOf({ supply: { ...(gannet.power!.supply as Pack), ...over } })).map((f) => f.severity)
  test('junctions over 185 °C, drivers over 98 % (no source)', () => {
    const emitters = (maxJunctionC: number) => ({
      ...gannet,
      emitterTypes: gannet.emitterTypes.map((e) => ({ ...e, maxJunctionC })),
    })
    expect([185, 186].map((c) => limitsTooHigh(emitters(c)).length)).toEqual([0, 1])
    const efficiency = (x: number) => limitsTooHigh(lampOf({ drivers: [{ ...buck, efficiency: x }] })).length
    expect([0.98, 0.985].map(efficiency)).toEqual([0, 1])
  })
  test('cells over 60 °C, severe over the 80 °C at which a lithium cell decays (memory); over 15 times their capacity', () => {
    for (const chemistry of ['li-ion', 'lifepo4'] as const)
      expect([60, 61, 80, 81].map((maxCellC) => cells({ chemistry, maxCellC }))).toEqual([
        ...[[], ['warning'], ['warning'], ['severe']],
      ])
    expect(cells({ chemistry: 'nimh', maxCellC: 81 })).toEqual(['warning'])
    // Of 3 Ah.
    expect([45, 45.1].map((maxCellA) => cells({ maxCellA }))).toEqual([[], ['warning']])
  })
})

describe('fuses', () => {
  const of = (over: Partial<WireRun>, fullV = 12) => fuses(gannet, parts({ fullV }, [wireRun(over)]))
  test('of miniature and UL 248 kinds: a warning over 32 V DC (common practice, no source)', () => {
    for (const kind of ['miniature', 'UL 248'] as const) {
      const fuse = { amps: 15, volts: 250, kind, breaksA: 9999 }
      const warned = (fullV: number) => of({ fuse }, fullV).some((f) => f.rule === 'fuse-voltage')
      expect([32, 32.1].map(warned)).toEqual([false, true])
    }
  })
  test('a group’s own fuse is judged as the others are', () => {
    const found = fuses(
      gannet,
      parts({ fullV: 42 }, [
        wireRun({ fuse: { amps: 15, volts: 58 } }),
        wireRun({ id: 'group g', part: 'group', group: 'g', fuse: { amps: 21, volts: 32 } }),
      ]),
    )
    expect(found.map((f) => [f.rule, f.parts])).toEqual([
      ['fuse-too-big', ['fuse group g']],
      ['fuse-voltage', ['fuse group g']],
    ])
  })
  test('what a fuse holds: a warning from 20 K over the insulation on; the fuse that helps is rounded down', () => {
    const held = (heldC: number) => of({ heldA: 20.25, heldC })[0]
    expect([75, 75.1, 95, 95.1].map((c) => held(c)?.severity)).toEqual([undefined, 'note', 'note', 'warning'])
    // Rises over 20 °C go with the square: 15 A · √(55/90) = 11.726 A.
    expect(held(110)!.cure).toContain('a fuse of 11.7 A at most')
    // 15 A · √(55/76) = 12.7605 A: three digits.
    expect(held(96)!.cure).toContain('a fuse of 12.7 A at most')
    // 15 A · √(55/123.85) = 9.996 A.
    expect(held(143.85)!.cure).toContain('a fuse of 9.99 A at most')
  })
})

describe('contacts and wires', () => {
  const need = (over: Partial<GroupNeed> = {}): GroupNeed => ({
    ...{ id: 'g', name: 'G', boards: 1, channels: 1, byMode: [], lastingA: point(1), peakA: point(1), ratingA: 1.25 },
    ...{ volts: 12, inrush: { ...table({}).inrush }, relay: { maxA: 20, milliohm: 1 }, ...over },
  })
  const relay = (over: Partial<GroupNeed>, wiring: WireRun[] = []) =>
    rules(switching(lampOf(), { ...parts({}, wiring), groups: [need(over)] }))
  test('a relay’s own making capacity counts, also where four times its rating is more; from 1 J on', () => {
    const of = (peakA: number, joule = 1, makesA: number | null = 50) =>
      relay({
        inrush: { ...table({}).inrush, peakA, joule },
        relay: { maxA: 20, milliohm: 1, ...(makesA === null ? {} : { makesA }) },
      })
    expect([of(50), of(51), of(51, 0.99), of(80, 1, null), of(81, 1, null)]).toEqual([
      [],
      ['relay-inrush'],
      [],
      [],
      ['relay-inrush'],
    ])
  })
  test('a main fuse that holds more than a group’s relay bears, where the group has none of its own', () => {
    const behind = (amps: number) =>
      relay({}, [
        wireRun({ id: 'group g', part: 'group', group: 'g', fuse: null, protectedBy: { amps, volts: 32, at: 'main' } }),
      ])
    expect([behind(20), behind(21)]).toEqual([[], ['fuse-over-contacts']])
  })
  test('a main fuse that holds more than the contactor bears', () => {
    const harness = { ...gannet.power!.harness, contactor: { maxA: 50, milliohm: 1 } }
    const of = (amps: number) => {
      const fuse = { amps, volts: 58 }
      const run = wireRun({ fuse, protectedBy: { ...fuse, at: 'main' } })
      return rules(switching(lampOf({ harness }), parts({}, [run])))
    }
    expect([of(50), of(51)]).toEqual([[], ['fuse-over-contacts']])
  })
  test('the drop of a channel is that of its group’s wires as well: 0.1 + 0.11 + 0.1 V of 10 V, 3 % allowed', () => {
    const of = (groupV: number) =>
      wires(
        gannet,
        parts({ emptyV: 10 }, [
          wireRun({ dropV: 0.1 }),
          wireRun({ id: 'group g', part: 'group', group: 'g', dropV: groupV }),
          wireRun({ id: 'A in', part: 'channel', channel: 'A', group: 'g', dropV: 0.1 }),
        ]),
      )
    expect([rules(of(0.09)), rules(of(0.11))]).toEqual([[], ['drop-over-limit']])
  })
})

describe('heat', () => {
  test('a mode that has stepped down and still gets there is as severe', () => {
    const hot = (over: Partial<Mode> = {}) =>
      junctionOver(gannet, parts({}, [], [mode('A', { limit: { kind: 'junction', atS: 90, boardIndex: 0 }, ...over })]))
    expect([hot(), hot({ steppedDown: { atS: 60 } })].map(([f]) => f!.severity)).toEqual(['severe', 'severe'])
  })
  test('still air is warned of wherever the run ends otherwise', () => {
    const of = (kind: string) =>
      airStops(
        gannet,
        parts(
          {},
          [],
          [mode('A', { limit: { kind, atS: 600, boardIndex: null }, airStops: { kind: 'junction', atS: 300 } })],
        ),
      ).length
    expect(['empty', 'steady', 'cells', 'long', 'junction'].map(of)).toEqual([1, 1, 1, 1, 0])
  })
  test('left on two kelvin hotter is said, half a kelvin isn’t', () => {
    const leftOn = (topC: number) => {
      const curves = { tS: [0, 600], plateMaxC: [20, topC], junctionMaxC: [20, topC] }
      return touchHot(
        gannet,
        parts({}, [], [mode('A', { leftOn: { curves, limit: { kind: 'steady', atS: 600 } } })]),
      )[0]!
    }
    expect(leftOn(122).title).toContain('left on past its limit to 122 °C')
    expect(leftOn(120.5).title).not.toContain('left on')
  })
  test('a cut-out that the hottest place opens at the very moment, and an unknown place later', () => {
    const lamp = lampOf({ protection: { cutOut: { openC: 70 } } })
    const at = (atS: number) => {
      const limits: Mode['limits'] = [
        { limit: 'junction', part: 'board B1', atS, celsius: null, contactS: null, ends: false },
      ]
      return rules(
        protection(lamp, parts({}, [], [mode('A', { limits, protection: { firstOpenS: 60, foldsFromS: null } })])),
      )
    }
    // 70 °C at the hottest place after 60 s; the coolest gets to 60 °C at the most.
    expect([at(59), at(60), at(61)]).toEqual([['cut-out-too-high'], ['protection-place'], ['protection-place']])
  })
})

test('words: 25 kg are 55.1 lb; what lasts is rounded up', () => {
  expect(inSystem(mass(25), 'inch')).toBe('55.1 lb')
  expect([lasts(41.01), lasts(179.41)]).toEqual(['41.1 s', '3 min'])
})
