// Other dangers that heat and power know: voltage, weight, pack, optics over a hot face.
import { describe, expect, test } from 'vitest'
import { checkPower } from '../../src/checks/checkPower.ts'
import { opticsOverFace as opticsOverFaceRule } from '../../src/checks/power/opticsOverFace.ts'
import { packFire as packFireRule } from '../../src/checks/power/packFire.ts'
import { touchHot as touchHotRule } from '../../src/checks/power/touchHot.ts'
import { touchVoltage as touchVoltageRule } from '../../src/checks/power/touchVoltage.ts'
import { weight as weightRule } from '../../src/checks/power/weight.ts'
import type { PowerParts } from '../../src/checks/powerParts.ts'
import { passesAt } from '../../src/heat/limits.ts'
import type { Lamp, Pack } from '../../src/lamp/schema.ts'
import { benchCheck, gannetHead } from '../../src/library/demos.ts'
import { point, table, worstChannel } from '../kit/fakeWorst.ts'
import { metricRule } from '../kit/metricRules.ts'

const opticsOverFace = metricRule(opticsOverFaceRule)
const packFire = metricRule(packFireRule)
const touchHot = metricRule(touchHotRule)
const touchVoltage = metricRule(touchVoltageRule)
const weight = metricRule(weightRule)

const gannet = gannetHead()
const pack = gannet.power!.supply as Pack
const withPack = (over: Partial<Pack>): Lamp => ({
  ...gannet,
  power: { ...gannet.power!, supply: { ...pack, ...over } },
})

type ModeParts = PowerParts['modes'][number]
const mode = (name: string, tops: number[], over: Partial<ModeParts> = {}): ModeParts => ({
  ...{ id: name, name, limit: { kind: 'steady', atS: 600, boardIndex: null }, steppedDown: null, sagsFromS: null },
  ...{ letGoFromS: null, steady: null, channels: [], limits: [], watchedC: tops, protection: null },
  curves: { plateMaxC: tops, junctionMaxC: tops, tS: tops.map((_, i) => 60 * i) },
  ...over,
})
const parts = (...modes: ModeParts[]): PowerParts => ({
  modes,
  ...table({}),
  wiring: [],
  sink: { speedMS: null, leftOutFins: 0, plateKg: 2, finKg: 3 },
})
const live = (fullV: number, ...outV: number[]): PowerParts => ({
  ...parts(),
  ...table({ fullV, channels: outV.map((v, i) => worstChannel({ ids: [`c${i}`], outV: point(v) })) }),
})

describe('touch-safe voltage: 60 V DC dry, 30 V wet', () => {
  test.each([
    [30, undefined],
    [30.1, 'warning'],
    [60, 'warning'],
    [60.1, 'severe'],
  ])('strings of %f V: %s', (outV, severity) => expect(touchVoltage(gannet, live(4, outV))[0]?.severity).toBe(severity))
  test('the full supply counts as well: 15 cells of 4.2 V are 63 V', () => {
    const [f] = touchVoltage(gannet, live(63, 5))
    expect(f).toMatchObject({ severity: 'severe', parts: ['supply'] })
    expect(f!.title).toMatch(/^Up to 63 V DC on bare contacts \(strings 5 V, full supply 63 V\): over the 60 V/)
    expect(touchVoltage(gannet, live(58.8, 5))[0]!.title).toMatch(
      /^Up to 58\.8 V .* over the 30 V that are safe to touch wet\.$/,
    )
    expect(touchVoltage(gannet, live(30, 5))).toEqual([])
  })
  test('the highest of all strings; none without boards', () => {
    const [f] = touchVoltage(gannet, live(4, 40, 5, 70))
    expect(f!.title).toMatch(/strings 70 V/)
    expect(f!.parts).toEqual(['board c0', 'board c2'])
    expect(touchVoltage({ ...gannet, boards: [] }, live(84, 70))).toEqual([])
  })
})

