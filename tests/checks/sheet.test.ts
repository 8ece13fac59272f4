import { describe, expect, test } from 'vitest'
import { CAUTIONS } from '../../src/checks/cautions.ts'
import { checkSheet } from '../../src/checks/check.ts'
import { bySeverity, type Severity } from '../../src/checks/finding.ts'
import type { SheetParts } from '../../src/checks/parts.ts'
import {
  ahead as aheadInBoth,
  clear as clearInBoth,
  kWm2,
  mm as mmInBoth,
  seconds,
  upThree,
} from '../../src/checks/words.ts'
import { readRisks } from '../../src/hazard/risks.ts'
import { benchCheck, gannetHead, stileLamp } from '../../src/library/demos.ts'
import { dirtTemperatureC } from '../../src/library/heatBalance.ts'
import type { HotSpot } from '../../src/run/figure.ts'
import { expectWithin } from '../kit/expect.ts'
import { lampWith } from '../kit/lampWith.ts'
import { metricWords } from '../kit/metricRules.ts'

const ahead = metricWords(aheadInBoth)
const clear = metricWords(clearInBoth)
const mm = metricWords(mmInBoth)

const gannet = gannetHead()
const calm: SheetParts = {
  state: 'settled',
  figures: { axialIntensityCd: { value: 5e6, se: 1e4 } },
  hotSpots: {},
  sun: [{ kWm2: 0.5, se: 0.01, xMm: 0, yMm: 0, zMm: 0, discMm: 10, tiltDeg: 0, lands: 'face' }],
  risks: [],
  patterned: false,
  variants: [],
}
const spot = (value: number, se = 0, over: Partial<HotSpot> = {}): HotSpot => ({
  kWm2: value,
  se,
  xMm: 1,
  yMm: 2,
  zMm: 1050,
  discMm: 10,
  ...over,
})
const found = (parts: Partial<SheetParts>, lamp = gannet) => checkSheet(lamp, { ...calm, ...parts })
const frontAt = (value: number, se = 0) => {
  const curve = [1, 300, 600, 3000].map((distanceMm, i) => ({
    distanceMm,
    kWm2: i === 1 ? value : value / 4 ** Math.abs(i - 1),
    se: i === 1 ? se : 0,
    discMm: 10,
  }))
  const front = { worst: spot(value, se, { zMm: 1354 }), curve }
  return { hotSpots: { front: front.worst }, risks: readRisks(front) }
}

test('a calm sheet has no findings', () => {
  expect(found({})).toEqual([])
})

describe('the upper end of ± decides', () => {
  test('lens: 0.5 kW/m² is fine when sure of it, not when ± reaches the 0.58 that hold dirt at 70 °C', () => {
    expect(found({ hotSpots: { lens: spot(0.5, 0.01) } })).toEqual([])
    const f = found({ hotSpots: { lens: spot(0.5, 0.1) } })[0]!
    expect([f.rule, f.severity]).toEqual(['lens-hot', 'warning'])
    expect(f.title).toMatch(/^Up to 0\.714 kW\/m² on the lens/)
  })
  test('lens: from the least irradiance that lights acrylic on it is severe (278 °C is held by 5.62 kW/m²; tests, row 4.1: 9)', () => {
    expect(found({ hotSpots: { lens: spot(5, 0.2) } })[0]!.severity).toBe('warning')
    expect(found({ hotSpots: { lens: spot(5, 0.4) } })[0]!.severity).toBe('severe')
  })
  test('wall, face', () => {
    const wall = (value: number) => found({ hotSpots: { wall: spot(value) } }).map((f) => f.severity)
    expect([wall(2), wall(5), wall(40)]).toEqual([[], ['warning'], ['severe']])
    const face = (value: number) => found({ hotSpots: { face: spot(value) } }).map((f) => f.severity)
    expect([face(0.65), face(0.67), face(6.5), face(6.6)]).toEqual([[], ['warning'], ['warning'], ['severe']])
  })
})

