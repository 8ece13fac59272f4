// Rules on wires, fuses, strings, supply and contactor: of several runs the worst is the one said, with its own figures.
import { describe, expect, test } from 'vitest'
import { assumedPower as assumedPowerRule } from '../../src/checks/power/assumedPower.ts'
import { fuses as fusesRule } from '../../src/checks/power/fuses.ts'
import { packOver as packOverRule } from '../../src/checks/power/packOver.ts'
import { strings as stringsRule } from '../../src/checks/power/strings.ts'
import { switching as switchingRule } from '../../src/checks/power/switching.ts'
import { touchHot as touchHotRule } from '../../src/checks/power/touchHot.ts'
import { wires as wiresRule } from '../../src/checks/power/wires.ts'
import type { PowerParts } from '../../src/checks/powerParts.ts'
import type { Lamp, Pack, Power } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import type { WireRun } from '../../src/power/schedule.ts'
import type { WorstCase } from '../../src/power/worstCase.ts'
import { point, table, wireRun, worstChannel } from '../kit/fakeWorst.ts'
import { metricRule } from '../kit/metricRules.ts'

const assumedPower = metricRule(assumedPowerRule)
const fuses = metricRule(fusesRule)
const packOver = metricRule(packOverRule)
const strings = metricRule(stringsRule)
const switching = metricRule(switchingRule)
const touchHot = metricRule(touchHotRule)
const wires = metricRule(wiresRule)

const gannet = gannetHead()
const HEAT = { kind: 'part', part: 'heat' }
const lampOf = (power: Partial<Power> = {}): Lamp => ({ ...gannet, power: { ...gannet.power!, ...power } })
const parts = (worst: Partial<WorstCase>, wiring: WireRun[] = []): PowerParts => ({
  ...{ modes: [], wiring, sink: { speedMS: null, leftOutFins: 0, plateKg: 1, finKg: 1 } },
  ...table(worst),
})
const lead = (id: string, over: Partial<WireRun>) => wireRun({ id, part: 'board', channel: id, ...over })

describe('wires', () => {
  const of = (rule: string, ...runs: WireRun[]) => wires(gannet, parts({}, runs)).find((f) => f.rule === rule)
  test('of those that bear too little the one with most current, wherever it stands', () => {
    const f = of(
      'wire-over-current',
      lead('a', { amps: 21 }),
      lead('b', { amps: 30, bearsA: 25, gaugeWords: 'AWG 10', airC: 35, mode: 'Turbo', terminalV: 31 }),
      lead('c', { amps: 22 }),
      lead('d', { amps: 20 }),
    )!
    expect(f.title).toBe('3 runs to a board: 30 A through AWG 10, which bears 25 A.')
    expect(f.why).toMatch(/insulation of 75 °C, in air of 35 °C: “Turbo”, 31 V at the supply\./)
    expect(f).toMatchObject({ severity: 'severe', place: HEAT, parts: ['wire a', 'wire b', 'wire c'] })
    expect(of('wire-over-current', lead('a', { amps: 21 }))!.title).toMatch(/^1 run to a board: 21 A/)
  })
  test('a bundle is named from four conductors on', () => {
    const why = (bundled: number) => of('wire-over-current', lead('a', { amps: 21, bundled }))!.why
    expect(why(3)).not.toContain('bundle:')
    expect(why(3)).toContain('in air of 20 °C: “Full”')
    expect(why(4)).toContain('in air of 20 °C, 4 conductors in its bundle: “Full”')
    const hot = of('wire-over-current', lead('a', { amps: 21, airC: 80, bearsA: 0, coolBearsA: 9 }))!
    expect(hot.title).toMatch(/which bears 9 A\.$/)
    expect(hot.why).toContain('even away from the hot plate: “Full”')
  })
  test('insulation: the one that is farthest over its own limit, not the hottest', () => {
    const f = of(
      'insulation-over-place',
      lead('a', { airC: 110, insulationC: 105 }),
      lead('b', { airC: 90, insulationC: 75 }),
      lead('c', { airC: 100, insulationC: 90 }),
      lead('d', { airC: 70, insulationC: 75 }),
    )!
    expect(f.title).toBe('3 wires with insulation for 75 °C on a plate that gets to 90 °C.')
    expect(f.cure).toMatch(/^Leads with insulation for 110 °C or more/)
    expect(f).toMatchObject({ severity: 'severe', place: HEAT, parts: ['wire a', 'wire b', 'wire c'] })
    const where = (part: WireRun['part']) => of('insulation-over-place', wireRun({ part, airC: 80 }))!.title
    expect(where('main')).toMatch(/in air of 80 °C\.$/)
    expect(where('channel')).toMatch(/in air of 80 °C\.$/)
    expect(where('link')).toMatch(/on a plate that gets to 80 °C\.$/)
  })
  test('the drop of the main run and of the worst channel together; both alike: the main run', () => {
    const drop = (mainV: number, ...channelV: number[]) =>
      of(
        'drop-over-limit',
        ...(mainV > 0 ? [wireRun({ dropV: mainV })] : []),
        ...channelV.map((dropV, i) => wireRun({ id: `c${i}`, part: 'channel', dropV })),
      )
    const f = drop(0.5, 0.2, 0.5, 0.1)!
    expect(f.title).toBe('The wires cost 1 V of 9 V, 11.2 %; 3 % is allowed.')
    expect(f.why).toMatch(/^0\.5 V in the main run and 0\.5 V in the worst channel/)
    expect(f).toMatchObject({ severity: 'warning', parts: ['wire main'], cure: expect.stringMatching(/main run\.$/) })
    expect(drop(0, 0.1, 0.4)!.parts).toEqual(['wire c1'])
    expect(drop(0.4)!.title).toMatch(/^The wires cost 0\.4 V/)
  })
})

