// What the lamp's own light does to its parts, against pencil and paper.
import { describe, expect, test } from 'vitest'
import { absorbedBySheet, lensOverFaceC, steadyTemperatureC } from '../../src/hazard/balance.ts'
import { type FaceTemperature, readParts } from '../../src/hazard/onParts.ts'
import { faceWarmth } from '../../src/job/danger/faceTemperature.ts'
import type { OwnMaterial } from '../../src/lamp/material.ts'
import type { Lamp, Lens, Spectrum } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { LENS_MATERIALS, refractiveIndex } from '../../src/library/materials.ts'
import { expectWithin } from '../kit/expect.ts'
import { oneEmitter, traceHere, tube } from '../kit/traceHere.ts'

/** 43.92 W of 555 nm, Lambertian: 13.98 W/sr on the axis. */
const LUMENS = 30_000
const WATTS = LUMENS / 683.002
const read = (lamp: Lamp, warm: FaceTemperature | null = null, rays = 400_000) =>
  readParts(traceHere(lamp, { rays }), lamp, Float64Array.of(WATTS), warm)

test('the middle of an acrylic lens 100 mm before the emitter: I/d², its bulk, its balance', () => {
  const lens = {
    ...{ kind: 'solid', zMm: 100, radiusMm: 400, conic: 0, diameterMm: 60, thicknessMm: 6, material: 'pmma' },
    curved: 'target',
  }
  const lamp = oneEmitter({ fluxLm: LUMENS, lens: lens as Lamp['lens'] & object })
  const { lens: got, wall, absent } = read(lamp)
  const byHand = WATTS / Math.PI / 0.1 ** 2 / 1000
  expectWithin(byHand, 1.398, { abs: 0.001, because: 'with pencil' })
  expect(got!.kWm2).toBeGreaterThan(0.98 * byHand)
  expectWithin(got!.kWm2, byHand, { rel: 0.2, because: 'upper end of a thousand rays, hottest of many discs' })
  const share = absorbedBySheet(LENS_MATERIALS.pmma.absorptionHighPerMm, 6, refractiveIndex('pmma', 550))
  expect(got!.absorbedShare).toBe(share)
  const { faceC } = got!
  const near = { faceC, gapMm: 100, faceRadiusMm: lamp.face.sizeMm / Math.SQRT2 }
  expect(got!.cleanC).toBe(lensOverFaceC({ takenKWm2: share * got!.kWm2, ambientC: 20, ...near }))
  expectWithin(got!.dirtyC, steadyTemperatureC({ takenKWm2: got!.kWm2, ambientC: 20 }), {
    abs: 1e-6,
    because: 'all of it',
  })
  expect(wall).toBeNull()
  expect(absent.wall).toBe('The lamp has no tunnel.')
})

test('a lens whose absorption goes over the wavelength takes what the emitter gives there', () => {
  // 0.2 per mm from 560 nm on, nothing below 550: a line of 500 nm passes, one of 600 nm loses 1 − exp(−0.2 · 6/√(1 − 1/n²)).
  const rows = [
    { wavelengthNm: 550, perMm: 0 },
    { wavelengthNm: 560, perMm: 0.2 },
  ]
  const ownMaterial: OwnMaterial = {
    ...{ name: 'Red filter', family: 'plastic', index: { by: 'cauchy', a: 1.5, bUm2: 0, cUm4: 0 } },
    ...{ absorption: { by: 'table', rows }, densityKgM3: 1200, keepBelowC: null, deflectionC: null, ignitionC: null },
  }
  const lens = { ...{ kind: 'solid', zMm: 100, radiusMm: 400, conic: 0, diameterMm: 60, thicknessMm: 6 }, ownMaterial }
  const shareOf = (spectrum: Spectrum) => {
    const lamp = oneEmitter({ spectrum, lens: { ...lens, curved: 'target', material: 'own' } as Lens })
    return read(lamp, null, 2000).lens!
  }
  const full = absorbedBySheet(0.2, 6, 1.5)
  expectWithin(full, 1 - Math.exp(-1.2 / Math.sqrt(5 / 9)), { abs: 1e-12, because: 'rounding' })
  expect(shareOf({ kind: 'mono', wavelengthNm: 500 }).absorbedShare).toBe(0)
  expect(shareOf({ kind: 'mono', wavelengthNm: 600 }).absorbedShare).toBe(full)
  // Half of the 81 steps' light at 500 nm, half at 600.
  const power = Array.from({ length: 81 }, (_, i) => (i === 24 || i === 44 ? 1 : 0))
  expectWithin(shareOf({ kind: 'table', power }).absorbedShare, full / 2, { abs: 1e-12, because: 'rounding' })
  const { keepBelowC, deflectionC, source } = shareOf({ kind: 'mono', wavelengthNm: 600 })
  expect([keepBelowC, deflectionC]).toEqual([50, 50])
  expect(source).toMatch(/isn’t in the document: 50 °C is taken/)
})

