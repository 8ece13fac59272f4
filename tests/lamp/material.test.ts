import { describe, expect, test } from 'vitest'
import {
  absorptionOf,
  BUILT_IN_MATERIALS,
  LEAST_INDEX,
  type OwnMaterial,
  ownAbsorption,
  ownIndex,
} from '../../src/lamp/material.ts'
import { readLamp, readLampText, writeLampText } from '../../src/lamp/read.ts'
import type { FresnelLens, Lens } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { LENS_MATERIALS, refractiveIndex } from '../../src/library/materials.ts'
import { expectWithin } from '../kit/expect.ts'

const OWN: OwnMaterial = {
  name: 'Mine',
  family: 'plastic',
  index: { by: 'abbe', nd: 1.5, abbe: 50 },
  absorption: { by: 'value', perMm: 0.01 },
  densityKgM3: 1200,
  keepBelowC: 80,
  deflectionC: 100,
  ignitionC: 400,
}
const gannet = gannetHead()
const fresnel = gannet.lens as FresnelLens
const why = (lens: object): string[] => {
  const read = readLamp({ ...gannet, lens: { ...fresnel, ...lens } as Lens })
  return read.ok ? [] : read.why
}
const withIndex = (index: unknown) => why({ material: 'own', ownMaterial: { ...OWN, index } })
const withAbsorption = (absorption: unknown) => why({ material: 'own', ownMaterial: { ...OWN, absorption } })

describe('an own material is read', () => {
  test('each way of giving it, and written as it was', () => {
    for (const index of [
      OWN.index,
      { by: 'cauchy', a: 1.49, bUm2: 0.004, cUm4: 0 },
      { by: 'sellmeier', terms: [{ b: 1.2, cUm2: 0.01 }] },
      { by: 'table', rows: [{ wavelengthNm: 500, index: 1.5 }] },
    ])
      expect(withIndex(index)).toEqual([])
    for (const absorption of [
      { by: 'table', rows: [{ wavelengthNm: 500, perMm: 0.01 }] },
      { by: 'transmittance', thicknessMm: 10, rows: [{ wavelengthNm: 500, share: 0.98 }] },
    ])
      expect(withAbsorption(absorption)).toEqual([])
    const lamp = {
      ...gannet,
      lens: { ...fresnel, material: 'own' as const, ownMaterial: OWN, cutFor: 'pmma' as const },
    }
    expect(readLampText(writeLampText(lamp))).toEqual({ ok: true, lamp })
  })
  test('it may stand there unused', () => expect(why({ ownMaterial: OWN })).toEqual([]))
  test('no number where it isn’t known', () => {
    expect(
      why({ material: 'own', ownMaterial: { ...OWN, keepBelowC: null, deflectionC: null, ignitionC: null } }),
    ).toEqual([])
  })
})

describe('what is wrong is said with its place', () => {
  test('no own material', () => {
    expect(why({ material: 'own' })).toEqual([
      'lens.ownMaterial: nothing stands here; expected the material that lens.material names.',
    ])
    expect(why({ cutFor: 'own' })).toEqual([
      'lens.ownMaterial: nothing stands here; expected the material that lens.cutFor names.',
    ])
  })
  test('numbers out of bounds', () => {
    expect(withIndex({ by: 'abbe', nd: 1.2, abbe: 50 })).toEqual([
      'lens.ownMaterial.index.nd: 1.2 does not fit; expected at least 1.3.',
    ])
    expect(withAbsorption({ by: 'transmittance', thicknessMm: 10, rows: [{ wavelengthNm: 500, share: 1.1 }] })).toEqual(
      ['lens.ownMaterial.absorption.rows[0].share: 1.1 does not fit; expected at most 1.'],
    )
  })
  test('columns that don’t rise', () => {
    const rows = [500, 500].map((wavelengthNm) => ({ wavelengthNm, index: 1.5, perMm: 0.1, share: 0.5 }))
    const only = (key: string) => rows.map((r) => ({ wavelengthNm: r.wavelengthNm, [key]: r[key as 'index'] }))
    const fault = (part: string) => [
      `lens.ownMaterial.${part}.rows[1].wavelengthNm: 500 does not fit; the column must rise.`,
    ]
    expect(withIndex({ by: 'table', rows: only('index') })).toEqual(fault('index'))
    expect(withAbsorption({ by: 'table', rows: only('perMm') })).toEqual(fault('absorption'))
    expect(withAbsorption({ by: 'transmittance', thicknessMm: 1, rows: only('share') })).toEqual(fault('absorption'))
  })
  test('an index that light can’t be traced with, anywhere from 380 to 780 nm', () => {
    // 1.3 + 0.2/0.1444 = 2.685 at 380 nm; 1.3 at 780 nm would be 1.6.
    expect(withIndex({ by: 'cauchy', a: 1.3, bUm2: 0.2, cUm4: 0 })).toEqual([
      'lens.ownMaterial.index: gives 2.685 at 380 nm; expected 1.3 to 2.2 from 380 to 780 nm.',
    ])
    // Too low only at the red end: 1.25 + 0.0302/0.6084 = 1.2996.
    expect(withIndex({ by: 'cauchy', a: 1.25, bUm2: 0.0302, cUm4: 0 })[0]).toMatch(/gives 1\.2996 at 780 nm; expected/)
    expect(withIndex({ by: 'cauchy', a: 1.25, bUm2: 0.0305, cUm4: 0 })).toEqual([])
    expect(withIndex({ by: 'sellmeier', terms: [{ b: -3, cUm2: 0 }] })[0]).toMatch(/gives no number at/)
  })
  test('a pole of Sellmeier’s formula among the light', () => {
    expect(
      withIndex({
        by: 'sellmeier',
        terms: [
          { b: 1.2, cUm2: 0.01 },
          { b: 1e-6, cUm2: 0.3 },
        ],
      }),
    ).toEqual([
      'lens.ownMaterial.index.terms[1].cUm2: 0.3 does not fit; it is the square of a wavelength in µm, expected at most 0.09 or at least 0.81, out of the light.',
    ])
  })
})