describe('fuses', () => {
  const of = (rule: string, over: Partial<WireRun>, worst: Partial<WorstCase> = {}) =>
    fuses(gannet, parts(worst, [wireRun(over)])).filter((f) => f.rule === rule)
  test('each says its own figures', () => {
    const small = fuses(
      gannet,
      parts({}, [
        wireRun({ id: 'a', part: 'channel', amps: 13, fuseRange: { leastA: 16.25, mostA: 20, fitsA: 20 } }),
        wireRun({ id: 'b', part: 'channel', amps: 14, fuseRange: { leastA: 17.5, mostA: 20, fitsA: 20 } }),
      ]),
    )
    expect(small[0]).toMatchObject({ rule: 'fuse-too-small', severity: 'warning', place: HEAT })
    expect(small[0]!.title).toBe('2 channel fuses of 15 A for 14 A that last.')
    expect(small[0]!.parts).toEqual(['fuse b', 'fuse a'])
    expect(small[0]!.cure).toBe('Use 20 A, for more than the full supply’s voltage.')
    expect(of('fuse-voltage', {}, { fullV: 42 })[0]).toMatchObject({
      ...{ severity: 'severe', title: '1 main fuse for 32 V on a supply of 42 V.', parts: ['fuse main'] },
    })
    expect(of('fuse-never-opens', { endShortA: 18.2 })[0]).toMatchObject({
      severity: 'severe',
      title: '1 main fuse of 15 A: a short circuit at the wire’s end draws 18.2 A only, and may never open it.',
    })
    expect(of('fuse-too-big', { fuseRange: null, bearsA: 14 })[0]!.title).toMatch(/which may have 14 A at most\.$/)
    expect(of('fuse-too-big', { fuseRange: null, bearsA: 14 })[0]!.cure).toMatch(
      /^No usual fuse fits between 0 A and 0 A/,
    )
  })
  test('breaking capacity: named or the usual one; behind the main wires or not', () => {
    const weak = (over: Partial<WireRun>) => of('fuse-breaking-capacity', { shortA: 1500, ...over })[0]!
    expect(weak({}).title).toBe('1 main fuse may have to break 1500 A and usually break 1000 A.')
    expect(weak({}).why).toMatch(/gives what its resistance lets through\. .* The document names no breaking capacity/)
    const named = weak({ part: 'channel', fuse: { amps: 15, volts: 32, breaksA: 900 } })
    expect(named.title).toBe('1 channel fuse may have to break 1500 A and can break 900 A.')
    expect(named.why).toContain('what its resistance and that of the main wires lets through')
    expect(named.why).not.toContain('names no breaking capacity')
    expect(named.cure).toBe('A fuse with a breaking capacity of 1500 A or more, at 12 V DC.')
  })
  test('missing: the fuse that fits is named only where one does', () => {
    const cure = (fitsA: number | null) =>
      of('fuse-missing', { fuse: null, fuseRange: { leastA: 9, mostA: 20, fitsA } })[0]!.cure
    expect([cure(10), cure(null)]).toEqual([
      ...['Fuse it at the supply’s own terminal, 10 A.', 'Fuse it at the supply’s own terminal.'],
    ])
    const channels = ['a', 'b'].map((id) =>
      wireRun({ id, part: 'channel', fuse: null, fuseRange: { leastA: 1, mostA: 5, fitsA: null } }),
    )
    const [bare] = fuses(gannet, parts({}, [wireRun(), ...channels]))
    expect(bare).toMatchObject({ severity: 'warning', parts: ['fuse a', 'fuse b', 'wire a', 'wire b'], place: HEAT })
    expect(bare!.title).toMatch(/^2 channels without a fuse, on AWG 12 that bears less/)
    expect(bare!.cure).toBe('Fuse every channel.')
  })
  test('over the pack: two in parallel of 5 A', () => {
    const supply = { ...(gannet.power!.supply as Pack), parallel: 2, maxCellA: 5 }
    const [f] = fuses(lampOf({ supply }), parts({}, [wireRun()]))
    expect(f).toMatchObject({ rule: 'fuse-over-pack', severity: 'severe', parts: ['fuse main', 'supply'], place: HEAT })
    expect(f!.title).toBe('The main fuse of 15 A is larger than what the pack may give, 10 A.')
    expect(f!.why).toContain('2 in parallel of 5 A each')
  })
})

