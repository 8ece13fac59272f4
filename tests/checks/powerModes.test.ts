// Rules on drivers, junctions, cells and optics from modes by hand: which mode, which driver and which figure is named.
import { describe, expect, test } from 'vitest'
import { driverRange as driverRangeRule } from '../../src/checks/power/driverRange.ts'
import { driverShort as driverShortRule } from '../../src/checks/power/driverShort.ts'
import { emitterCurrent as emitterCurrentRule } from '../../src/checks/power/emitterCurrent.ts'
import { fanIdle as fanIdleRule } from '../../src/checks/power/fanIdle.ts'
import { finsTooWide as finsTooWideRule } from '../../src/checks/power/finsTooWide.ts'
import { junctionOver as junctionOverRule } from '../../src/checks/power/junctionOver.ts'
import { opticsOverFace as opticsOverFaceRule } from '../../src/checks/power/opticsOverFace.ts'
import { packFire as packFireRule } from '../../src/checks/power/packFire.ts'
import { packLimits as packLimitsRule } from '../../src/checks/power/packLimits.ts'
import { fullPackWords, most, namesOf, type PowerParts } from '../../src/checks/powerParts.ts'
import type { Driver, Lamp, Pack, Sink } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import type { WireRun } from '../../src/power/schedule.ts'
import type { WorstCase } from '../../src/power/worstCase.ts'
import { point, table, wireRun, worstChannel } from '../kit/fakeWorst.ts'
import { metricRule } from '../kit/metricRules.ts'

const driverRange = metricRule(driverRangeRule)
const driverShort = metricRule(driverShortRule)
const emitterCurrent = metricRule(emitterCurrentRule)
const fanIdle = metricRule(fanIdleRule)
const finsTooWide = metricRule(finsTooWideRule)
const junctionOver = metricRule(junctionOverRule)
const opticsOverFace = metricRule(opticsOverFaceRule)
const packFire = metricRule(packFireRule)
const packLimits = metricRule(packLimitsRule)

type Run = PowerParts['modes'][number]
type TableMode = WorstCase['modes'][number]
type Kind = TableMode['channels'][number]
const gannet = gannetHead()
const pack = gannet.power!.supply as Pack
const withPack = (over: Partial<Pack>): Lamp => ({
  ...gannet,
  power: { ...gannet.power!, supply: { ...pack, ...over } },
})
const run = (name: string, over: Partial<Run> = {}): Run => ({
  ...{ id: name, name, limit: { kind: 'steady', atS: 600, boardIndex: null }, steppedDown: null, sagsFromS: null },
  ...{ letGoFromS: null, steady: null, channels: [], limits: [], watchedC: [], protection: null },
  curves: { tS: [0, 60], plateMaxC: [20, 30], junctionMaxC: [20, 30] },
  ...over,
})
const parts = (worst: Partial<WorstCase>, over: Partial<PowerParts> = {}): PowerParts => ({
  ...{ modes: [], wiring: [], sink: { speedMS: null, leftOutFins: 0, plateKg: 1, finKg: 1 } },
  ...table(worst),
  ...over,
})
const kind: Kind = {
  ...{ wantedA: 1, outA: 1, emitterA: 1, unevenA: 1, inputTooHigh: false, sagsUnderV: null, dark: false },
}
const inTable = (name: string, ...channels: Partial<Kind>[]): TableMode => ({
  ...{
    id: name,
    name,
    supplyA: point(1),
    lastingA: point(1),
    channels: channels.map((c) => ({ ...kind, ...c })),
    groupsA: [],
  },
})