describe('in front of the lamp', () => {
  test('skin hurts from 1 kW/m² on, which is a warning; from 5 on, for people, severe', () => {
    expect(found(frontAt(0.9))).toEqual([])
    const mild = found(frontAt(2))[0]!
    expect(mild.severity).toBe('warning')
    expect(mild.title).toMatch(
      /^Up to 2 kW\/m² 300 mm in front of the lamp: bare skin hurts after 45 s\. Keep .* clear\.$/,
    )
    expect(found(frontAt(4, 0.6))[0]!.severity).toBe('severe')
  })
  test('what burns is named with its seconds, and the clear distance covers skin too', () => {
    const f = found(frontAt(20))[0]!
    expect(f.severity).toBe('severe')
    // 80 g/m² of paper, 210 K at 20 kW/m²: 1.13 s (row 4.21).
    expect(f.title).toMatch(/catch fire in 1\.\d+ s, bare skin hurts after \d/)
    const skin = frontAt(20).risks[0]!
    expect(f.cure).toContain(clear(skin.clearDistanceMm))
  })
})

describe('sun', () => {
  test('traced: the worst tilt, severe on a board', () => {
    const sun = [0, 3, 6].map((tiltDeg) => ({
      ...spot(10 * (4 - Math.abs(tiltDeg - 3)), 0.1, { zMm: 0 }),
      tiltDeg,
      lands: 'board' as const,
    }))
    const f = found({ sun })[0]!
    expect([f.rule, f.severity]).toEqual(['sun-inside', 'severe'])
    expect(f.title).toMatch(/3° off its axis: up to 40\.3 kW\/m² on a board/)
  })
  test('not traced yet: geometry speaks, it is never silent', () => {
    const f = found({ sun: [] })[0]!
    expect(f.severity).toBe('severe')
    expect(f.title).toMatch(/not traced yet/)
    // 1100 mm of focal length behind a lens at 1050: a spot of 560·50/1100 + image on the face.
    expect(f.title).toMatch(/on the face/)
    expect(found({ sun: [] }, stileLamp())).toEqual([])
    expect(found({ sun: [] }, lampWith({ reading: { sunWm2: 0 } }))).toEqual([])
    expect(found({ sun: [] }, benchCheck())[0]!.place).toMatchObject({ on: 'inside' })
  })
})

