// Cut-out and fold-back from runs by hand: 20, 60 and 100 °C where they read, a minute apart, by a straight line between.
import { describe, expect, test } from 'vitest'
import { protection as protectionRule } from '../../src/checks/power/protection.ts'
import type { PowerParts } from '../../src/checks/powerParts.ts'
import type { TimedLimit } from '../../src/heat/limits.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { table } from '../kit/fakeWorst.ts'
import { metricRule } from '../kit/metricRules.ts'

const protection = metricRule(protectionRule)

type Mode = PowerParts['modes'][number]
const gannet = gannetHead()
const WORKS = { firstOpenS: null, foldsFromS: null }
const mode = (over: Partial<Mode> = {}): Mode => ({
  ...{ id: 'turbo', name: 'Turbo', limit: { kind: 'steady', atS: 600, boardIndex: null }, steppedDown: null },
  ...{ sagsFromS: null, letGoFromS: null, steady: null, channels: [], limits: [] },
  curves: { tS: [0, 60, 120], plateMaxC: [20, 70, 120], junctionMaxC: [20, 90, 160] },
  watchedC: [20, 60, 100],
  protection: WORKS,
  ...over,
})
const limit = (over: Partial<TimedLimit>): TimedLimit => ({
  ...{ limit: 'junction', part: 'board B1', atS: 80, celsius: null, contactS: null, ends: false, ...over },
})
type Protection = NonNullable<NonNullable<Lamp['power']>['protection']>
const find = (protectedBy: Partial<Protection>, ...modes: Mode[]) => {
  const lamp = { ...gannet, power: { ...gannet.power!, protection: protectedBy } } as Lamp
  const sink = { speedMS: null, leftOutFins: 0, plateKg: 1, finKg: 1 }
  return protection(lamp, { modes, wiring: [], sink, ...table({}) })
}
const cutOut = (openC: number) => ({ cutOut: { openC, closeC: openC - 10 } }) as Partial<Protection>
const foldBack = (startC: number) =>
  ({ foldBack: { startC, endC: startC + 20, leastShare: 0.2 } }) as Partial<Protection>
const one = (rule: string, by: Partial<Protection>, ...modes: Mode[]) => find(by, ...modes).find((f) => f.rule === rule)
const HEAT = { kind: 'part', part: 'heat' }

describe('a cut-out that opens too late', () => {
  // 80 °C is read after 90 s.
  const late = (...limits: TimedLimit[]) => one('cut-out-too-high', cutOut(80), mode({ limits }))
  test('a junction, an optic or a lead that is over before it opens; never a touch', () => {
    expect([late(limit({ atS: 89.9 }))?.severity, late(limit({ atS: 90 }))]).toEqual(['severe', undefined])
    expect(late(limit({ limit: 'optic', atS: 70, celsius: 70 }))!.severity).toBe('severe')
    expect(late(limit({ limit: 'insulation', atS: 70, celsius: 75 }))!.severity).toBe('warning')
    expect(late(limit({ limit: 'insulation', atS: 70 }), limit({ atS: 80 }))!.severity).toBe('severe')
    for (const other of ['touch', 'sink', 'driver', 'pack'] as const)
      expect(late(limit({ limit: other, atS: 10 }))).toBeUndefined()
    expect(late()).toBeUndefined()
  })
  test('each with its moment and what the cut-out reads then, rounded down', () => {
    const f = late(
      limit({ limit: 'optic', part: '“Cup”', atS: 75, celsius: 70 }),
      limit({ limit: 'insulation', part: 'the boards’ leads', atS: 77, celsius: 75 }),
      limit({ atS: 89 }),
      limit({ atS: 95 }),
    )!
    // 60 + 40 · 15/60 = 70; 71.3; 79.3.
    expect(f.title).toBe(
      '“Turbo”: the cut-out opens at 80 °C, too late for plastic optics on the face (“Cup”, 70 °C) after 75 s, when it reads 70 °C; ' +
        'for the boards’ leads (insulation, 75 °C) after 77 s, when it reads 71 °C; ' +
        'for the emitters of board B1, at their limit after 89 s, when it reads 79 °C.',
    )
    expect(f.place).toEqual(HEAT)
    expect(f.why).toContain('A thermostat can weld shut')
  })
  test('one that never opens is late for all; the last moment is read as it is', () => {
    const never = (atS: number) => one('cut-out-too-high', cutOut(200), mode({ limits: [limit({ atS })] }))!.title
    expect(never(120)).toMatch(/after 2 min, when it reads 100 °C\.$/)
    expect(never(0)).toMatch(/when it reads 20 °C\.$/)
    expect(find({}, mode({ limits: [limit({})] }))).toEqual([])
    expect(find(cutOut(200), mode({ limits: [limit({})], protection: null }))).toEqual([])
  })
  test('for each mode its own', () => {
    const modes = [mode({ limits: [limit({})] }), mode({ name: 'Low' }), mode({ name: 'High', limits: [limit({})] })]
    expect(find(cutOut(200), ...modes).map((f) => f.title.split(':')[0])).toEqual(['“Turbo”', '“High”'])
  })
})