describe('two drivers, each on a channel of its own', () => {
  const [driver] = gannet.power!.drivers as [Driver]
  const drivers: Driver[] = [
    { ...driver, id: 'a', name: 'First', maxOutputA: 3, inputMaxV: 60, headroomV: 2 },
    { ...driver, id: 'b', name: 'Second', maxOutputA: 3, inputMaxV: 50, headroomV: 1.5 },
  ]
  const channels = [worstChannel({ ids: ['A1'], driverId: 'a' }), worstChannel({ ids: ['B1', 'B2'], driverId: 'b' })]
  const find = (rule: string, modes: TableMode[], runs: Run[] = [], over: Partial<WorstCase> = {}, kinds = drivers) =>
    driverRange(
      { ...gannet, power: { ...gannet.power!, drivers: kinds } },
      parts({ channels, modes, ...over }, { modes: runs }),
    ).filter((f) => f.rule === rule)
  test('input: the one that bears less; a driver for a tenth more than the full supply', () => {
    const [f, more] = find('driver-input-too-high', [], [], { fullV: 55 })
    expect(more).toBeUndefined()
    expect(f).toMatchObject({ severity: 'severe', parts: ['driver b'], place: { kind: 'part', part: 'heat' } })
    expect(f!.title).toBe('“Second” bears 50 V; the full supply gives 55 V.')
    // 1.1 · 55 = 60.5.
    expect(f!.cure).toBe('Use a driver for at least 61 V, or fewer cells in series.')
  })
  test('output: the modes that ask for more, with the most of them; a ten-thousandth is rounding', () => {
    const found = find('driver-output-too-small', [
      inTable('Low', { wantedA: 2 }, { wantedA: 3.0002 }),
      inTable('High', { wantedA: 4 }, { wantedA: 1 }),
      inTable('Turbo', { wantedA: 5 }, { wantedA: 3 }),
    ])
    expect(found.map((f) => [f.title, f.severity, f.parts])).toEqual([
      [
        '“First” gives 3 A at most; its boards are meant to have 5 A in “High” and “Turbo” (most in “Turbo”).',
        ...['warning', ['driver a']],
      ],
    ])
    expect(find('driver-output-too-small', [inTable('Low', {}, { wantedA: 3.0004 })])).toHaveLength(1)
  })
  test('the largest of a driver’s own channels counts', () => {
    const both = [worstChannel({ ids: ['A1'], driverId: 'a' }), worstChannel({ ids: ['A2'], driverId: 'a' })]
    const [f] = find('driver-output-too-small', [inTable('Low', { wantedA: 4 }, { wantedA: 6 })], [], {
      channels: both,
    })
    expect(f!.title).toContain('6 A in “Low”')
  })
  test('one that only lifts: the modes in which its input is too high', () => {
    const lifting = drivers.map((d) => ({ ...d, kind: 'boost' as const }))
    const modes = [
      inTable('Low', {}, {}),
      inTable('High', {}, { inputTooHigh: true }),
      inTable('Turbo', { inputTooHigh: true }, {}),
    ]
    expect(find('driver-range', modes, [], {}, lifting).map((f) => [f.title, f.severity])).toEqual([
      ['“First” can only step up: in “Turbo” its input is as high as the boards’ own voltage.', 'severe'],
      ['“Second” can only step up: in “High” its input is as high as the boards’ own voltage.', 'severe'],
    ])
    expect(find('driver-range', modes)).toEqual([])
  })
  test('dark: at no voltage, where current is wanted', () => {
    const modes = [
      inTable('Low', { dark: true, wantedA: 0 }, {}),
      inTable('High', { dark: true }, {}),
      inTable('Turbo', { dark: true }, {}),
    ]
    const [f, more] = find('driver-range', modes, [], { fullV: 12.3 })
    expect(f!.title).toBe('“High” and “Turbo”: “First” gives nothing from a supply of 12.3 V.')
    expect([f!.severity, f!.parts, more]).toEqual(['severe', ['driver a'], undefined])
  })
  test('dark in its run from the first moment: only with an input, and only its own mode and channels', () => {
    const off = { id: 'B2', state: 'off' as const, inV: 30, outV: 0, outA: 0 }
    const ended = { limit: { kind: 'drivers', atS: 0, boardIndex: null }, channels: [off] }
    const modes = [inTable('Low', {}, {}), inTable('High', {}, {})]
    const dark = (over: Partial<Run>, name = 'High') =>
      find('driver-range', modes, [run(name, { ...ended, ...over })]).map((f) => f.title)
    const titles = ['“High”: “Second” gives nothing from a supply of 12 V.']
    expect(dark({})).toEqual(titles)
    expect(dark({ limit: { kind: 'supply', atS: 0, boardIndex: null } })).toEqual(titles)
    expect(dark({ limit: { kind: 'drivers', atS: 1, boardIndex: null } })).toEqual([])
    expect(dark({ limit: { kind: 'junction', atS: 0, boardIndex: 0 } })).toEqual([])
    expect(dark({ channels: [{ ...off, inV: 0 }] })).toEqual([])
    expect(dark({ channels: [{ ...off, state: 'sags' }] })).toEqual([])
    expect(dark({ channels: [{ ...off, id: 'other' }] })).toEqual([])
    expect(dark({}, 'Another')).toEqual([])
    // One of two that is off is enough.
    expect(dark({ channels: [{ ...off, id: 'B1', state: 'holds' }, off] })).toEqual(titles)
  })
  describe('sagging', () => {
    const sags = (modes: TableMode[], runs: Run[], kinds = drivers) => find('driver-sags', modes, runs, {}, kinds)
    test('in no run, but under some voltage of the table: a note with the highest of them', () => {
      const modes = [
        inTable('Low', { sagsUnderV: 10 }, {}),
        inTable('High', { sagsUnderV: 11 }, {}),
        inTable('Dark', { sagsUnderV: 99, dark: true }, {}),
        inTable('Turbo', {}, {}),
      ]
      const [f, more] = sags(modes, [])
      expect(more).toBeUndefined()
      expect(f).toMatchObject({ severity: 'note', parts: ['driver a'] })
      expect(f!.title).toBe(
        '“Low” and “High” (first in “High”): under 11 V of the supply “First” can’t hold its current; no run came so far.',
      )
      expect(f!.why).toBe(
        'It needs 2 V more than the string; the supply falls to 9 V. 0 modes of the lamp come so far.',
      )
      expect(sags([inTable('Turbo', {}, {})], [])).toEqual([])
    })
    test('in a run: the first of the times; from the start a warning', () => {
      const modes = [inTable('High', { sagsUnderV: 11 }, {}), inTable('Turbo', {}, {})]
      const late = [run('Low'), run('High', { sagsFromS: 90 }), run('Turbo', { sagsFromS: 60 })]
      const title =
        '“High” and “Turbo” (first in “Turbo”): from 60 s on “First” can’t hold its current any more; the light fades with the pack.'
      // Both drivers are asked about the same modes.
      expect(sags(modes, late).map((f) => [f.severity, f.title])).toEqual([
        ['note', title],
        ['note', title.replace('First', 'Second')],
      ])
      expect(sags(modes, late)[1]!.why).toMatch(/^It needs 1\.5 V more .* 2 modes of the lamp come so far\.$/)
      const [f] = sags(modes, [run('High', { sagsFromS: 0 })])
      expect(f).toMatchObject({ severity: 'warning' })
      expect(f!.title).toBe('“High”: “First” can’t hold its current from the start.')
      expect(f!.why).toMatch(/ 1 mode of the lamp come so far\.$/)
    })
    test('one that lifts does not sag so', () => {
      const modes = [inTable('High', { sagsUnderV: 11 }, {})]
      for (const lifts of ['boost', 'buck-boost'] as const)
        expect(
          sags(
            modes,
            [],
            drivers.map((d) => ({ ...d, kind: lifts })),
          ),
        ).toEqual([])
      expect(
        sags(
          modes,
          [],
          drivers.map((d) => ({ ...d, kind: 'linear' as const })),
        ),
      ).toHaveLength(1)
    })
  })
})

