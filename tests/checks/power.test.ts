// Findings on heat and power: each rule broken once, and silent where nothing is wrong.
import { describe, expect, test } from 'vitest'
import { checkPower } from '../../src/checks/checkPower.ts'
import type { Finding } from '../../src/checks/finding.ts'
import { runPower } from '../../src/job/power/run.ts'
import type { Driver, Harness, Lamp, Pack, Power } from '../../src/lamp/schema.ts'
import { DEMOS, gannetHead, iceRink, wideArray } from '../../src/library/demos.ts'

const gannet = gannetHead()
const low = [gannet.power!.modes[0]!]
const turbo = [gannet.power!.modes[2]!]

const withPower = (over: Partial<Power>, lamp: Lamp = gannet): Lamp => ({ ...lamp, power: { ...lamp.power!, ...over } })
/** One run for a lamp, however often it is asked for. */
const known = new Map<string, Finding[]>()
const findings = (lamp: Lamp, mode?: string): Finding[] => {
  const key = `${mode} ${JSON.stringify(lamp)}`
  const found = known.get(key) ?? checkPower(lamp, runPower(lamp, { mode }))
  known.set(key, found)
  return found
}
const of = (lamp: Lamp, rule: string): Finding | undefined => findings(lamp).find((f) => f.rule === rule)
/** Without a run of the modes: what the worst-case table and the lists know. */
const listed = (lamp: Lamp, rule: string): Finding | undefined => findings(lamp, '').find((f) => f.rule === rule)
const driver = (over: Partial<Driver>) =>
  withPower({ drivers: [{ ...gannet.power!.drivers[0]!, ...over }], modes: low })
const pack = (over: Partial<Pack>, modes = low) =>
  withPower({ supply: { ...(gannet.power!.supply as Pack), ...over }, modes })
const harness = (over: Partial<Harness>, modes = turbo) =>
  withPower({ harness: { ...gannet.power!.harness, ...over }, modes })

describe('every finding', () => {
  test.each(Object.entries(DEMOS))('of %s says where, why and what to do', (_, make) => {
    for (const f of findings(make())) {
      expect(f.rule).toMatch(/^[a-z]+(-[a-z]+)*$/)
      expect(f.title).toMatch(/\.$/)
      expect(f.why.length).toBeGreaterThan(40)
      expect(f.cure.length).toBeGreaterThan(10)
      expect(`${f.title}${f.why}${f.cure}`).not.toMatch(/NaN|undefined|Infinity|null/)
    }
  })
})

describe('junctions', () => {
  test('a mode that goes over is severe, with its time and board', () => {
    const f = of(gannet, 'junction-over-limit')!
    expect(f.severity).toBe('severe')
    expect(f.title).toMatch(/^“Turbo”: after 4\.\d+ min the emitters of board B1 reach their limit, 140 °C\.$/)
    expect(f.place).toEqual({ kind: 'board', boardIndex: 0 })
  })
  test('one that holds says nothing', () =>
    expect(of(withPower({ modes: low }), 'junction-over-limit')).toBeUndefined())
  test('with cooling only assumed: a warning', () => {
    expect(of(wideArray(), 'junction-over-limit')!.severity).toBe('warning')
    expect(of(wideArray(), 'power-unsaid')!.severity).toBe('note')
  })
})

describe('drivers', () => {
  test('input over its range', () => {
    const f = listed(driver({ inputMaxV: 40 }), 'driver-input-too-high')!
    expect(f.severity).toBe('severe')
    expect(f.title).toMatch(/bears 40 V; the full supply gives 42 V/)
    expect(listed(driver({}), 'driver-input-too-high')).toBeUndefined()
  })
  test('input under its range: no light', () => {
    expect(of(driver({ inputMinV: 50 }), 'driver-range')!.title).toMatch(/gives nothing from a supply of 42 V/)
  })
  test('a step-up driver whose string needs less than the supply gives', () => {
    expect(of(driver({ kind: 'boost', inputMaxV: 60 }), 'driver-range')!.title).toMatch(/can only step up/)
  })
  test('headroom gone as the pack sags: a note with its time; from the start: a warning', () => {
    const late = of(pack({ series: 6, cutOffCellV: 3 }), 'driver-sags')!
    expect(late.severity).toBe('note')
    expect(late.title).toMatch(/from [\d.]+ (s|min) on/)
    expect(of(pack({ series: 5 }), 'driver-sags') ?? of(pack({ series: 5 }), 'driver-range')).toBeDefined()
    expect(of(withPower({ modes: low }), 'driver-sags')).toBeUndefined()
  })
  test('less current than the boards are meant to have', () => {
    const weak = withPower({ drivers: [{ ...gannet.power!.drivers[0]!, maxOutputA: 1.5 }], modes: turbo })
    expect(listed(weak, 'driver-output-too-small')!.title).toMatch(/gives 1\.5 A at most/)
  })
})

describe('supply and contactor', () => {
  test('cells over their current', () => {
    const f = listed(pack({ maxCellA: 3 }, turbo), 'pack-over-current')!
    expect(f.severity).toBe('severe')
    // 7 · 3.2 V · 2 A · 19/0.93 at a cut-off of 30 V, wires on top; the run that ends hot first comes to 21 A only.
    expect(f.title).toMatch(/^“Turbo” draws up to 31 A from a supply that may give 18 A\.$/)
    expect(f.cure).toMatch(/^At least 11 cells in parallel/)
    expect(listed(pack({}, turbo), 'pack-over-current')).toBeUndefined()
  })
  test('contactor', () => {
    expect(listed(harness({ contactor: { maxA: 20, milliohm: 1 } }), 'contactor-over-current')!.severity).toBe('severe')
    expect(listed(harness({}), 'contactor-over-current')).toBeUndefined()
  })
})