describe('a sensor whose place nobody has said', () => {
  // The coolest place warms by 20 K a minute: 1/3 K/s, and 20 s behind it reads 6.67 K less in the end.
  const cool = { tS: [0, 60, 120], plateMaxC: [20, 70, 120], junctionMaxC: [20, 90, 160], plateMinC: [20, 40, 60] }
  const at = (by: Partial<Protection>, ...limits: TimedLimit[]) =>
    find(by, mode({ curves: cool, limits })).filter((f) => f.rule === 'protection-place')
  test('in time at the hottest place, too late at the coolest', () => {
    // 60 °C is read after 60 s at the hottest place; at the coolest never in two minutes.
    const [f] = at(cutOut(60), limit({ atS: 80 }))
    expect(f).toMatchObject({ severity: 'warning', place: HEAT })
    // 46.67 − 6.67 (1 − e^(−4)) = 40.1.
    expect(f!.title).toBe(
      '“Turbo”: the cut-out of 60 °C is in time at the plate’s hottest place only; at the coolest, 20 s behind it, it is too late for the emitters of board B1, at their limit after 80 s, when it reads 40 °C.',
    )
    expect(at(cutOut(60), limit({ atS: 59 }))).toEqual([])
    expect(at(cutOut(30), limit({ atS: 80 }))).toEqual([])
    expect(at(cutOut(60), limit({ limit: 'touch', atS: 80 }))).toEqual([])
  })
  test('a fold-back that has not begun there when the junctions are at their limit', () => {
    const [f] = at(foldBack(45), limit({ atS: 80 }))
    expect(f!.title).toBe(
      '“Turbo”: the fold-back from 45 °C on acts in time at the plate’s hottest place only; at the coolest, 20 s behind it, it reads 40 °C when the emitters of board B1 are at their limit, after 80 s: it has not begun.',
    )
    expect([at(foldBack(40), limit({ atS: 80 })), at(foldBack(90), limit({ atS: 80 }))]).toEqual([[], []])
    expect(at(foldBack(45), limit({ limit: 'optic', atS: 80 }))).toEqual([])
  })
  test('a place in the document says all there is to say; every reason names it', () => {
    const sensor = { xMm: 10, yMm: -20, lagS: 8 }
    expect(at({ ...cutOut(60), sensor }, limit({ atS: 80 }))).toEqual([])
    const late = find({ ...cutOut(90), sensor }, mode({ curves: cool, limits: [limit({ atS: 80 })] }))
    expect(late[0]!.why).toContain('both read at x 10, y -20 mm here, 8 s behind the plate')
  })
})

describe('a cut-out that opens too soon', () => {
  const early = (openC: number, over: Partial<Mode> = {}) => one('cut-out-low', cutOut(openC), mode(over))
  test('before a minute is over: a note; in air as warm as it: a warning', () => {
    expect(early(40)!.title).toBe('“Turbo”: the cut-out opens at 40 °C, which the plate passes after 30 s.')
    expect([20, 20.1, 59.9, 60, 200].map((c) => early(c)?.severity)).toEqual([
      ...['warning', 'note', 'note', undefined, undefined],
    ])
    expect(early(20)!.title).toBe('“Turbo” never comes on: the air is as warm as the 20 °C at which the cut-out opens.')
    expect(early(40)!.place).toEqual(HEAT)
    expect(early(20, { watchedC: [] })).toBeUndefined()
  })
})