describe('a driver that fails short', () => {
  const short = (over: Parameters<typeof worstChannel>[0], wiring: WireRun[]) =>
    driverShort(gannet, {
      ...parts({ fullV: 42, channels: [worstChannel({ shortedA: 9, shortedEmitterA: 9, ...over })] }),
      wiring,
    })
  const wire = (over: Partial<WireRun>) => wireRun({ id: 'c in', part: 'channel', channel: 'c', ...over })
  test('the fuse that stays whole is the nearest of its own channel', () => {
    const main = { amps: 40, volts: 58, at: 'main' as const }
    const own = { amps: 8, volts: 58, at: 'channel' as const }
    const wiring = [
      wire({ part: 'board', protectedBy: null }),
      wire({ channel: 'other', protectedBy: null }),
      wire({ protectedBy: main }),
    ]
    const [f] = short({ ids: ['c', 'd'] }, wiring)
    expect(f!.title).toBe(
      'A driver of 2 channels (c) that fails short puts 9 A through an emitter that bears 3 A, and the main fuse of 40 A stays whole.',
    )
    expect(f!.why).toContain('The full supply of 42 V then stands across the boards, 9 A through them')
    expect(f).toMatchObject({ severity: 'severe', place: { kind: 'part', part: 'heat' } })
    expect(f!.parts).toEqual(['driver d', 'fuse c in', 'board c', 'fuse d in', 'board d'])
    expect(short({}, [wire({ protectedBy: own })])[0]!.title).toMatch(
      /A driver of 1 channel \(c\) .* channel fuse of 8 A/,
    )
  })
  test('a kind of no channels, or without a wire: nothing to say', () => {
    expect(short({ ids: [] }, [wire({ channel: null, protectedBy: null })])).toEqual([])
    expect(short({}, [])).toEqual([])
    const { power: _, ...unsaid } = gannet
    expect(
      driverShort(unsaid, { ...parts({ channels: [worstChannel({ shortedEmitterA: 9 })] }), wiring: [wire({})] }),
    ).toEqual([])
  })
})

