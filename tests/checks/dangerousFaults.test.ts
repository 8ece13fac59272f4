// One thing fails, or is left out: a string opens, the air stops, nothing limits the first current, a driver burns what it can't get rid of.
// Each lamp gives its finding among the findings' data and in the terminal's text, with figures worked out by hand.
import { describe, expect, test } from 'vitest'
import { findingsText } from '../../src/cli/findingsText.ts'
import { powerFindings, runPower } from '../../src/job/power/run.ts'
import type { Driver, Lamp, Pack } from '../../src/lamp/schema.ts'
import { gannetHead, iceRink, stileLamp } from '../../src/library/demos.ts'
import { lampWith, type Overrides } from '../kit/lampWith.ts'

const gannet = gannetHead()
const power = gannet.power!
const [buck] = power.drivers as [Driver]
const modes = power.modes.filter((m) => m.id === 'turbo')

/** The first boards of the example at so many amperes an emitter; 42 V when full. */
const lampOf = (boards: number, currentA: number, over: Overrides<Lamp> = {}): Lamp =>
  lampWith(over, {
    ...gannet,
    boards: gannet.boards.slice(0, boards).map((b) => ({ ...b, currentA })),
    power: { ...power, modes },
  })

/** Without a run of the modes, unless told. */
function found(lamp: Lamp, rule: string, mode: string | undefined = '') {
  const findings = powerFindings(lamp, runPower(lamp, { mode }))
  const own = findings.filter((f) => f.rule === rule)
  for (const f of own) expect(findingsText(findings).replace(/\s+/g, ' ')).toContain(f.title)
  return own
}

describe('one of several strings opens', () => {
  const sideBySide = (boards: number, currentA: number) =>
    lampOf(boards, currentA, {
      power: {
        drivers: [{ ...buck, maxOutputA: 40 }],
        groups: [{ id: 'all', name: 'All', driver: 'buck', wired: 'parallel' }],
      },
    })
  test('two boards of 3 A each: all 6 A through the other, which bears 4 A', () => {
    const [f] = found(sideBySide(2, 3), 'string-opens')
    expect(f).toMatchObject({ severity: 'warning', place: { kind: 'board', boardIndex: 0 } })
    expect(f!.title).toBe(
      'Group “All”: 2 boards in parallel: when one of 2 strings opens, 6 A pass each emitter of the others, which bears 4 A.',
    )
  })
  // n I/(n − 1): 3 × 2.6/2 = 3.9 A, 3 × 2.7/2 = 4.05 A.
  test('three boards: from 2.67 A each on; never where each has a driver of its own', () => {
    expect(found(sideBySide(3, 2.6), 'string-opens')).toEqual([])
    expect(found(sideBySide(3, 2.7), 'string-opens')[0]?.title).toContain('4.05 A pass')
    expect(found(lampOf(3, 3.9), 'string-opens')).toEqual([])
  })
  test('over the limit with all of them whole: that finding alone', () => {
    expect(found(sideBySide(2, 4.1), 'string-opens')).toEqual([])
    expect(found(sideBySide(2, 4.1), 'emitter-over-current')).toHaveLength(1)
  })
  test('seven strings on a board: 7 × 3.5/6 = 4.083 A, rounded up', () => {
    const lamp = lampOf(1, 3.5, { power: { drivers: [{ ...buck, maxOutputA: 40 }] } })
    const split = { ...lamp, boardTypes: lamp.boardTypes.map((t) => ({ ...t, strings: 7 })) }
    expect(found(split, 'string-opens')[0]?.title).toMatch(
      /^Board type “.*”: 7 strings in parallel: when one of 7 strings opens, 4\.09 A pass/,
    )
  })
})

