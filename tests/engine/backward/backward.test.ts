// Backward estimates against values that can be had by hand.
// A surface of luminance L gives I = ∫ L cosθ dA, and at a point under a disc seen at half angle a, E = π L sin²a (J. H. Lambert, Photometria
// (1760); P. Moon, The Scientific Basis of Illuminating Engineering (1936), ch. on surface sources; chapters from memory).
import { describe, expect, test } from 'vitest'
import {
  backwardEstimate,
  backwardIlluminance,
  backwardIntensity,
  backwardProfile,
  combine,
  TRUSTED,
} from '../../../src/engine/backward/estimate.ts'
import { makeBackwardKernel, SUMS } from '../../../src/engine/backward/estimator.ts'
import { backwardUnsupported, findSources } from '../../../src/engine/backward/sources.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { benchCheck, gannetHead, iceRink, stileLamp } from '../../../src/library/demos.ts'
import { spectrumEfficacy } from '../../../src/library/spectra.ts'
import * as P from '../../../src/optics/params.ts'
import { compileSun } from '../../../src/scene/compile.ts'
import { amount } from '../../kit/amount.ts'
import { expectWithin } from '../../kit/expect.ts'
import { axialCd, oneEmitter, sceneOf, traceHere, tube } from '../../kit/traceHere.ts'

const RAD = Math.PI / 180
const axial = { thetaRad: 0, phiRad: 0, coneHalfRad: 0.25 * RAD, seed: 1 }
/** Sixteen batches; single precision of scenes, and 5e-6 for the cosine over a cone of 0.25°. */
const within = (value: number, se: number) => ({
  abs: 4 * se + 1e-5 * value,
  because: 'four standard errors, and 1e-5',
})