test('emitters: the modes that are over, of the kind that is; several channels by their first', () => {
  const channels = [worstChannel({ ids: ['B1'] }), worstChannel({ ids: ['B2', 'B3'], emitterA: point(5) })]
  const modes = [
    inTable('Low', {}, { emitterA: 3.0002 }),
    inTable('High', {}, { emitterA: 3.0004 }),
    inTable('Turbo', {}, { emitterA: 5 }),
  ]
  const found = emitterCurrent(gannet, parts({ channels, modes }))
  expect(found.map((f) => f.title)).toEqual([
    '“High” and “Turbo” (most in “Turbo”): up to 5 A through each emitter of 2 channels (B2 and more), which bears 3 A.',
  ])
  expect(found[0]).toMatchObject({
    ...{ severity: 'severe', place: { kind: 'board', boardIndex: 1 }, parts: ['board B2', 'board B3'] },
    why: expect.stringContaining('Worst: “Full”, 10 V'),
  })
  expect(emitterCurrent(gannet, parts({ channels, modes: [inTable('Low')] }))).toEqual([])
})

describe('junctions over their limit', () => {
  const over = (o: Partial<Run>, lamp: Lamp = gannet) => {
    const curves = { tS: [0, 60], plateMaxC: [20, 90], junctionMaxC: [20, 140.4] }
    return junctionOver(
      lamp,
      parts({}, { modes: [run('Turbo', { limit: { kind: 'junction', atS: 60, boardIndex: 2 }, curves, ...o })] }),
    )[0]
  }
  test('the board that is first, when, and where it would go', () => {
    const f = over({ steady: { junctionMaxC: 180.2, bearable: false } })!
    expect(f.title).toBe('“Turbo”: after 60 s the emitters of board B3 reach their limit, 140 °C.')
    expect(f.why).toMatch(/^Left on it would go on to 181 °C\. .* The limit is the emitter’s own/)
    expect(f).toMatchObject({ severity: 'severe', place: { kind: 'board', boardIndex: 2 } })
    expect(over({})!.why).toMatch(/^Left on it would go past any temperature/)
    expect(over({ limit: { kind: 'junction', atS: 0, boardIndex: null } })!.title).toBe(
      '“Turbo”: the emitters of board B1 are over their limit at once.',
    )
    expect(over({ limit: { kind: 'junction', atS: 9, boardIndex: 99 } })!.title).toContain('of board 100 reach')
    expect(over({ limit: { kind: 'cells', atS: 9, boardIndex: null } })).toBeUndefined()
  })
  test('what to do: by what it has already, and by the kind of sink', () => {
    expect(over({})!.cure).toMatch(/^Give this mode a step-down rule below the limit, more sink or moving air/)
    expect(over({ steppedDown: { atS: 5 } })!.cure).toMatch(
      /^Let it step down earlier or further, give it more sink or air/,
    )
    const sink: Sink = { kind: 'rated', resistanceKW: 1, heatCapacityJK: 500, flow: 'natural' }
    const rated = { ...gannet, cooling: { ...gannet.cooling!, sink } }
    expect(over({}, rated)!.cure).toContain('a sink of less resistance')
    expect(over({ steppedDown: { atS: 5 } }, rated)!.cure).toContain('give it a sink of less resistance')
    const { cooling: _, ...unsaid } = gannet
    expect(over({}, unsaid)).toMatchObject({
      severity: 'warning',
      why: expect.stringContaining('a bare plate of 6 mm is taken'),
    })
  })
})