describe('the air stops', () => {
  const moved = { cooling: { air: { kind: 'moved' as const, speedMS: 8 } } }
  test('twelve boards that a wind of 8 m/s holds under their limit', () => {
    const [f] = found(lampOf(12, 2, moved), 'air-stops', 'turbo')
    expect(f).toMatchObject({ severity: 'warning', place: { kind: 'part', part: 'heat' } })
    const minutes = Number(
      /^In still air “Turbo” takes the emitters to their limit after ([\d.]+) min/.exec(f!.title)![1],
    )
    // 1.63 kg of aluminium of 896 J/kgK warm by 100 K (140 °C less 20 K from plate to junction) by 12 × 30 W: 406 s; still air takes 1 W/K
    // at first and 2 W/K at the end, some 15 to 25 % of it on the way.
    expect(minutes).toBeGreaterThan(406 / 60)
    expect(minutes).toBeLessThan((1.4 * 406) / 60)
  })
  test('also where the cells reach their limit first', () => {
    const { supply } = power
    if (supply.kind !== 'pack') throw new Error('a pack')
    const warm = lampOf(12, 2, { ...moved, power: { supply: { ...supply, maxCellC: 20.2 } } })
    const [mode] = runPower(warm, { mode: 'turbo' }).modes
    expect([mode!.limit.kind, mode!.airStops!.kind]).toEqual(['cells', 'junction'])
    expect(found(warm, 'air-stops', 'turbo')).toHaveLength(1)
  })
  test('not in still air, nor where the plate’s temperature steps it down, nor where it is too hot with its wind', () => {
    expect(found(lampOf(12, 2), 'air-stops', 'turbo')).toEqual([])
    const lamp = lampOf(12, 2, moved)
    const stepDown = { watch: 'plate' as const, atC: 90, toShare: 0.2 }
    const watched = { ...lamp, power: { ...lamp.power!, modes: modes.map((m) => ({ ...m, stepDown })) } }
    expect(found(watched, 'air-stops', 'turbo')).toEqual([])
    const weak = lampOf(19, 3, { cooling: { air: { kind: 'moved', speedMS: 0.2 } } })
    expect(found(weak, 'junction-over-limit', 'turbo')).toHaveLength(1)
    expect(found(weak, 'air-stops', 'turbo')).toEqual([])
  })
})

describe('a driver that burns what it can’t get rid of', () => {
  test('linear drivers between 42 V and strings of 20 V', () => {
    const [f] = found(lampOf(3, 2, { power: { drivers: [{ ...buck, kind: 'linear', headroomV: 1 }] } }), 'driver-heat')
    expect(f).toMatchObject({ severity: 'warning', parts: ['driver buck'] })
    // Hot: 7 × 2.99 V × 0.965 = 20.2 V; 2 A × (42 − 20.2) V = 43.6 W, less what the wires take: 2 A × 0.2 V.
    const each = Number(/turns up to ([\d.]+) W into heat in each of 3 channels/.exec(f!.title)![1])
    expect(each).toBeGreaterThan(43)
    expect(each).toBeLessThan(43.6)
  })
  test('converters of 42 W at 93 % lose 3 W each: a note with all of it, and the surface that 40 K over the air ask for', () => {
    const [f] = found(lampOf(3, 2), 'driver-heat')
    expect(f).toMatchObject({ severity: 'note', parts: ['driver buck'] })
    // Cold strings: 2 A × 22.4 V (1/0.93 − 1) = 3.37 W.
    expect(f!.title).toMatch(/^3 drivers lose up to 3\.3\d W each, 10\.\d W in all: where it goes isn’t computed\.$/)
    // ε 0.9: 0.9 σ (333.15⁴ − 293.15⁴) + 5 · 40 = 252 + 200 W/m² (Stefan and Boltzmann; Newton).
    const cm2 = Number(/needs ([\d.]+) cm²/.exec(f!.why)![1])
    expect(Math.abs(cm2 - (1e4 * 3.37) / 452)).toBeLessThan(1)
  })
  const onPlate = { power: { drivers: [{ ...buck, mounted: 'plate' as const }] } }
  test('on the plate their heat counts there, and no note is left; on a plate over 85 °C they are warned of', () => {
    expect(found(lampOf(3, 2, onPlate), 'driver-heat')).toEqual([])
    const [f] = found(lampOf(19, 2, onPlate), 'driver-on-hot-plate', 'turbo')
    expect(f).toMatchObject({ severity: 'warning', parts: ['driver buck'] })
    expect(f!.title).toMatch(
      / on a plate that gets to \d{3} °C in “Turbo”: usual capacitors bear 85 °C, better ones 105 °C\.$/,
    )
    expect(f!.why).toContain('Left on')
    expect(found(lampOf(1, 0.5, onPlate), 'driver-on-hot-plate', 'turbo')).toEqual([])
    expect(found(lampOf(19, 2), 'driver-on-hot-plate', 'turbo')).toEqual([])
  })
})