describe('intensity', () => {
  test('a bare Lambertian disc: Φ cosθ/π, whatever the azimuth', () => {
    const scene = sceneOf(oneEmitter({ source: { shape: 'disc', diameterMm: 3 }, fluxLm: 1000 }))
    for (const deg of [0, 30, 60, 80]) {
      const at = backwardIntensity(scene, { ...axial, thetaRad: deg * RAD, phiRad: deg, rays: 4096 })
      expectWithin(at.cd, (1000 / Math.PI) * Math.cos(deg * RAD), {
        rel: 2e-5,
        because: 'the cone of 0.25° is wide enough to lower cosθ by (1 − cos 0.25°)/2 = 5e-6',
      })
    }
  })

  test('a thin ideal lens at its focus: L π f² sin²u (the model’s page on lenses)', () => {
    const L = 5000 / (Math.PI * Math.PI * 10 ** 2)
    for (const diameterMm of [50, 200, 600]) {
      const lamp = oneEmitter({
        source: { shape: 'disc', diameterMm: 20 },
        fluxLm: 5000,
        lens: { kind: 'ideal', zMm: 150, focalMm: 150, diameterMm },
      })
      const { cd, se } = backwardIntensity(sceneOf(lamp), { ...axial, rays: 65_536 })
      const sin2 = (diameterMm / 2) ** 2 / ((diameterMm / 2) ** 2 + 150 ** 2)
      expectWithin(cd, L * Math.PI * 150 ** 2 * sin2, within(cd, se))
    }
  })

  test('Bench check: 2.0000e6 cd', () => {
    const { cd, se } = backwardIntensity(sceneOf(benchCheck()), { ...axial, rays: 65_536 })
    expect(se / cd).toBeLessThan(1e-4)
    expectWithin(cd, 2e6, { rel: 1e-4, because: 'four standard errors at most' })
  })

  test('a filled aperture before a slab: L A T, T = 2n/(n² + 1) with all inner reflections', () => {
    // Born & Wolf, Principles of Optics, 7th ed., 1.5.3: R = ((n − 1)/(n + 1))²; the sum over reflections is (1 − R)/(1 + R).
    for (const aperture of ['round', 'square'] as const) {
      const lamp = oneEmitter({
        source: { shape: 'disc', diameterMm: 160 },
        fluxLm: 1e5,
        faceSizeMm: 400,
        // Pitch above the half diameter: no groove is whole, a flat slab is left.
        lens: {
          ...{ kind: 'fresnel', zMm: 50, focalMm: 100, diameterMm: 80, aperture, thicknessMm: 4, pitchMm: 100 },
          ...{ grooves: 'target', draftDeg: 0, tipShare: 0, material: 'pmma', designNm: 555 },
        },
      } as Parameters<typeof oneEmitter>[0])
      const scene = sceneOf(lamp)
      scene.params[P.lensAbsorption] = 0
      const n = scene.lensIndex[35]! // 555 nm
      const area = aperture === 'square' ? 80 * 80 : Math.PI * 40 * 40
      const luminance = 1e5 / (Math.PI * Math.PI * 80 ** 2)
      const { cd, se } = backwardIntensity(scene, { ...axial, rays: 65_536 })
      expect(se / cd).toBeLessThan(2e-3)
      expectWithin(cd, (luminance * area * 2 * n) / (n * n + 1), within(cd, se))
    }
  })

  test('a perfect mirror tube keeps the luminance of a filled inlet: L A cosθ at any angle', () => {
    for (const sides of [0, 6]) {
      const lamp = oneEmitter({
        source: { shape: 'disc', diameterMm: 60 },
        fluxLm: 1000,
        tunnel: tube(20, 150, { reflectance: 1, sides }),
      })
      const luminance = 1000 / (Math.PI * Math.PI * 30 ** 2)
      const area = sides === 0 ? Math.PI * 400 : sides * 400 * Math.tan(Math.PI / sides)
      for (const deg of [0, 15, 50]) {
        const at = backwardIntensity(sceneOf(lamp), { ...axial, thetaRad: deg * RAD, phiRad: 0.3, rays: 16_384 })
        expectWithin(at.cd, luminance * area * Math.cos(deg * RAD), {
          rel: 3e-5,
          because: 'every ray meets the source',
        })
      }
    }
  })

  test('black tubes of every section: what is seen of the source straight ahead', () => {
    for (const sides of [0, 3, 4, 6, 12]) {
      const lamp = oneEmitter({
        source: { shape: 'disc', diameterMm: 200 },
        fluxLm: 1000,
        faceSizeMm: 300,
        tunnel: tube(20, 100, { sides }),
      })
      const area = sides === 0 ? Math.PI * 400 : sides * 400 * Math.tan(Math.PI / sides)
      const { cd, se } = backwardIntensity(sceneOf(lamp), { ...axial, coneHalfRad: 1e-4, rays: 65_536 })
      expectWithin(cd, (1000 / (Math.PI * Math.PI * 100 ** 2)) * area, {
        abs: 4 * se + 1e-3 * cd,
        because: 'the wall shades 1e-4 rad × 100 mm of 20 mm at most',
      })
    }
  })
})

describe('illuminance', () => {
  test('a Lambertian disc: E = π L R²/(R² + d²), in lux', () => {
    const scene = sceneOf(oneEmitter({ source: { shape: 'disc', diameterMm: 40 }, fluxLm: 1000 }))
    const luminance = 1000 / (Math.PI * Math.PI * 20 ** 2)
    for (const z of [30, 300, 3000]) {
      const { lx, se } = backwardIlluminance(scene, { xMm: 0, yMm: 0, zMm: z }, 0.01, { seed: 1, rays: 32_768 })
      expectWithin(lx, (1e6 * Math.PI * luminance * 400) / (400 + z * z), within(lx, se))
    }
  })

  test('the same through the narrow end of a black horn, and through a slab of no index', () => {
    const luminance = 1000 / (Math.PI * Math.PI * 100 ** 2)
    const source = { shape: 'disc' as const, diameterMm: 200 }
    const horn = oneEmitter({ source, fluxLm: 1000, faceSizeMm: 300, tunnel: tube(100, 100, { outMm: 20 }) })
    const window = oneEmitter({
      ...{ source, fluxLm: 1000, faceSizeMm: 300 },
      lens: {
        kind: 'solid',
        zMm: 101,
        diameterMm: 20,
        radiusMm: 40,
        conic: 0,
        thicknessMm: 3,
        curved: 'target',
        material: 'pmma',
      },
    })
    const air = sceneOf(window)
    air.lensIndex.fill(1)
    air.params[P.lensAbsorption] = 0
    const flatSide = air.params[P.lensFront]! // the narrower way, seen from the point
    for (const [scene, z] of [
      [sceneOf(horn), 100],
      [air, flatSide],
    ] as const) {
      const d = 400
      const { lx, se } = backwardIlluminance(scene, { xMm: 0, yMm: 0, zMm: z + d }, 0.01, { seed: 2, rays: 65_536 })
      expectWithin(lx, (1e6 * Math.PI * luminance * 100) / (100 + d * d), within(lx, se))
    }
  })

  test('far away it is I/d²', () => {
    const scene = sceneOf(iceRink())
    const d = 1e6
    const rays = amount(65_536, 1 << 19)
    const { lx, se } = backwardIlluminance(scene, { xMm: 0, yMm: 0, zMm: d }, 2 * d * Math.tan(0.25 * RAD), {
      seed: 1,
      rays,
    })
    const at = backwardIntensity(scene, { ...axial, seed: 2, rays })
    expectWithin(lx, at.cd / (d / 1000) ** 2, { sigmas: 4, se: Math.hypot(se, at.se / (d / 1000) ** 2) })
  })
})