describe('cells', () => {
  const hot = (name: string, atS: number) => run(name, { limit: { kind: 'cells', atS, boardIndex: null } })
  const cells = (...modes: Run[]) => packFire(gannet, parts({}, { modes })).find((f) => f.rule === 'cells-hot')
  test('of several modes the first to get hot, wherever it stands', () => {
    expect(cells(hot('A', 90), hot('B', 30), hot('C', 60))!.title).toMatch(
      /^“A”, “B” and “C” \(first in “B”\): .* after 30 s\.$/,
    )
    expect(cells(hot('A', 20), hot('B', 0))!.title).toMatch(/ at once\.$/)
    expect(cells(hot('A', 20))).toMatchObject({ severity: 'severe', place: { kind: 'part', part: 'heat' } })
    expect(cells(run('A'))).toBeUndefined()
  })
  test('100 Wh, from which carriers call it dangerous goods: 10 × 2.5 Ah at 3.3 V are 82.5 Wh', () => {
    const of = (series: number, cellAh: number) =>
      packFire(withPack({ chemistry: 'lifepo4', series, parallel: 1, cellAh }), parts({}))[0]!
    expect(of(10, 2.5).title).toMatch(/^The pack holds 82\.5 Wh, 0\.297 MJ: .* up to 16\.5 g/)
    // 10 × 3.0303 Ah: 100 Wh.
    expect([3.03, 3.04].map((ah) => of(10, ah).severity)).toEqual(['note', 'warning'])
    expect(of(10, 2.5).why).toMatch(/^10 × 1 cells of 2\.5 Ah, lithium iron phosphate/)
  })
  test('emptied too far: lithium of either kind may burn, the others leak', () => {
    const low = (over: Partial<Pack>) => packLimits(withPack(over)).find((f) => f.rule === 'cell-cut-off-low')!
    for (const chemistry of ['li-ion', 'lifepo4'] as const) {
      expect(low({ chemistry, cutOffCellV: 2.4 })).toMatchObject({ severity: 'severe', parts: ['supply'] })
      expect(low({ chemistry, cutOffCellV: 2.4 }).why).toMatch(/^Below it copper goes into solution/)
    }
    for (const chemistry of ['nimh', 'lead-acid'] as const) {
      expect(low({ chemistry, cutOffCellV: 0.9 }).severity).toBe('warning')
      expect(low({ chemistry, cutOffCellV: 0.9 }).why).toMatch(/^Below it the weakest cell of a row/)
    }
    expect(low({ chemistry: 'nimh', cutOffCellV: 0.9 }).title).toMatch(
      /emptied to 0\.9 V each; 1 V is the usual end\.$/,
    )
  })
  test('in the cold of the lamp’s own coldest air, else of the air given', () => {
    const at = (coldestC: number | undefined, ambientC: number) => {
      const { coldestC: _, ...power } = gannet.power!
      const own = coldestC === undefined ? power : { ...power, coldestC }
      return packLimits({ ...gannet, power: own, reading: { ...gannet.reading, ambientC } }).map((f) => f.title)
    }
    expect(at(-5, 20)).toEqual(['Used at −5 °C: cells of lithium ion must not be charged under 0 °C.'])
    expect(at(5, -5)).toEqual([])
    expect(at(undefined, -25)).toEqual(['Switched on at −25 °C: cells of lithium ion give current from −20 °C on.'])
  })
})