describe('no contactor', () => {
  const bare = (inputMicrofarad: number | undefined, over: Overrides<Lamp> = {}) => {
    const lamp = lampOf(19, 2, over)
    const drivers = [inputMicrofarad === undefined ? buck : { ...buck, inputMicrofarad }]
    return { ...lamp, power: { ...lamp.power!, drivers, harness: { ...lamp.power!.harness, contactor: null } } }
  }
  test('19 drivers of 2200 µF on 42 V: 36.9 J', () => {
    const [f] = found(bare(2200), 'inrush')
    expect(f).toMatchObject({ severity: 'warning', parts: ['contacts'] })
    // 10 × 25 mΩ/6 = 41.7 mΩ of cells, 6.2 mΩ of 3 m of AWG 8, 2 mΩ of contacts: 42 V/49.9 mΩ.
    expect(f!.title).toMatch(/passes up to 84\d A while the drivers’ capacitors charge/)
    expect(f!.why).toMatch(/^41 ?800 µF in all on 42 V, 36\.9 J/)
  })
  // 19 × 59 µF × 42²/2 = 0.989 J; 60 µF: 1.005 J.
  test('from a joule on; 220 µF where none is said; never before a fixed supply', () => {
    expect(found(bare(59), 'inrush')).toEqual([])
    expect(found(bare(60), 'inrush')).toHaveLength(1)
    expect(found(bare(undefined), 'inrush')[0]?.why).toContain('220 µF a driver where the document names none')
    const supply = { kind: 'fixed' as const, name: 'Unit', volts: 42, milliohm: 40, maxA: 60 }
    expect(found(bare(2200, { power: { supply } }), 'inrush')).toEqual([])
  })
})

describe('no fuse at all', () => {
  const harness = { main: { fuse: null }, channel: { fuse: null } }
  const lamp = lampOf(3, 2, { power: { harness } })
  test('the channels’ own finding does not speak of a main fuse; the cure is a fuse, not a smaller one', () => {
    const titles = found(lamp, 'fuse-missing').map((f) => f.title)
    expect(titles).toEqual([
      'The main run has no fuse.',
      '3 channels without a fuse, on AWG 20, and none in the main run either.',
    ])
    expect(found(lamp, 'driver-short')[0]?.cure).toMatch(/^A fuse in each channel/)
  })
  test('a fuse under its load is over its rating, not close to it', () => {
    const why = (amps: number) =>
      found(lampOf(3, 2, { power: { harness: { main: { fuse: { amps, volts: 58 } } } } }), 'fuse-too-small')[0]?.why
    // 3 × 2 A × 21 V/0.93 at 30 V: 4.5 A.
    expect(why(4)).toMatch(/^Over its rating/)
    expect(why(5)).toMatch(/^So close to its rating/)
  })
})

describe('what holds less than the fuse before it', () => {
  const contacts = (connectorMaxA: number, contactorA: number) =>
    lampOf(3, 2, {
      power: { harness: { connectorMaxA, contactor: { ...power.harness.contactor!, maxA: contactorA } } },
    })
  test('connectors of 25 A and a contactor of 30 A behind 40 A, on a load of 4.7 A', () => {
    const own = found(contacts(25, 30), 'fuse-over-contacts')
    expect(own.map((f) => [f.severity, f.title])).toEqual([
      ['warning', '1 run with connectors for 25 A behind a fuse of 40 A.'],
      ['warning', 'The contactor is rated 30 A; the main fuse before it holds 40 A.'],
    ])
    expect(own.map((f) => f.parts)).toEqual([['contacts', 'wire main'], ['contactor']])
    expect(found(contacts(40, 40), 'fuse-over-contacts')).toEqual([])
  })
  test('channels without a fuse hang on the main one; a supply of 12 A gives no more', () => {
    const harness = { connectorMaxA: 25, channel: { fuse: null } }
    expect(found(lampOf(3, 2, { power: { harness } }), 'fuse-over-contacts')[0]?.title).toMatch(/^4 runs with/)
    const supply = { kind: 'fixed' as const, name: 'Unit', volts: 48, milliohm: 20, maxA: 10, shortA: 12 }
    expect(found(lampOf(3, 2, { power: { harness, supply } }), 'fuse-over-contacts')).toEqual([])
  })
  test('a pack of 20 A behind 40 A: a protection board of 15 A is said, and is no cure any more', () => {
    const of = (protectionA: number) => {
      const supply = { ...(power.supply as Pack), parallel: 2, protectionA }
      return found(lampOf(3, 2, { power: { supply } }), 'fuse-over-pack')[0]!
    }
    expect([of(21).severity, of(20).severity]).toEqual(['severe', 'warning'])
    expect(of(15).why).toContain('only the protection board of 15 A opens, as long as it works')
    expect([of(15).cure, of(21).cure].map((c) => c.includes('protection board'))).toEqual([false, true])
  })
})