describe('strings', () => {
  const [type] = gannet.boardTypes
  const lamp = (count: number, sites: number, wired: 'each' | 'parallel', boards = 2): Lamp => ({
    ...lampOf({ groups: [{ id: 'g', name: 'G', driver: gannet.power!.drivers[0]!.id, wired }] }),
    boardTypes: [{ ...type!, strings: count, sites: Array.from({ length: sites }, (_, i) => ({ xMm: i, yMm: 0 })) }],
    boards: gannet.boards.slice(0, boards),
  })
  const of = (l: Lamp, unevenA: number, id = 'B1', over = {}) =>
    strings(l, parts({ channels: [worstChannel({ ids: [id], emitterA: point(1), unevenA: point(unevenA), ...over })] }))
  test('from a tenth more on; severe over what the emitter bears', () => {
    const two = lamp(2, 4, 'each')
    expect([1.099, 1.101, 3, 3.01].map((a) => of(two, a)[0]?.severity)).toEqual([
      ...[undefined, 'warning', 'warning', 'severe'],
    ])
    const [f] = of(two, 1.5)
    expect(f!.title).toBe(
      `Board type “${type!.name}”: 2 strings in parallel may share unfairly: up to 50 % more in one, 1.5 A.`,
    )
    expect(f).toMatchObject({ place: { kind: 'board', boardIndex: 0 }, parts: ['board B1'] })
    expect(f!.why).not.toContain('The emitter bears')
    expect(of(two, 3.01)[0]!.why).toContain('The emitter bears 3 A.')
    // A channel that no board has.
    expect(of(two, 2, 'nobody')).toEqual([])
  })
  test('boards of a group on one driver, or the strings of a board alone in it', () => {
    expect(of(lamp(1, 4, 'parallel'), 2, 'g')[0]!.title).toMatch(/^Group “G”: 2 boards in parallel/)
    expect(of(lamp(2, 4, 'parallel', 1), 2, 'g')[0]!.title).toMatch(/^Board type “.*”: 2 strings in parallel/)
  })
  test('strings that can’t be equal: once a type, and nothing of their shares', () => {
    const found = of(lamp(3, 4, 'each'), 2)
    expect(found.map((f) => [f.rule, f.severity, f.place])).toEqual([
      ['strings-unequal', 'severe', { kind: 'board', boardIndex: 0 }],
    ])
    expect(found[0]!.title).toBe(`Board type “${type!.name}”: 4 emitters can’t make 3 equal strings.`)
    expect(of(lamp(4, 4, 'each'), 1)).toEqual([])
    expect(of(lamp(1, 3, 'each'), 1)).toEqual([])
  })
  test('unlike boards on one driver, by current or by type', () => {
    const alike = lamp(1, 4, 'parallel')
    const unlike = (over: object): Lamp => ({
      ...alike,
      boardTypes: [...alike.boardTypes, { ...alike.boardTypes[0]!, id: 'other' }],
      boards: alike.boards.map((b, i) => (i === 1 ? { ...b, ...over } : b)),
    })
    for (const over of [{ currentA: 1 }, { type: 'other' }]) {
      const [f] = of(unlike(over), 1, 'g')
      expect(f).toMatchObject({ rule: 'strings-unequal', severity: 'severe', parts: ['board g'] })
      expect(f!.place).toEqual({ kind: 'board', boardIndex: 0 })
    }
    expect(of(unlike({}), 1, 'g')).toEqual([])
  })
})

