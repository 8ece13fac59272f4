import { describe, expect, test } from 'vitest'
import { lensKg } from '../../src/hazard/lensMass.ts'
import type { Lens } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { expectWithin } from '../kit/expect.ts'

const fresnel = gannetHead().lens as Extract<Lens, { kind: 'fresnel' }>
const solid = (diameterMm: number, radiusMm: number, thicknessMm: number): Lens => ({
  ...{ kind: 'solid', zMm: 100, diameterMm, radiusMm, conic: 0, thicknessMm, curved: 'target', material: 'crown' },
})

describe('mass of a lens', () => {
  test('a Fresnel lens is a plate, and triangles of 45° on it: area · (thickness + half a pitch) · density', () => {
    const plate = {
      ...fresnel,
      diameterMm: 200,
      thicknessMm: 3,
      pitchMm: 0.5,
      aperture: 'round' as const,
      material: 'pmma' as const,
    }
    expectWithin(lensKg(plate), Math.PI * 0.1 ** 2 * 0.00325 * 1190, { rel: 1e-9, because: 'with pencil' })
    expectWithin(lensKg({ ...plate, aperture: 'square' }), 0.2 ** 2 * 0.00325 * 1190, { rel: 1e-9, because: 'pencil' })
  })
  test('half a ball of glass: 2/3 π r³ · 2510 kg/m³', () => {
    expectWithin(lensKg(solid(100, 50, 50)), (2 / 3) * Math.PI * 0.05 ** 3 * 2510, { rel: 1e-9, because: 'pencil' })
  })
  test('a flat curve cuts nothing away, a stronger one more', () => {
    expectWithin(lensKg(solid(100, 1e6, 10)), Math.PI * 0.05 ** 2 * 0.01 * 2510, { rel: 1e-3, because: 'nearly flat' })
    // R 100, a 50: sag 13.397 mm; cut π (a² s − s² (3R − s)/3) = 53,872 mm³ of 157,080 mm³ at 20 mm.
    const cut = Math.PI * (2500 * 13.397 - (13.397 ** 2 * (300 - 13.397)) / 3)
    expectWithin(lensKg(solid(100, 100, 20)), (157_080 - cut) * 2.51e-6, { rel: 1e-4, because: 'with pencil' })
  })
  test('wider than its own ball: the half ball is cut out of the plate', () => {
    // π 60² · 50 less π (50² · 50 − 50² · 100/3) mm³ = 565,487 − 130,900.
    expectWithin(lensKg(solid(120, 50, 50)), 434_587 * 2.51e-6, { rel: 1e-5, because: 'with pencil' })
  })
  test('an ideal lens has none; one thinner than its own curve weighs nothing rather than less', () => {
    expect(lensKg({ kind: 'ideal', zMm: 10, focalMm: 100, diameterMm: 50 })).toBe(0)
    expect(lensKg(solid(100, 50, 1))).toBe(0)
  })
})