test('a supply of 48 V that gives 12 A into a short circuit: the channel’s fuse of 10 A, sure from 13.5 A on, holds', () => {
  const thick = { gauge: { system: 'awg' as const, number: 14 } }
  const of = (shortA: number) =>
    found(
      lampOf(3, 2, {
        power: {
          supply: { kind: 'fixed', name: 'Unit', volts: 48, milliohm: 20, maxA: 10, shortA },
          harness: { channel: { ...thick, fuse: { amps: 10, volts: 58 } }, board: thick },
        },
      }),
      'driver-short',
    )[0]
  // Its resistance alone would let 30 A through, and the fuse would count as opening.
  expect(of(12)?.title).toMatch(/puts 12 A through an emitter that bears 4 A, and the channel fuse of 10 A stays whole/)
  expect(of(12)?.why).toContain('what the supply gives into a short circuit')
  expect(of(14)).toBeUndefined()
})

describe('cells too warm before anything else is: what they hide is said', () => {
  const lamp = lampOf(3, 2, {
    cooling: { sink: { kind: 'none' }, plate: { thicknessMm: 12, metal: 'aluminium-6061' } },
    power: { supply: { ...(power.supply as Pack), parallel: 1, cellMilliohm: 120 } },
  })
  test('1.2 Ω of cells warm 446 J/K; the plate’s 909 J/K reach the emitters’ limit later', () => {
    const report = runPower(lamp)
    const findings = powerFindings(lamp, report)
    const title = (rule: string) => findings.find((f) => f.rule === rule)?.title
    const run = report.modes[0]!
    expect(run.limit.kind).toBe('cells')
    // 40 K × 446 J/K over 3.85 to 4.2 A through 1.2 Ω.
    expect(run.limit.atS).toBeGreaterThan((40 * 446) / (4.2 ** 2 * 1.2))
    expect(run.limit.atS).toBeLessThan((40 * 446) / (3.75 ** 2 * 1.2))
    expect(title('cells-hot')).toMatch(/^“Turbo”: the cells reach their 60 °C after/)
    expect(title('junction-over-limit')).toMatch(
      /^“Turbo, with cooler cells”: after [\d.]+ min the emitters .* 140 °C\.$/,
    )
    expect(title('touch-hot')).toMatch(/^Plate and sink get to 121 °C/)
    expect(run.pastCells!.limit.atS).toBeGreaterThan(run.limit.atS)
  })
  test('leads are judged by that plate; other lamps have no such run', () => {
    const plateC = runPower(lamp).wiring.find((w) => w.part === 'board')!.airC
    expect(plateC).toBeGreaterThan(120)
    expect(runPower(lampOf(1, 1)).modes[0]!.pastCells).toBeNull()
  })
  test('air of 65 °C, cells for 60 °C: over at once, and plate and optics are judged none the less', () => {
    const hot = lampOf(3, 2, { reading: { ambientC: 65 } })
    expect(found(hot, 'cells-hot', 'turbo')[0]?.title).toMatch(/at once/)
    expect(found(hot, 'optics-over-hot-face', 'turbo')).toHaveLength(1)
  })
})

test('no example has one of them', () => {
  for (const lamp of [gannet, stileLamp(), iceRink()]) {
    const rules = powerFindings(lamp, runPower(lamp, { mode: '' })).map((f) => f.rule)
    expect(rules.filter((r) => ['string-opens', 'inrush'].includes(r))).toEqual([])
  }
})
