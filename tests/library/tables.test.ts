import { describe, expect, test } from 'vitest'
import { spectrum as spectrumSchema } from '../../src/lamp/parts.ts'
import { IGNITION, ignitionMaterial, ignitionSeconds } from '../../src/library/ignition.ts'
import { absorptionPerMm, LENS_MATERIALS, refractiveIndex } from '../../src/library/materials.ts'
import { photopic } from '../../src/library/photopic.ts'
import { burnSeconds, painSeconds, SKIN } from '../../src/library/skin.ts'
import { luminousEfficacy, spectrumEfficacy, spectrumPower } from '../../src/library/spectra.ts'
import { FACE_FINISHES, WALL_FINISHES } from '../../src/library/wallFinishes.ts'

const unique = (ids: readonly string[]) => new Set(ids).size === ids.length

describe('the eye curve', () => {
  test('is straight between the 5 nm values and nought outside', () => {
    expect(photopic(557.5)).toBeCloseTo(0.9975, 12)
    expect(photopic(380)).toBe(0.000039)
    expect(photopic(780)).toBe(0.00001499)
    expect([379.9, 780.1, Number.NaN].map(photopic)).toEqual([0, 0, 0])
  })
})

describe('spectra', () => {
  test('a line between grid points keeps its power and its wavelength', () => {
    const power = spectrumPower({ kind: 'mono', wavelengthNm: 451 })
    const sum = power.reduce((a, b) => a + b)
    const mean = power.reduce((a, p, i) => a + p * (380 + 5 * i), 0) / sum
    expect(sum).toBeCloseTo(1, 12)
    expect(mean).toBeCloseTo(451, 9)
    for (const end of [380, 780])
      expect(spectrumPower({ kind: 'mono', wavelengthNm: end }).reduce((a, b) => a + b)).toBe(1)
  })
  test('a line’s efficacy is exact, not that of its two grid points', () => {
    expect(spectrumEfficacy({ kind: 'mono', wavelengthNm: 555 })).toBe(683.002)
    // Near the end of the grid a shared line would be weighed wrongly.
    expect(spectrumEfficacy({ kind: 'mono', wavelengthNm: 382 })).toBeCloseTo(683.002 * photopic(382), 12)
    expect(spectrumEfficacy({ kind: 'mono', wavelengthNm: 462 })).toBeCloseTo(683.002 * photopic(462), 12)
  })
  test('a table is taken as it stands, and copied', () => {
    const power = Array.from({ length: 81 }, (_, i) => (i === 35 ? 2 : 0))
    const out = spectrumPower(spectrumSchema.parse({ kind: 'table', power }))
    expect([...out]).toEqual(power)
    expect(luminousEfficacy(out)).toBeCloseTo(683.002, 9)
  })
  test('no power, no lumens: 0, not NaN', () => expect(luminousEfficacy(new Float64Array(81))).toBe(0))
})

describe('lens materials', () => {
  test.each(['pmma', 'polycarbonate', 'crown'] as const)('%s: the index falls over the whole eye range', (m) => {
    for (let nm = 380; nm < 780; nm += 5) expect(refractiveIndex(m, nm)).toBeGreaterThan(refractiveIndex(m, nm + 5))
    expect(absorptionPerMm(m)).toBeGreaterThan(0)
    expect(LENS_MATERIALS[m].absorptionHighPerMm).toBeGreaterThanOrEqual(absorptionPerMm(m))
  })
})

describe('finishes', () => {
  test('have their own ids, shares within 0 and 1, scatter within the document’s limits, and a note', () => {
    expect(unique(WALL_FINISHES.map((f) => f.id))).toBe(true)
    expect(unique(FACE_FINISHES.map((f) => f.id))).toBe(true)
    for (const f of WALL_FINISHES) {
      for (const share of [f.reflectance, f.specularShare]) expect(share >= 0 && share <= 1).toBe(true)
      expect(f.scatterDeg >= 0 && f.scatterDeg <= 30).toBe(true)
      expect(f.note).not.toBe('')
    }
  })
})

describe('ignition', () => {
  test('every row has its own id, a source, and figures above zero', () => {
    expect(unique(IGNITION.map((m) => m.id))).toBe(true)
    for (const m of IGNITION) {
      expect(m.source.length).toBeGreaterThan(10)
      expect(Math.min(m.ignitionC, m.criticalKWm2, m.inertia, m.arealHeatKJm2K ?? 1)).toBeGreaterThan(0)
      expect(m.criticalKWm2).toBeLessThanOrEqual(m.publishedKWm2)
    }
  })
  test('never below the critical flux, sooner the stronger, sooner when warm, at once when hot', () => {
    for (const m of IGNITION) {
      expect(ignitionSeconds(m, m.criticalKWm2 * 0.999)).toBeNull()
      expect(ignitionSeconds(m, Number.NaN)).toBeNull()
      const at = ignitionSeconds(m, m.criticalKWm2)!
      expect(at).toBeGreaterThan(0)
      expect(ignitionSeconds(m, m.criticalKWm2 * 2)!).toBeLessThan(at)
      expect(ignitionSeconds(m, m.criticalKWm2, 80)!).toBeLessThan(at)
      expect(ignitionSeconds(m, m.criticalKWm2, 700)).toBe(0)
    }
  })
  test('an unknown material is an error', () =>
    expect(() => ignitionMaterial('ice')).toThrow('no ignition material "ice"'))
})

describe('skin', () => {
  test('times fall with every step of flux, past the table’s end too, and pain never comes after the burn', () => {
    let [pain, burn] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]
    for (let q = 1; q < 3000; q *= 1.02) {
      expect(painSeconds(q)!).toBeLessThan(pain)
      expect(burnSeconds(q)!).toBeLessThan(burn)
      pain = painSeconds(q)!
      burn = burnSeconds(q)!
      expect(pain).toBeLessThanOrEqual(burn)
    }
  })
  test('past the table’s end they fall at least as steeply as at its end', () => {
    const slope = (f: (q: number) => number | null, a: number, b: number) => Math.log(f(b)! / f(a)!) / Math.log(b / a)
    expect(slope(painSeconds, 20, 40)).toBeLessThanOrEqual(slope(painSeconds, 12.6, 16.8))
    expect(slope(painSeconds, 20, 40)).toBeCloseTo(-1.46, 9)
    expect(slope(burnSeconds, 12, 24)).toBeLessThanOrEqual(slope(burnSeconds, 10, 12) + 1e-9)
  })
  test('only under 1 kW/m² is there no answer', () => {
    expect([0, 0.99, -1, Number.NaN].map(painSeconds)).toEqual([null, null, null, null])
    expect([0, 0.99, -1, Number.NaN].map(burnSeconds)).toEqual([null, null, null, null])
    expect(painSeconds(1)).toBeCloseTo(SKIN.painSeconds[0], 9)
  })
})