describe('beam', () => {
  const axis = (apart: number) => ({ figure: 'axialIntensityCd', apart })
  test('forward and backward more than 5.5 standard errors apart are severe, and stand first', () => {
    const rules = (...aparts: number[]) => found({ forwardBackward: aparts.map(axis) }).map((f) => f.rule)
    expect(rules(5.6)).toContain('ends-disagree')
    expect(rules(5.4)).not.toContain('ends-disagree')
    expect(rules()).not.toContain('ends-disagree')
    // Of eight, the worst is by chance a little further off.
    const eight = (worst: number) => rules(worst, ...Array.from({ length: 7 }, () => 1))
    expect(eight(6.2)).not.toContain('ends-disagree')
    expect(eight(6.4)).toContain('ends-disagree')
    const all = found({ forwardBackward: [axis(7)], hotSpots: { front: spot(2000) } })
    expect(all.slice(0, 2).map((f) => [f.rule, f.severity])).toEqual([
      ['ends-disagree', 'severe'],
      ['front-hot', 'severe'],
    ])
  })

  test('before the severe findings of the design as well; the other severe come next, the rest keep their order', () => {
    const of = (rule: string, severity: Severity) => ({ ...found({ forwardBackward: [axis(7)] })[0]!, rule, severity })
    const list = [
      ...[of('a', 'note'), of('b', 'severe'), of('c', 'warning')],
      ...[of('ends-disagree', 'severe'), of('d', 'severe')],
    ]
    expect(bySeverity(list).map((f) => f.rule)).toEqual(['ends-disagree', 'b', 'd', 'c', 'a'])
    expect(list[0]!.rule).toBe('a')
  })

  test('the figure that is worst apart is the one named', () => {
    const ends = [
      { figure: 'axialIntensityCd', apart: 1 },
      { figure: 'profileCd', thetaDeg: 0.75, apart: 7 },
      { figure: 'targetCentreLx', apart: 6 },
    ]
    expect(found({ forwardBackward: ends })[0]!.title).toContain('the intensity 0.75° off the axis')
  })

  test('a beam that shows the array is a note once its contrast is sure', () => {
    const rules = (value: number, se: number) =>
      found({ figures: { patternContrast: { value, se } } }).map((f) => f.rule)
    expect(rules(0.32, 0.01)).toContain('beam-shows-array')
    expect(rules(0.32, 0.05)).not.toContain('beam-shows-array')
    expect(rules(0.1, 0.001)).not.toContain('beam-shows-array')
  })

  test('patterned', () => {
    expect(found({ patterned: true })[0]!.rule).toBe('patterned-beam')
  })
  test('a lens that doesn’t help, or makes it worse, against the same lamp without it', () => {
    const without = (value: number) =>
      found({ variants: [{ name: 'without lens', figures: { axialIntensityCd: { value, se: 1e4 } } }] })
    expect(without(2e6)).toEqual([])
    expect(without(4.5e6)[0]!.title).toMatch(/^The lens hardly helps: 5 Mcd .* 4\.5 Mcd without \(× 1\.11\)/)
    expect(without(7e6)[0]!.title).toBe('The lens makes the axis darker: 5 Mcd with it, 7 Mcd without.')
  })
  test('unfinished figures are a note, and hide nothing', () => {
    const all = found({ state: 'rough', hotSpots: { face: spot(20) } })
    expect(all.map((f) => [f.rule, f.severity])).toEqual([
      ['face-hot', 'severe'],
      ['unfinished', 'note'],
    ])
    expect(all[1]!.title).toMatch(/known to ± 0\.426 %/)
    expect(found({ state: 'rough', figures: {} })[0]!.title).toMatch(/isn’t known yet/)
  })
})

test('one place, one temperature: dirt on the lens reads the same in every finding and on the danger sheet', () => {
  const title = (kWm2: number) => found({ hotSpots: { lens: spot(kWm2) } })[0]!.title
  // By hand, ε 0.9 and 5 W/m²K: 225.35 °C at 3.8 kW/m².
  const byHand = (0.9 * 5.670374419e-8 * ((225.35 + 273.15) ** 4 - 293.15 ** 4) + 5 * 205.35) / 1000
  expectWithin(byHand, 3.8, { abs: 0.01, because: 'with pencil' })
  expectWithin(dirtTemperatureC(3.8, 20), 225.35, { abs: 0.5, because: 'with pencil' })
  expect(title(3.8)).toContain(`gets to some ${Math.ceil(dirtTemperatureC(3.8, 20))} °C`)
})

test('words: units, and hazards never rounded down', () => {
  expect([kWm2(1.0001), kWm2(12.34), upThree(999.1), upThree(10)]).toEqual(['1.01 kW/m²', '12.4 kW/m²', '1000', '10'])
  // Parts in mm, as they are drawn; what lies in front in metres from one metre on.
  expect([mm(1234), mm(12.345), ahead(1234), ahead(999.6), ahead(146.2)]).toEqual([
    '1234 mm',
    '12.3 mm',
    '1.23 m',
    '1 m',
    '146 mm',
  ])
  expect([clear(1001), seconds(0.4), seconds(300)]).toEqual(['1.01 m', 'less than a second', '5 min'])
})

test('permanent cautions state what they must', () => {
  const all = CAUTIONS.map((c) => c.text).join(' ')
  for (const words of [
    /Never look into the beam/,
    /Cover the lens/,
    /clear distance/,
    /Fuse every channel/,
    /lithium packs/,
    /Local codes/,
    /estimates for planning/,
    /laboratory/,
  ])
    expect(all).toMatch(words)
  expect(new Set(CAUTIONS.map((c) => c.id)).size).toBe(CAUTIONS.length)
})
