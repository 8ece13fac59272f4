// What the findings say of a lens of one of the newer materials, and of its own.
import { describe, expect, test } from 'vitest'
import { checkDesign, checkSheet } from '../../src/checks/check.ts'
import { checkDanger } from '../../src/checks/danger.ts'
import type { SheetParts } from '../../src/checks/parts.ts'
import { lensKg } from '../../src/hazard/lensMass.ts'
import { BUILT_IN_MATERIALS, type OwnMaterial } from '../../src/lamp/material.ts'
import type { FresnelLens, Lamp, LensMaterial } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { dirtTemperatureC, lostKWm2 } from '../../src/library/heatBalance.ts'
import { cutIndex, lensFocalMm, lensIndex, materialOf } from '../../src/library/lensMaterial.ts'
import { expectWithin } from '../kit/expect.ts'
import { fakeDanger } from '../kit/fakeDanger.ts'

const gannet = gannetHead()
const fresnel = gannet.lens as FresnelLens
const OWN: OwnMaterial = {
  name: 'Workshop resin',
  family: 'plastic',
  index: { by: 'abbe', nd: 1.55, abbe: 40 },
  absorption: { by: 'value', perMm: 0.01 },
  densityKgM3: 1100,
  keepBelowC: null,
  deflectionC: null,
  ignitionC: null,
}
const of = (material: LensMaterial, own: Partial<OwnMaterial> = {}): Lamp => ({
  ...gannet,
  lens: { ...fresnel, material, ownMaterial: { ...OWN, ...own } },
})
const glass = { family: 'glass' } as const

const calm: SheetParts = {
  state: 'settled',
  figures: { axialIntensityCd: { value: 5e6, se: 1e4 } },
  hotSpots: {},
  sun: [],
  risks: [],
  patterned: false,
  variants: [],
}
const lensHot = (lamp: Lamp, kWm2: number) => {
  const lens = { kWm2, se: 0, xMm: 0, yMm: 0, zMm: 1050, discMm: 10 }
  return checkSheet(lamp, { ...calm, hotSpots: { lens } }).filter((f) => f.rule === 'lens-hot')
}
const danger = (rule: string, lamp: Lamp, lens: { cleanC?: number; dirtyC?: number; kWm2?: number } = {}) => {
  const d = fakeDanger(lamp, 20)
  return checkDanger(lamp, { ...d, parts: { ...d.parts, lens: { ...d.parts.lens!, ...lens } } }).find(
    (f) => f.rule === rule,
  )
}

describe('light on the lens', () => {
  test.each(BUILT_IN_MATERIALS)('%s: no rule is silent where dirt gets over its limit', (material) => {
    const { keepBelowC, cracksFromK } = materialOf(of(material).lens as FresnelLens)
    const limitC = keepBelowC ?? (cracksFromK === null ? null : 20 + cracksFromK)
    if (limitC === null) return expect(material).toBe('crown')
    const limit = lostKWm2(limitC, { ambientC: 20 })
    expectWithin(dirtTemperatureC(limit, 20), limitC, { abs: 0.01, because: 'one balance' })
    expect(lensHot(of(material), 0.99 * limit)).toEqual([])
    expect(lensHot(of(material), 1.01 * limit)).toMatchObject([{ severity: 'warning' }])
  })
  test('severe from what lights it: PVC 318 °C, polystyrene 356 °C by heat balance; silicone 15 kW/m² or less', () => {
    for (const [material, atC] of [
      ['pvc', 318],
      ['polystyrene', 356],
      ['silicone', 400],
    ] as const) {
      const lit = materialOf(of(material).lens as FresnelLens).ignites!.criticalKWm2
      expect(lit).toBeLessThanOrEqual(lostKWm2(atC, { ambientC: 20 }))
      expect(lit).toBeGreaterThan(5.62)
      expect(lensHot(of(material), 0.99 * lit)[0]!.severity).toBe('warning')
      expect(lensHot(of(material), 1.01 * lit)[0]!.severity).toBe('severe')
    }
  })
  test('float glass: it can crack', () => {
    expect(lensHot(of('float'), 2)[0]!.title).toMatch(
      /^Up to 2 kW\/m² on the lens.* K hotter than the rest, and the glass can crack\.$/,
    )
    expect(lensHot(of('own', glass), 2)[0]!.title).toMatch(/the glass can crack\.$/)
  })
  test('own plastic of unknown limits: PVC’s 50 °C and thin acrylic’s ignition, which the finding says', () => {
    const limit = lostKWm2(50, { ambientC: 20 })
    expect(lensHot(of('own'), 0.99 * limit)).toEqual([])
    const found = lensHot(of('own'), 1.01 * limit)[0]!
    expect(found.why).toMatch(/Which temperature it bears isn’t in the document: 50 °C is taken/)
    expect(found.why).toMatch(/At which temperature it ignites isn’t in the document; taken as thin acrylic/)
    expect(lensHot(of('own'), 5.7)[0]!.severity).toBe('severe')
  })
  test('own plastic of stated limits', () => {
    const stated = of('own', { keepBelowC: 120, ignitionC: 500 })
    const limit = lostKWm2(120, { ambientC: 20 })
    expect(lensHot(stated, 0.99 * limit)).toEqual([])
    expect(lensHot(stated, 1.01 * limit)[0]!.why).toMatch(/Workshop resin should stay below 120 °C/)
    const lit = lostKWm2(500, { ambientC: 20 })
    expect(lensHot(stated, 0.98 * lit)[0]!.severity).toBe('warning')
    expect(lensHot(stated, 1.01 * lit)[0]!.severity).toBe('severe')
  })
})