/** Two boards: one emitter each, of different spectra and fluxes. */
function twoColours(): Lamp {
  const lamp = oneEmitter({ fluxLm: 300, spectrum: { kind: 'white', classK: 5000 } })
  const blue = {
    ...lamp.emitterTypes[0]!,
    id: 'blue',
    fluxLm: 20,
    spectrum: { kind: 'mono' as const, wavelengthNm: 470 },
  }
  const warm = {
    ...lamp.emitterTypes[0]!,
    id: 'warm',
    fluxLm: 100,
    spectrum: { kind: 'white' as const, classK: 3000 as const },
  }
  for (const type of [blue, warm]) {
    lamp.emitterTypes.push(type)
    lamp.boardTypes.push({ ...lamp.boardTypes[0]!, id: type.id, emitter: type.id })
    lamp.boards.push({ ...lamp.boards[0]!, id: type.id, type: type.id, xMm: 10 })
  }
  return lamp
}

describe('several emitters', () => {
  test('of different spectra: lumens and watts both add up', () => {
    const lamp = twoColours()
    const watts = lamp.emitterTypes.reduce((sum, e) => sum + e.fluxLm / spectrumEfficacy(e.spectrum), 0)
    for (const tunnel of [null, tube(40, 1, { reflectance: 1 })]) {
      const scene = sceneOf({ ...lamp, tunnel })
      const at = backwardIntensity(scene, { ...axial, rays: 65_536 })
      expectWithin(at.cd, 420 / Math.PI, {
        abs: 4 * at.se + 3e-4 * at.cd,
        because: 'four standard errors; steps of the spectra',
      })
      expectWithin(at.watts.value, watts / Math.PI, {
        abs: 4 * at.watts.se + 3e-4 * at.watts.value,
        because: 'four standard errors; steps of the spectra',
      })
    }
  })

  test('on top of one another: all are counted, though few are asked', () => {
    const sites = Array.from({ length: 60 }, (_, i) => ({ xMm: 0.01 * i, yMm: 0 }))
    const lamp = oneEmitter({ sites, source: { shape: 'disc', diameterMm: 30 }, fluxLm: 10, tunnel: tube(40, 30) })
    const { cd, se } = backwardIntensity(sceneOf(lamp), { ...axial, rays: 65_536 })
    expectWithin(cd, 600 / Math.PI, within(cd, se))
  })

  test('shares from the alias table are those of the fluxes', () => {
    const scene = sceneOf(twoColours())
    const { share } = findSources(scene)
    const watts = twoColours().emitterTypes.map((e) => e.fluxLm / spectrumEfficacy(e.spectrum))
    const all = watts.reduce((a, b) => a + b)
    for (const [i, w] of watts.entries()) expectWithin(share[i]!, w / all, { rel: 1e-6, because: 'single precision' })
  })
})