test('optics over the face: the hottest of the modes that pass 70 °C; severe over 95 °C', () => {
  const mode = (name: string, ...plateMaxC: number[]) =>
    run(name, { curves: { tS: plateMaxC.map((_, i) => 60 * i), plateMaxC, junctionMaxC: plateMaxC } })
  const of = (...modes: Run[]) => opticsOverFace(gannet, parts({}, { modes }))[0]
  expect([70, 70.1, 95, 95.1].map((c) => of(mode('A', c))?.severity)).toEqual([
    undefined,
    'warning',
    'warning',
    'severe',
  ])
  expect(of(mode('A', 20, 120), mode('B', 80), mode('C', 69))!.title).toMatch(
    /bear in “B” at once, in “A” after 30 s, and gets to 120 °C in “A”\.$/,
  )
  expect(of(mode('A', 90))!.cure).toContain('more sink or air')
})

describe('sink', () => {
  const fan = { kind: 'fan' as const, curve: [] }
  const idle = (speedMS: number | null, air: object = fan) => {
    const sink = { speedMS, leftOutFins: 0, plateKg: 1, finKg: 1 }
    return fanIdle({ ...gannet, cooling: { ...gannet.cooling!, air } } as Lamp, parts({}, { sink }))[0]
  }
  test('a fan under 0.1 m/s is idle, and at 0 drives nothing', () => {
    expect([idle(0.1), idle(0.099)?.severity]).toEqual([undefined, 'warning'])
    expect(idle(0.099)!.title).toMatch(/^The fan drives hardly any air through/)
    expect(idle(0)!.title).toMatch(/^The fan drives no air through/)
    expect([idle(null), idle(0, { kind: 'still' })]).toEqual([undefined, undefined])
    const { cooling: _, ...unsaid } = gannet
    expect(fanIdle(unsaid, parts({}, { sink: { speedMS: 0, leftOutFins: 0, plateKg: 1, finKg: 1 } }))).toEqual([])
  })
  test('fins or pins that find no room', () => {
    const wide = (kind: 'fins' | 'pins', leftOutFins: number) => {
      const sink = { kind, count: 30, heightMm: 40, thicknessMm: 2, diameterMm: 2, spacingMm: 9 } as unknown as Sink
      const left = { speedMS: null, leftOutFins, plateKg: 1, finKg: 1 }
      return finsTooWide({ ...gannet, cooling: { ...gannet.cooling!, sink } }, parts({}, { sink: left }))[0]?.title
    }
    expect(wide('fins', 1)).toBe('1 fin of 30 find no room on the face and are left out.')
    expect(wide('pins', 2)).toBe('2 pins of 30 find no room on the face and are left out.')
    expect(wide('fins', 0)).toBeUndefined()
  })
})

test('words that several rules share', () => {
  expect([[], ['A'], ['A', 'B'], ['A', 'B', 'C']].map((n) => namesOf(n.map((name) => ({ name }))))).toEqual([
    ...['', '“A”', '“A” and “B”', '“A”, “B” and “C”'],
  ])
  expect([most([]), most([3, 9, 4]), most([-5, -2])]).toEqual([Number.NEGATIVE_INFINITY, 9, -2])
  expect(fullPackWords(withPack({ charged: 1 }))).toBe('')
  expect(fullPackWords(withPack({ charged: 0.99 }))).toMatch(/^ The pack counts as full/)
  const { power: _, ...unsaid } = gannet
  expect(fullPackWords(unsaid)).toBe('')
})