describe('supply, contactor, connectors', () => {
  const mode = (name: string, amps: number): WorstCase['modes'][number] => ({
    ...{ id: name, name, supplyA: point(amps), lastingA: point(amps), channels: [], groupsA: [] },
  })
  test('the modes that draw too much, of cells and of a supply of its own', () => {
    const modes = [mode('Low', 9), mode('High', 11), mode('Turbo', 12)]
    const worst = { modes, supplyA: point(12) }
    const fixed = { kind: 'fixed' as const, name: '', volts: 40, milliohm: 1, maxA: 10 }
    const [f, more] = packOver(lampOf({ supply: fixed }), parts(worst))
    expect(f!.title).toBe('“High” and “Turbo” (most in “Turbo”) draw up to 12 A from a supply that may give 10 A.')
    expect(f!.why).toMatch(/^A supply over its current folds back/)
    expect([f!.cure, more]).toEqual(['A stronger supply, or less current.', undefined])
    const cells = { ...(gannet.power!.supply as Pack), parallel: 2, maxCellA: 5, protectionA: 10 }
    const found = packOver(lampOf({ supply: cells }), parts(worst))
    expect(found.map((x) => [x.rule, x.severity, x.parts])).toEqual([
      ['pack-over-current', 'severe', ['supply']],
      ['protection-over-current', 'warning', ['supply']],
    ])
    expect(found[0]!.why).toMatch(/^Cells over their current .* \(5 A each, 2 in parallel\)/)
    // 12/5 = 2.4.
    expect(found[0]!.cure).toMatch(/^At least 3 cells in parallel/)
    expect(found[1]!.title).toBe(
      '“High” and “Turbo” (most in “Turbo”) draw up to 12 A; the protection board lets 10 A through.',
    )
    expect(found[0]!.place).toEqual(HEAT)
  })
  test('connectors: of the runs that have some the largest current', () => {
    const { contactor: _, ...bare } = gannet.power!.harness
    const lamp = lampOf({ harness: { ...bare, contactor: null, connectorMaxA: 10, connectorMaxV: 24 } })
    const runs = [
      wireRun({ connectors: 1, amps: 11 }),
      wireRun({ id: 'b', connectors: 2, amps: 14 }),
      wireRun({ id: 'c', amps: 99 }),
      wireRun({ id: 'd', connectors: 1, amps: 10 }),
    ]
    const [current, volts] = switching(
      lamp,
      parts({ fullV: 20, channels: [worstChannel({ outV: point(24.2) }), worstChannel({})] }, runs),
    )
    expect(current!.title).toBe('2 runs with connectors for 10 A; up to 14 A pass them.')
    expect(current).toMatchObject({ severity: 'severe', parts: ['contacts', 'wire main', 'wire b'], place: HEAT })
    expect(volts!.title).toBe('Connectors for 24 V carry up to 24.2 V.')
    expect(volts!.cure).toBe('Connectors for 25 V DC or more.')
    expect(switching(lamp, parts({ fullV: 99 }, [wireRun({})]))).toEqual([])
    const { power: __, ...unsaid } = gannet
    expect(switching(unsaid, parts({}, runs))).toEqual([])
  })
})

test('metal: the time from which it burns, of the modes of the shortest contact; the base of a rated sink alone', () => {
  const mode = (name: string, ...plateMaxC: number[]): PowerParts['modes'][number] => ({
    ...{ id: name, name, limit: { kind: 'steady', atS: 600, boardIndex: null }, steppedDown: null, sagsFromS: null },
    ...{ letGoFromS: null, steady: null, channels: [], limits: [], watchedC: [], protection: null },
    curves: { tS: plateMaxC.map((_, i) => 60 * i), plateMaxC, junctionMaxC: plateMaxC, sinkC: plateMaxC },
  })
  const [f] = touchHot(gannet, { ...parts({}), modes: [mode('A', 20, 80), mode('B', 70, 75), mode('C', 20, 60)] })
  // 65 °C by a straight line from 20 to 80 °C: 45 s.
  expect(f!.title).toMatch(
    /^Plate and sink get to 80 °C in “A” and “B” \(most in “A”\): a touch of a second or less burns\.$/,
  )
  expect(f!.why).toMatch(/^That burns from 65 °C on: in “A” after 45 s, in “B” at once\. /)
  expect(f!.why).not.toContain('the base of the sink')
  expect(f!.place).toEqual({ kind: 'part', part: 'face' })
  // The same figure in both, as it is shown.
  expect(touchHot(gannet, { ...parts({}), modes: [mode('A', 79.2), mode('B', 79.8)] })[0]!.title).toMatch(
    /80 °C in “A” and “B”: /,
  )
  // Just reached, never passed.
  expect(touchHot(gannet, { ...parts({}), modes: [mode('A', 20, 65)] })[0]!.why).toMatch(
    /^Burn thresholds for bare metal/,
  )
})

test('a document without cooling, supply, or both', () => {
  const { cooling: _, power: __, ...neither } = gannet
  const titles = (lamp: Lamp) => assumedPower(lamp).map((f) => f.title)
  expect(titles(gannet)).toEqual([])
  expect(titles(neither)).toEqual(['Neither cooling nor supply is described.'])
  const { cooling: ___, ...unsunk } = gannet
  expect(titles(unsunk)).toHaveLength(1)
  expect(titles(unsunk)[0]).not.toMatch(/Neither/)
  expect(titles({ ...neither, boards: [] })).toEqual([])
})