describe('both ends of the examples', () => {
  test.each([
    ['Gannet Head', gannetHead, amount(200_000, 2_000_000)],
    ['Stile lamp', stileLamp, amount(100_000, 1_000_000)],
    ['Ice rink', iceRink, amount(150_000, 1_000_000)],
  ] as const)('%s: the axial intensity', (_, make, rays) => {
    const lamp = make()
    const forward = axialCd(traceHere(lamp, { rays }))
    const backward = backwardIntensity(sceneOf(lamp), { ...axial, rays: 65_536 })
    expect(backward.effective).toBeGreaterThan(TRUSTED)
    const both = combine(forward, backward)
    expect(Math.abs(both.apart!)).toBeLessThan(4)
    expect(both.se).toBeLessThanOrEqual(Math.min(forward.se, backward.se))
  })

  test('a profile is what single directions give, around the axis', () => {
    const scene = sceneOf(iceRink())
    const [ring] = backwardProfile(scene, [20 * RAD], { seed: 1, rays: 65_536, coneHalfRad: RAD })
    const around = Array.from({ length: 12 }, (_, k) =>
      backwardIntensity(scene, {
        seed: k,
        thetaRad: 20 * RAD,
        phiRad: (k + 0.5) * 30 * RAD,
        coneHalfRad: RAD,
        rays: 16_384,
      }),
    )
    const value = around.reduce((sum, a) => sum + a.cd / 12, 0)
    const se = Math.sqrt(around.reduce((sum, a) => sum + (a.se / 12) ** 2, 0))
    // Twelve places stand for the circle: the hexagon repeats every 60°.
    expectWithin(ring!.value, value, {
      abs: 4 * Math.hypot(ring!.se, se) + 0.01 * value,
      because: 'twelve places, and errors',
    })
  })
})

test('however a batch is cut, its sums are the same bits', () => {
  const scene = sceneOf(gannetHead())
  const aim = { kind: 'cone' as const, thetaRad: 0, phiRad: 0, halfRad: 0.25 * RAD }
  const whole = new Float64Array(SUMS)
  makeBackwardKernel(scene, aim, 5).traceBatch(3, 0, 4000, whole)
  const pieces = new Float64Array(SUMS)
  for (const [from, to] of [
    [2500, 4000],
    [0, 1],
    [1, 999],
    [999, 2500],
  ] as const)
    makeBackwardKernel(scene, aim, 5).traceBatch(3, from, to, pieces)
  expect([...pieces.subarray(0, 3)]).toEqual([...whole.subarray(0, 3)])
  expect(whole[0]).toBeGreaterThan(0)
})

test('a dark lamp gives nothing', () => {
  const lamp = oneEmitter({ fluxLm: 0 })
  expect(backwardEstimate(sceneOf(lamp), { kind: 'band', fromRad: 0, toRad: 1 }, { seed: 1, rays: 64 }).value).toBe(0)
})

describe('joining', () => {
  test('inverse variances', () => {
    const both = combine({ value: 10, se: 3 }, { value: 15, se: 4 })
    expectWithin(both.value, 10 + 5 * (9 / 25), { ulps: 4 })
    // Meier: 1 + 8/15 · 9/25 · 16/25.
    expectWithin(both.se, (12 / 5) * Math.sqrt(1 + (8 / 15) * (9 / 25) * (16 / 25)), { ulps: 8 })
    expectWithin(both.apart!, 1, { ulps: 4 })
  })
  test('a backward estimate of few telling rays stays out', () => {
    const both = combine({ value: 10, se: 3 }, { value: 0, se: 0, effective: 3 })
    expect(both).toEqual({ value: 10, se: 3, apart: null, backwardShare: 0 })
  })
  test('a forward estimate that has met nothing stays out', () => {
    expect(combine({ value: 0, se: 0 }, { value: 5, se: 1 })).toEqual({
      value: 5,
      se: 1,
      apart: null,
      backwardShare: 1,
    })
  })
})

test('what can’t be traced backwards is named', () => {
  expect(backwardUnsupported(sceneOf(gannetHead()))).toEqual([])
  const lamp = gannetHead()
  if (lamp.lens?.kind === 'fresnel') lamp.lens.tipShare = 0.05
  expect(backwardUnsupported(sceneOf(lamp))).toEqual([])
  expect(backwardUnsupported(compileSun(sceneOf(lamp), lamp, 0))).toHaveLength(1)
})