describe('facets that no cut can make', () => {
  // √(n² − sin²θ) − 1 falls to sinθ·cot 85° at sinθ = 0.893 for n = 1.40: r/f = 1.98.
  const silicone = { material: 'silicone', diameterMm: 200, grooves: 'target', aperture: 'round', pitchMm: 1 }
  test('silicone: at 200 mm no shorter than 51 mm', () => {
    expect(why({ ...silicone, focalMm: 51 })).toEqual([])
    expect(why({ ...silicone, focalMm: 50 })).toEqual([
      'lens.focalMm: 50 does not fit; no facet of an index of 1.4 bends light that far at the edge: expected at least 51.',
    ])
  })
  test('to its corners, where it is square: √2 times as long', () => {
    expect(why({ ...silicone, aperture: 'square', focalMm: 72 })).toEqual([])
    expect(why({ ...silicone, aperture: 'square', focalMm: 71 })[0]).toMatch(/at least 72\.$/)
  })
  test('grooves to the source, and facets cut for another material, are free of it', () => {
    expect(why({ ...silicone, grooves: 'source', focalMm: 50 })).toEqual([])
    expect(why({ ...silicone, cutFor: 'pmma', focalMm: 50 })).toEqual([])
    expect(why({ ...silicone, material: 'pmma', cutFor: 'silicone', focalMm: 50 })).toHaveLength(1)
  })
  test('the materials of older documents are never refused, square and as short as may be', () => {
    for (const material of ['pmma', 'polycarbonate', 'crown'])
      expect(why({ ...silicone, material, aperture: 'square', focalMm: 10 })).toEqual([])
  })
  test('its least indices are those of the formulas, rounded down', () => {
    for (const m of BUILT_IN_MATERIALS) {
      let least = Number.POSITIVE_INFINITY
      for (let nm = 380; nm <= 780; nm += 5) least = Math.min(least, refractiveIndex(m, nm))
      expect(LEAST_INDEX[m]).toBeLessThanOrEqual(least)
      expect(LEAST_INDEX[m]).toBeGreaterThan(least - 0.011)
      expect(LENS_MATERIALS[m].label).not.toBe('')
    }
  })
})

describe('absorption', () => {
  test('τ = exp(−a t): 0.9 over 10 mm is 0.0105361 per mm; what passes 20 mm is 0.81', () => {
    const a = absorptionOf(0.9, 10)
    expectWithin(a, 0.0105361, { abs: 1e-7, because: 'printed digits of −ln 0.9 / 10' })
    expectWithin(Math.exp(-a * 20), 0.81, { abs: 1e-12, because: 'rounding' })
    expect(Object.is(absorptionOf(1, 10), 0)).toBe(true)
  })
  test('over the wavelength by straight lines, the ends beyond', () => {
    const rows = [
      { wavelengthNm: 400, perMm: 0.04 },
      { wavelengthNm: 500, perMm: 0.02 },
    ]
    const at = ownAbsorption({ ...OWN, absorption: { by: 'table', rows } })
    expect([380, 400, 500, 780].map(at)).toEqual([0.04, 0.04, 0.02, 0.02])
    expectWithin(at(475), 0.025, { abs: 1e-12, because: 'rounding' })
  })
  test('transmittance: absorption is interpolated, not the share', () => {
    const rows = [
      { wavelengthNm: 400, share: 0.25 },
      { wavelengthNm: 500, share: 1 },
    ]
    const at = ownAbsorption({ ...OWN, absorption: { by: 'transmittance', thicknessMm: 2, rows } })
    // Half way a is half of ln 4 / 2, so 2 mm pass 0.5.
    expectWithin(Math.exp(-2 * at(450)), 0.5, { abs: 1e-12, because: 'rounding' })
  })
})

test('a table of an index: through its values, no lower or higher between them, the ends beyond', () => {
  const rows = [380, 480, 580, 780].map((wavelengthNm, i) => ({ wavelengthNm, index: [1.53, 1.51, 1.5, 1.495][i]! }))
  const at = ownIndex({ ...OWN, index: { by: 'table', rows } })
  for (const r of rows) expect(at(r.wavelengthNm)).toBe(r.index)
  for (let nm = 380; nm < 780; nm += 5) expect(at(nm)).toBeGreaterThan(at(nm + 5))
  expect([at(300), at(900)]).toEqual([1.53, 1.495])
})