describe('weight', () => {
  const bare = {
    ...gannet,
    lens: null,
    cooling: { ...gannet.cooling!, plate: { ...gannet.cooling!.plate, thicknessMm: 10 } },
  }
  const fins = (heightMm: number) =>
    ({ ...bare, cooling: { ...bare.cooling, sink: { ...bare.cooling.sink, heightMm } } }) as Lamp
  test('sum of plate, fins, lens and cells; centre of gravity by hand', () => {
    const cells = (pack.series * pack.parallel * pack.cellGram) / 1000
    const [f] = weight(fins(50), parts(mode('A', [20])))
    // Plate 2 kg at −5 mm, fins 3 kg at −10 − 25: (−10 − 105)/5 = −23 mm.
    expect(f).toMatchObject({ rule: 'weight', severity: 'note' })
    expect(f!.title).toBe(
      `Plate, fins and cells: ${Number((5 + cells).toPrecision(3))} kg. Centre of gravity of plate and fins: 23 mm behind the face. Tipping isn’t computed.`,
    )
  })
  test('the lens pulls it forward; over 25 kg it is a warning', () => {
    const heavy = withPack({ cellGram: 1000 })
    expect(weight(heavy, parts(mode('A', [20])))[0]!.severity).toBe('warning')
    expect(weight(gannet, parts(mode('A', [20])))[0]!.title).toMatch(
      /Centre of gravity of plate, fins and lens: \d+ mm in front of the face/,
    )
  })
  test('25 kg exactly is no warning: cells of 2.5 kg, ten of them, and a gram more', () => {
    const { cooling: _, ...bare25 } = bare
    const cells = (cellGram: number) => {
      const supply = { ...pack, series: 10, parallel: 1, cellGram }
      return weight({ ...bare25, power: { ...gannet.power!, supply } } as Lamp, parts())[0]!
    }
    expect([2500, 2500.1].map((g) => cells(g).severity)).toEqual(['note', 'warning'])
    expect(cells(2500).title).toBe('Cells: 25 kg. Tipping isn’t computed.')
    expect(cells(2500).place).toEqual({ kind: 'part', part: 'heat' })
  })
  test('where each part lies: half the plate’s thickness, half the fins’ height behind it, the lens at its own place', () => {
    const { power: _, ...unpowered } = bare
    const at = (plateKg: number, finKg: number) =>
      weight(unpowered as Lamp, { ...parts(), sink: { speedMS: null, leftOutFins: 0, plateKg, finKg } })[0]?.title
    const finMm = (gannet.cooling!.sink as { heightMm: number }).heightMm
    expect(at(2, 0)).toBe('Plate: 2 kg. Centre of gravity of plate: 5 mm behind the face. Tipping isn’t computed.')
    expect(at(0, 3)).toBe(
      `Fins: 3 kg. Centre of gravity of fins: ${10 + finMm / 2} mm behind the face. Tipping isn’t computed.`,
    )
    expect(at(0, 0)).toBeUndefined()
    const { cooling: __, power: ___, ...lensOnly } = gannet
    expect(weight(lensOnly as Lamp, parts())[0]!.title).toMatch(
      new RegExp(`^Lens: [\\d.]+ kg\\. Centre of gravity of lens: ${gannet.lens!.zMm} mm in front of the face`),
    )
  })
  test('nothing known, no finding; cells alone have no place', () => {
    expect(weight({ ...benchCheck(), lens: null, cooling: undefined, power: undefined } as Lamp, parts())).toEqual([])
    const { cooling: _, ...noSink } = bare
    expect(weight(noSink as Lamp, parts())[0]!.title).toMatch(/^Cells: [\d.]+ kg\. Tipping isn’t computed\.$/)
    expect(weight({ ...gannet, boards: [] }, parts())).toEqual([])
  })
})