describe('fuses and wires', () => {
  const run = gannet.power!.harness
  test('the example’s are right', () => {
    for (const rule of ['fuse-too-big', 'fuse-too-small', 'fuse-voltage', 'fuse-missing', 'wire-over-current'])
      expect(listed(harness({}), rule), rule).toBeUndefined()
  })
  test('too big for its wire: severe', () => {
    const f = listed(harness({ channel: { ...run.channel, fuse: { amps: 15, volts: 58 } } }), 'fuse-too-big')!
    expect(f.severity).toBe('severe')
    expect(f.title).toMatch(/^19 channel fuses of 15 A on AWG 20, which may have [\d.]+ A at most\.$/)
    // 25 A would do for the wire's insulation at 90 °C; code caps AWG 14 at 15 A.
    const gauge = { system: 'awg' as const, number: 14 }
    const thin = { gauge, fuse: { amps: 20, volts: 58 } }
    const wide = (channel: object) =>
      harness({ insulationC: 90, board: { ...run.board, gauge }, channel: { ...run.channel, ...channel } })
    expect(listed(wide(thin), 'fuse-too-big')!.title).toMatch(/20 A on AWG 14, which may have 15 A at most/)
    expect(listed(wide({ ...thin, fuse: { amps: 15, volts: 58 } }), 'fuse-too-big')).toBeUndefined()
  })
  test('too small for its load', () => {
    const f = listed(harness({ main: { ...run.main, fuse: { amps: 25, volts: 58 } } }), 'fuse-too-small')!
    expect(f.title).toMatch(/^1 main fuse of 25 A for 29\.\d A that last\.$/)
    expect(f.cure).toMatch(/^Use 40 A/)
  })
  test('a fuse of 32 V on 42 V', () => {
    expect(listed(harness({ main: { ...run.main, fuse: { amps: 40, volts: 32 } } }), 'fuse-voltage')!.severity).toBe(
      'severe',
    )
  })
  test('none', () => {
    expect(listed(harness({ main: { ...run.main, fuse: null } }), 'fuse-missing')!.severity).toBe('severe')
    expect(listed(harness({ channel: { ...run.channel, fuse: null } }), 'fuse-missing')!.severity).toBe('warning')
  })
  test('wire too thin, and too long', () => {
    const thin = harness({ main: { ...run.main, gauge: { system: 'awg', number: 14 } } })
    expect(listed(thin, 'wire-over-current')!.title).toMatch(
      /^1 main run: 30\.\d A through AWG 14, which bears 20 A\.$/,
    )
    const long = harness({ main: { ...run.main, lengthMm: 12_000 } })
    expect(listed(long, 'drop-over-limit')!.cure).toMatch(/main run/)
    expect(listed(harness({}), 'drop-over-limit')).toBeUndefined()
  })
})

describe('strings', () => {
  const type = gannet.boardTypes[0]!
  test('seven emitters make no two equal strings', () => {
    expect(listed({ ...gannet, boardTypes: [{ ...type, strings: 2 }] }, 'strings-unequal')!.severity).toBe('severe')
  })
  test('seven strings of one share unfairly; one string has nothing to share', () => {
    const f = listed({ ...gannet, boardTypes: [{ ...type, strings: 7 }] }, 'strings-unbalanced')!
    expect(f.title).toMatch(/7 strings in parallel may share unfairly: up to \d+(\.\d)? % more/)
    expect(listed(gannet, 'strings-unbalanced')).toBeUndefined()
  })
  test('boards of one driver in parallel, and unlike ones', () => {
    const groups = [{ ...gannet.power!.groups[0]!, wired: 'parallel' as const }]
    const drivers = [{ ...gannet.power!.drivers[0]!, maxOutputA: 60 }]
    const lamp = withPower({ groups, drivers, modes: low })
    // Seven in series average their spread; boards 20 K apart do not.
    expect(listed(lamp, 'strings-unbalanced')!.title).toMatch(
      /19 boards in parallel may share unfairly: up to \d\d(\.\d)? %/,
    )
    const single = { ...lamp, boardTypes: [{ ...type, sites: type.sites.slice(0, 1) }] }
    expect(listed(single, 'strings-unbalanced')!.title).toMatch(/Group “All boards”: 19 boards in parallel/)
    const unlike = { ...lamp, boards: lamp.boards.map((b, i) => (i === 0 ? { ...b, currentA: 1 } : b)) }
    expect(listed(unlike, 'strings-unequal')!.title).toMatch(/boards of different type or current/)
  })
})

test('metal that burns: ISO 13732-1:2006, bare metal, from memory', () => {
  const f = of(iceRink(), 'touch-hot')!
  expect(f.severity).toBe('severe')
  expect(f.title).toMatch(/^Plate and sink get to \d+ °C in “Full” and “Inner rows only”/)
  // Dimmed to a few watts it stays cool enough to hold.
  const rink = iceRink()
  const dim = { id: 'dim', name: 'Dim', share: 0.02, stepDown: null }
  expect(of({ ...rink, power: { ...rink.power!, modes: [dim] } }, 'touch-hot')).toBeUndefined()
})

test('fins that find no room', () => {
  const { cooling } = gannet
  const wide: Lamp = {
    ...withPower({ modes: low }),
    cooling: { ...cooling!, sink: { kind: 'fins', count: 30, heightMm: 40, thicknessMm: 2, spacingMm: 9 } },
  }
  // 30 pitches of 11 mm against 200 mm: 18 stand.
  expect(listed(wide, 'fins-past-face')!.title).toBe('12 fins of 30 find no room on the face and are left out.')
  expect(listed(gannet, 'fins-past-face')).toBeUndefined()
})