describe('protection that works', () => {
  const junction = { kind: 'junction', atS: 95, boardIndex: 0 }
  test('and still lets the junctions over their limit', () => {
    const still = (over: Partial<Mode>) => one('protection-too-weak', {}, mode(over))
    expect(still({ limitProtected: { kind: 'junction', atS: 300 } })).toMatchObject({
      ...{ severity: 'warning', place: HEAT },
      title: '“Turbo”: with its protection working the emitters still reach their limit after 5 min.',
    })
    expect(still({ limitProtected: { kind: 'steady', atS: 300 } })).toBeUndefined()
    expect(still({})).toBeUndefined()
    expect(still({ limitProtected: { kind: 'junction', atS: 300 }, protection: null })).toBeUndefined()
  })
  test('alone between a mode and its limit: which of the two, in which modes', () => {
    const alone = (...modes: Partial<Mode>[]) =>
      one('protection-alone', {}, ...modes.map((m) => mode({ limit: junction, ...m })))
    const by = (firstOpenS: number | null, foldsFromS: number | null) =>
      /^In “Turbo” (.*) the emitters/.exec(alone({ protection: { firstOpenS, foldsFromS } })!.title)![1]
    expect([by(50, 40), by(50, null), by(null, 40), by(0, 0)]).toEqual([
      ...['cut-out and fold-back keep', 'the cut-out keeps', 'the fold-back keeps', 'cut-out and fold-back keep'],
    ])
    // Of several modes together: one opens, another folds.
    const both = alone(
      { name: 'A', protection: { firstOpenS: 50, foldsFromS: null } },
      { name: 'B', limit: { kind: 'steady', atS: 1, boardIndex: null } },
      { name: 'C', protection: { firstOpenS: null, foldsFromS: 40 } },
    )!
    expect(both.title).toBe(
      'In “A” and “C” cut-out and fold-back keep the emitters under their limit in normal operation; it must not be the only protection.',
    )
    expect(both).toMatchObject({ severity: 'note', place: HEAT })
    expect(alone({ limitProtected: { kind: 'junction', atS: 1 } })).toBeUndefined()
    expect(alone({ limitProtected: { kind: 'steady', atS: 1 } })).toBeDefined()
    expect(alone({ protection: null })).toBeUndefined()
    expect(alone({ limit: { kind: 'cells', atS: 9, boardIndex: null } })).toBeUndefined()
  })
  test('a fold-back that begins at no temperature of any mode', () => {
    const idle = (startC: number, ...modes: Mode[]) => one('fold-back-idle', foldBack(startC), ...modes)
    const cool = mode({ name: 'Low', watchedC: [20, 30, 40.2] })
    expect(idle(100, mode(), cool)).toMatchObject({
      ...{ severity: 'note', place: HEAT },
      title:
        'The fold-back never comes into play: it begins at 100 °C, and no mode brings the plate over 100 °C where it reads.',
    })
    expect(idle(99.9, mode(), cool)).toBeUndefined()
    expect(idle(50, cool)!.title).toMatch(/over 41 °C where it reads/)
    expect(idle(50)).toBeUndefined()
    expect(idle(200, mode({ protection: null }))).toBeUndefined()
    expect(one('fold-back-idle', cutOut(200), mode())).toBeUndefined()
  })
  test('a lamp without either, or without power, says nothing', () => {
    const sink = { speedMS: null, leftOutFins: 0, plateKg: 1, finKg: 1 }
    const parts = { modes: [mode({ protection: null, limits: [limit({})] })], wiring: [], sink, ...table({}) }
    const { power: _, ...unsaid } = gannet
    expect([protection(gannet, parts), protection(unsaid, parts)]).toEqual([[], []])
  })
})