describe('pack', () => {
  test('watt-hours by hand, megajoules and hydrogen fluoride; over 100 Wh a warning', () => {
    // 10 × 2 cells of 5 Ah at 3.73 V: 373 Wh, 1.34 MJ; 0.2 g/Wh.
    const [f] = packFire(withPack({ chemistry: 'li-ion', series: 10, parallel: 2, cellAh: 5 }), parts())
    expect(f).toMatchObject({ rule: 'pack-fire', severity: 'warning' })
    expect(f!.title).toMatch(/^The pack holds 373 Wh, 1\.35 MJ: .* up to 74\.6 g of hydrogen fluoride\.$/)
    expect(packFire(withPack({ chemistry: 'lifepo4', series: 2, parallel: 1, cellAh: 5 }), parts())[0]).toMatchObject({
      severity: 'note',
    })
  })
  test('cells in water: hydrogen by Faraday, 0.449 l a cell and Ah at 20 °C', () => {
    for (const chemistry of ['lead-acid', 'nimh'] as const) {
      const [f, ...more] = packFire(withPack({ chemistry, series: 6 }), parts())
      expect([f!.rule, f!.severity, more]).toEqual(['pack-gas', 'note', []])
      expect(f!.title).toMatch(/^Overcharged the pack gives off up to 2\.7 l of hydrogen for each Ah/)
    }
  })
  test('a fixed supply, no boards: none', () => {
    const fixed = { kind: 'fixed', name: 'Bench', volts: 24, milliohm: 10, maxA: 20 } as const
    expect(packFire({ ...gannet, power: { ...gannet.power!, supply: fixed } }, parts())).toEqual([])
    expect(packFire({ ...gannet, boards: [] }, parts())).toEqual([])
  })
  test('cells that reach their limit: severe, with the first mode’s time', () => {
    const hot = (name: string, atS: number) => mode(name, [20], { limit: { kind: 'cells', atS, boardIndex: null } })
    const [f] = packFire(withPack({ maxCellC: 60 }), parts(mode('Low', [20]), hot('High', 900), hot('Turbo', 90)))
    expect(f).toMatchObject({ rule: 'cells-hot', severity: 'severe' })
    expect(f!.title).toBe('“High” and “Turbo” (first in “Turbo”): the cells reach their 60 °C after 90 s.')
    expect(packFire(withPack({}), parts(hot('Turbo', 0)))[0]!.title).toMatch(/at once\.$/)
  })
})

describe('plastic optics over a hot face', () => {
  test('the moment between two steps by a straight line', () => {
    expect(passesAt(mode('A', [20, 60, 80]).curves, 70)).toBe(90)
    expect(passesAt(mode('A', [75, 80]).curves, 70)).toBe(0)
    expect(passesAt(mode('A', [20, 70]).curves, 70)).toBeNull()
    expect(passesAt(mode('A', [20, 90, 30]).curves, 70)).toBeCloseTo((60 * 50) / 70, 9)
  })
  test('modes in the order of their minutes; severe from 95 °C on', () => {
    const [f] = opticsOverFace(
      gannet,
      parts(mode('Low', [20, 50]), mode('High', [20, 60, 80]), mode('Turbo', [20, 90])),
    )
    expect(f).toMatchObject({
      rule: 'optics-over-hot-face',
      severity: 'warning',
      place: { kind: 'part', part: 'optics' },
    })
    expect(f!.title).toBe(
      'The face passes the 70 °C that plastic optics on it bear in “Turbo” after 42.8 s, in “High” after 90 s, and gets to 90 °C in “Turbo”.',
    )
    expect(opticsOverFace(gannet, parts(mode('Turbo', [20, 96])))[0]!.severity).toBe('severe')
    expect(opticsOverFace(gannet, parts(mode('Turbo', [71])))[0]!.title).toMatch(/“Turbo” at once, and/)
  })
  test('cool enough, or nothing of plastic: none', () => {
    expect(opticsOverFace(gannet, parts(mode('Low', [20, 70])))).toEqual([])
    const bare = {
      ...gannet,
      opticTypes: gannet.opticTypes.map((o) => ({ kind: 'bare' as const, id: o.id, name: o.name })),
    }
    expect(opticsOverFace(bare, parts(mode('Turbo', [20, 96])))).toEqual([])
  })
})

describe('metal by the length of the contact', () => {
  const at = (c: number) => touchHot(gannet, parts(mode('A', [20, c])))[0]
  test.each([
    [43, 'note', 'eight hours'],
    [48, 'warning', 'ten minutes'],
    [51, 'warning', 'a minute'],
    [55, 'warning', 'ten seconds'],
    [65, 'severe', 'a second or less'],
  ])('%i °C: %s, %s', (c, severity, words) => {
    expect(at(c)).toMatchObject({ severity })
    expect(at(c)!.title).toContain(`a touch of ${words} burns`)
  })
  test('under 43 °C none; only the modes of the shortest contact are named', () => {
    expect(at(42)).toBeUndefined()
    expect(touchHot(gannet, parts(mode('Low', [44]), mode('High', [66]), mode('Turbo', [99])))[0]!.title).toMatch(
      /99 °C in “High” and “Turbo” \(most in “Turbo”\): /,
    )
  })
})

test('all of them are among the findings of heat and power', () => {
  const hot = { ...parts(mode('Turbo', [20, 96])), ...table({ fullV: 70 }) }
  const rules = checkPower(gannet, hot).map((f) => f.rule)
  for (const rule of ['touch-voltage', 'weight', 'pack-fire', 'optics-over-hot-face', 'touch-hot'])
    expect(rules).toContain(rule)
})