test('a black tube of 100 mm about a Lambertian point: most at z = R/√3, I·0.3248/R²', () => {
  const { wall } = read(oneEmitter({ fluxLm: LUMENS, faceSizeMm: 190, tunnel: tube(100, 300) }))
  const byHand = ((WATTS / Math.PI) * 0.32476) / 0.1 ** 2 / 1000
  expectWithin(byHand, 0.454, { abs: 0.001, because: 'z R/s⁴ at its greatest' })
  expect(wall!.kWm2).toBeGreaterThan(0.98 * byHand)
  expectWithin(wall!.kWm2, byHand, { rel: 0.25, because: 'upper end of some hundred rays, hottest of many discs' })
  expect(wall!.absorbedShare).toBe(1)
  expect(wall!.cleanC).toBe(wall!.dirtyC)
  for (const l of wall!.limits) expect(l.passed).toBe(wall!.cleanC > l.limitC)
})

describe('the face under the light that comes back', () => {
  const white = tube(40, 60, { reflectance: 0.9, specularShare: 0 })
  const lamp = oneEmitter({ fluxLm: LUMENS, faceSizeMm: 70, tunnel: white })
  const boards = (of: Lamp, warm: FaceTemperature | null) => read(of, warm, 60_000).boards!
  test('dark plastic settles over the face’s own temperature, whatever its origin', () => {
    for (const faceC of [40, 120]) {
      const got = boards(lamp, { faceC, from: 'stated' })
      expect(got).toMatchObject({ faceC, faceFrom: 'stated' })
      expectWithin(got.plasticC, steadyTemperatureC({ takenKWm2: got.kWm2, ambientC: faceC }), {
        abs: 1e-6,
        because: 'balance',
      })
      expect(got.plasticC).toBeGreaterThan(faceC)
    }
  })
  test('with no heat model the rated junction; a stated temperature or the model’s, the hotter of them', () => {
    expect(boards(lamp, null)).toMatchObject({ faceC: 85, faceFrom: expect.stringMatching(/^no heat model/) })
    const stated = { ...lamp, heat: { kind: 'board' as const, boardC: 60 } }
    expect(boards(stated, null)).toMatchObject({ faceC: 60, faceFrom: 'stated in the document' })
    expect(boards(stated, { faceC: 50, from: 'model' })).toMatchObject({ faceC: 60 })
    expect(boards(stated, { faceC: 70, from: 'model' })).toMatchObject({ faceC: 70, faceFrom: 'model' })
  })
})

test('a collimator that took in all it does not pass: watts over twice its exit, over the face’s temperature', () => {
  const optic = { kind: 'collimator', id: 'c', name: 'C', exitDiameterMm: 20, heightMm: 10, efficiency: 0.9 } as const
  const lamp = oneEmitter({ fluxLm: LUMENS, optic: { ...optic, fwhmDeg: 20, shape: 'gaussian' } })
  const [got] = read(lamp, { faceC: 50, from: 'stated' }, 16_000).optics
  expectWithin(got!.takenW, 0.1 * WATTS, { abs: 1e-9, because: 'a tenth' })
  const kWm2 = (0.1 * WATTS) / (2 * Math.PI * 0.01 ** 2) / 1000
  expectWithin(got!.settlesC, steadyTemperatureC({ takenKWm2: kWm2, ambientC: 50 }), { abs: 1e-6, because: 'balance' })
  expect(got!.limit.passed).toBe(true)
})

test('the heat model’s plate: of the worst mode, named; none where the document says nothing of cooling or supply', () => {
  const lamp = gannetHead()
  const run = traceHere(lamp, { rays: 16_384 })
  const warm = faceWarmth(lamp, run)!
  expect(warm.from).toMatch(/^heat model: the plate in “Turbo” left on past its limit, after \d+ min$/)
  // Nothing in the lamp switches it off at 140 °C: steady plate by the sink's own law at what the boards give, 233 °C; the pack lasts long enough.
  expect(warm.faceC).toBeGreaterThan(215)
  expect(warm.faceC).toBeLessThan(250)
  const { cooling: _, power: __, ...bare } = lamp
  expect(faceWarmth(bare, run)).toBeNull()
})