describe('what isn’t known of an own material', () => {
  const unknown = (lamp: Lamp) => checkDesign(lamp).find((f) => f.rule === 'lens-material-unknown')
  test('is a note, whatever the light', () => {
    expect(unknown(of('own'))).toMatchObject({
      severity: 'note',
      title:
        'Of “Workshop resin”, which the lens is made of, it isn’t known which temperature it bears for long, at which it sags and at which it ignites.',
    })
    expect(unknown(of('own', { keepBelowC: 80, deflectionC: 90 }))!.title).toMatch(
      /it isn’t known at which it ignites\.$/,
    )
    expect(unknown(of('own', glass))!.title).toMatch(/it isn’t known which temperature it bears\.$/)
  })
  test('and nothing where all is stated, or the material isn’t the lens’s', () => {
    expect(unknown(of('own', { keepBelowC: 80, deflectionC: 90, ignitionC: 400 }))).toBeUndefined()
    expect(unknown(of('own', { ...glass, keepBelowC: 300 }))).toBeUndefined()
    for (const m of BUILT_IN_MATERIALS) expect(unknown(of(m))).toBeUndefined()
  })
})

describe('danger', () => {
  test('plastics burn, each by its name; glasses don’t', () => {
    const title = (m: LensMaterial, own = {}) => danger('lens-drips', of(m, own))?.title
    expect(title('pvc')).toMatch(/^Once alight, the lens burns on and drips: .* kg of PVC, .* MJ\.$/)
    expect(title('polystyrene')).toMatch(/drips: .* kg of polystyrene/)
    expect(title('silicone')).toMatch(/^Once alight, the lens burns on: .* kg of silicone/)
    expect(title('own')).toMatch(/kg of Workshop resin/)
    expect([title('float'), title('crown'), title('own', glass)]).toEqual([undefined, undefined, undefined])
  })
  test('a touch burns at 71 °C for ten seconds on plastic, at 66 °C on glass (ISO 13732-1, memory)', () => {
    const at68 = (m: LensMaterial, own = {}) => danger('lens-hot-to-touch', of(m, own), { cleanC: 68 })!.title
    for (const m of ['pvc', 'polystyrene', 'silicone', 'own'] as const) expect(at68(m)).toMatch(/a touch of a minute/)
    expect(at68('float')).toMatch(/a touch of ten seconds/)
    expect(at68('own', glass)).toMatch(/a touch of ten seconds/)
  })
  test('float glass cracks where it is 40 K hotter than its rim (EN 572-1, memory): severe where clean', () => {
    const at = (cleanC: number, dirtyC: number, m: LensMaterial = 'float') =>
      danger('lens-cracks', of(m, glass), { cleanC, dirtyC })?.severity
    expect([at(59.9, 59.9), at(59.9, 60.1), at(60.1, 90)]).toEqual([undefined, 'warning', 'severe'])
    expect([at(60.1, 90, 'own'), at(60.1, 90, 'pvc'), at(60.1, 90, 'crown')]).toEqual(['severe', undefined, undefined])
  })
  test('mass by its density: rigid PVC 1400, own as stated', () => {
    const kg = (m: LensMaterial) => lensKg(of(m).lens!)
    expectWithin(kg('pvc') / kg('pmma'), 1400 / 1190, { abs: 1e-12, because: 'rounding' })
    expectWithin(kg('own') / kg('pmma'), 1100 / 1190, { abs: 1e-12, because: 'rounding' })
  })
})

describe('facets cut for another material', () => {
  test('its focal length near the axis: f (n′ − 1)/(n − 1); acrylic’s facets in polycarbonate are 16 % shorter', () => {
    const inPolycarbonate: FresnelLens = { ...fresnel, material: 'polycarbonate', cutFor: 'pmma' }
    // n_d 1.492527 and 1.584763 (open data): 1100 · 0.492527/0.584763 = 926.5.
    expectWithin(lensFocalMm(inPolycarbonate), 926.5, {
      abs: 0.2,
      because: 'printed digits; the demo’s lens is cut for 587.6 nm',
    })
    const acrylic: FresnelLens = { ...fresnel, material: 'pmma' }
    expect(cutIndex(inPolycarbonate)).toBe(lensIndex(acrylic, inPolycarbonate.designNm))
    const recut: FresnelLens = { ...inPolycarbonate, cutFor: 'polycarbonate' }
    expect(lensFocalMm(recut)).toBe(1100)
    expect(lensFocalMm({ ...fresnel, material: 'polycarbonate' })).toBe(1100)
  })
  test('a face in the stated focus is then outside of the real one, which the findings say', () => {
    const focus = (lens: FresnelLens) =>
      checkDesign({ ...gannet, lens }).find((f) => /^lens-(at|off)-focus$/.test(f.rule))?.rule
    const at = { ...fresnel, zMm: 1100 }
    expect(focus(at)).toBe('lens-at-focus')
    expect(focus({ ...at, material: 'polycarbonate', cutFor: 'pmma' })).toBe('lens-off-focus')
  })
})
