// Backward estimates of assembled lamps against values that can be had by hand.
// A surface of luminance L gives I = ∫ L cosθ dA, and E = ∫ L cosθ cosθ′/d² dA (J. H. Lambert, Photometria (1760); P. Moon, The Scientific Basis
// of Illuminating Engineering (1936), ch. on surface sources; chapters from memory).
import { describe, expect, test } from 'vitest'
import {
  type BackwardEstimate,
  backwardEstimate,
  backwardIlluminance,
  backwardIntensity,
} from '../../../src/engine/backward/estimate.ts'
import { leaveStepBack } from '../../../src/engine/backward/scatterBack.ts'
import { backwardUnsupported } from '../../../src/engine/backward/sources.ts'
import { unsupportedBackward } from '../../../src/engine/gpu/backwardEngine.ts'
import type { Element, Lamp } from '../../../src/lamp/schema.ts'
import { refractiveIndex } from '../../../src/library/materials.ts'
import { mean, standardError } from '../../../src/num/stats.ts'
import { seedStream } from '../../../src/optics/draws.ts'
import * as P from '../../../src/optics/params.ts'
import { DX, RAY_SIZE, W } from '../../../src/optics/records.ts'
import * as STRETCH from '../../../src/optics/stretchRow.ts'
import { assemblyOf } from '../../../src/scene/assemblyRows.ts'
import type { Scene } from '../../../src/scene/scene.ts'
import { expectWithin } from '../../kit/expect.ts'
import { broadLamp } from '../../kit/forwardBackward.ts'
import { type OneEmitter, oneEmitter, sceneOf, tube } from '../../kit/traceHere.ts'

const RAD = Math.PI / 180
const axial = { thetaRad: 0, phiRad: 0, coneHalfRad: 1e-3, seed: 1 }
const NM = 555

const withElements = (elements: Element[], of: OneEmitter): Lamp => ({ ...oneEmitter(of), elements })
const named = { name: 'Invented' }
const square = { ...named, aperture: 'square' as const, diameterMm: 60 }

/** So wide that it fills whatever is looked through; of luminance 1/π per mm² and sr when it gives its area in lm. */
const wide = (radiusMm: number): OneEmitter => ({
  source: { shape: 'disc', diameterMm: 2 * radiusMm },
  fluxLm: Math.PI * radiusMm ** 2,
  faceSizeMm: 2 * radiusMm,
})
const L = 1 / Math.PI

/** Four standard errors, and 1e-5 for scenes in single precision and for the cosine over the cone. */
const near = ({ value, se }: BackwardEstimate, expected: number, rel = 1e-5) =>
  expectWithin(value, expected, { abs: 4 * se + rel * expected, because: 'four standard errors, and single precision' })

describe('a lamp that is none but taken for one has the same light', () => {
  // The same surfaces, numbers and draws: what is left is rounding. Grooves towards the target of a square lens start elsewhere.
  test.each([1, 3, 8, 12, 14, 18, 24, 28, 30, 36])('seed %i', (seed) => {
    const lamp = broadLamp(seed)
    const scene = sceneOf(lamp)
    const params = scene.params.slice()
    params[P.lensKind] = lamp.lens ? 1 : 0
    const assembled: Scene = { ...scene, params, assembly: assemblyOf(lamp) }
    const aim = { kind: 'band' as const, fromRad: 0, toRad: 0.6 }
    const plain = backwardEstimate(scene, aim, { seed, rays: 256 })
    const other = backwardEstimate(assembled, aim, { seed, rays: 256 })
    expect(plain.value).toBeGreaterThan(0)
    expectWithin(other.value, plain.value, { rel: 1e-5, because: 'places rounded to single precision' })
  })
})

describe('covers', () => {
  const cover = { ...square, kind: 'cover' as const, zMm: 60, thicknessMm: 0.5, material: 'pmma' as const }

  test('tilted and coated: L A cosα (1 − ρ)/(1 + ρ), without what the rim takes', () => {
    // Born & Wolf, Principles of Optics, 7th ed., 7.6.1: the sum over reflections. What goes sideways by t tanθ′ in the plate ends on its rim.
    const tilt = 35
    const n = refractiveIndex('pmma', NM)
    const sideways = 0.5 * Math.tan(Math.asin(Math.sin(tilt * RAD) / n))
    for (const about of ['tiltXDeg', 'tiltYDeg'] as const) {
      const scene = sceneOf(withElements([{ ...cover, [about]: tilt, surfaceReflectance: 0.05 }], wide(300)))
      const at = backwardIntensity(scene, { ...axial, rays: 8192 })
      // Of light that is reflected twice more on the way, about ρ² = 0.25 %, the rim takes three times as much.
      near(at, L * 60 * (60 - sideways) * Math.cos(tilt * RAD) * (0.95 / 1.05), 1e-4)
    }
  })

  test('three, each of its own material: 1/T = 1 + Σ ρ/(1 − ρ) over their six surfaces', () => {
    // Light that goes to and fro between any two of them counts; (1 − T)/T of surfaces without loss add (G. G. Stokes, Proc. R. Soc. 11 (1862) 545).
    const materials = ['pmma', 'polycarbonate', 'crown'] as const
    const elements = materials.map((material, i) => ({ ...cover, material, zMm: 10 + 5 * i }))
    const scene = sceneOf(withElements(elements, wide(300)))
    scene.assembly?.elementParams.forEach((_, i, all) => {
      if (i % P.size === P.lensAbsorption) all[i] = 0
    })
    const at = backwardIntensity(scene, { ...axial, coneHalfRad: 1e-5, rays: 8192 })
    const perSurface = materials.map((m) => ((refractiveIndex(m, NM) - 1) / (refractiveIndex(m, NM) + 1)) ** 2)
    const inverse = 1 + perSurface.reduce((sum, rho) => sum + (2 * rho) / (1 - rho), 0)
    near(at, (L * 3600) / inverse)
  })
})

describe('diffuser films', () => {
  const film = { ...named, kind: 'diffuser' as const, zMm: 1, aperture: 'round' as const, reflectance: 0.1 }

  test('a Gaussian beam becomes wider: variances add, and the axis falls as s²/(s² + σ²)', () => {
    const [fwhmDeg, spreadDeg] = [2, 0.7]
    const s = fwhmDeg / Math.sqrt(8 * Math.log(2))
    const of: OneEmitter = { source: { shape: 'disc', diameterMm: 10 }, profile: { kind: 'gaussian', fwhmDeg } }
    const wider = [{ ...film, diameterMm: 30, transmittance: 0.8, spreadDeg }]
    const bare = backwardIntensity(sceneOf(oneEmitter(of)), { ...axial, rays: 4096 })
    const at = backwardIntensity(sceneOf(withElements(wider, of)), { ...axial, rays: 65_536 })
    // The beam of 1 m under 2°: sines for angles are (2°)²/6 off, and the table of the profile as much.
    near(at, (0.8 * bare.value * s * s) / (s * s + spreadDeg ** 2), 1e-3)
  })

  test('light of every direction, spread wide: what its slopes send along the axis', () => {
    // L′ = T L ∫ g(θ)/A(θ) cosθ dω: g of two slopes of standard deviation σ about the light's direction, A = Φ(cotθ/σ) the chance that none of them
    // points back (redrawn if so). With t = tanθ: ∫ t/σ² exp(−t²/2σ²) / (√(1 + t²) Φ(1/(t σ))) dt.
    for (const spreadDeg of [20, 45]) {
      const sigma = spreadDeg * RAD
      const at = backwardIntensity(
        sceneOf(withElements([{ ...film, diameterMm: 20, transmittance: 0.7, spreadDeg }], wide(3000))),
        { ...axial, rays: 32_768 },
      )
      const share = integral(0, 8 * sigma, 1000, (t) => {
        const scattered = (t / sigma ** 2) * Math.exp((-t * t) / (2 * sigma ** 2))
        return t === 0 ? 0 : scattered / (Math.sqrt(1 + t * t) * normalBelow(1 / (t * sigma)))
      })
      expect(at.se / at.value).toBeLessThan(3e-3)
      near(at, 0.7 * L * Math.PI * 100 * share)
    }
  })
})

describe('pieces', () => {
  test('a tilted ideal lens before a wide surface: L cos⁻³α ∫ (1 + u² + v²)⁻² dA, u = tanα + x/f and v = y/f its slopes behind it', () => {
    // cosθ dω = cos⁴θ du dv in slopes about the lens's axis, and the lens maps slopes: L goes as cos⁴θ (the tangent law; derived).
    const [tiltYDeg, f] = [30, 80]
    const lens = { ...square, kind: 'ideal' as const, zMm: 60, focalMm: f, tiltYDeg }
    const scene = sceneOf(withElements([lens], wide(2000)))
    const at = backwardIntensity(scene, { ...axial, rays: 8192 })
    // The frame's x leans to −z: seen from it the lamp's axis has the slope −tanα.
    const u = (x: number) => -Math.tan(tiltYDeg * RAD) + x / f
    const inside = integral(-30, 30, 30, (x) => integral(-30, 30, 30, (y) => (1 + u(x) ** 2 + (y / f) ** 2) ** -2))
    near(at, (L * inside) / Math.cos(tiltYDeg * RAD) ** 3)
  })

  test.each(['ideal', 'fresnel'] as const)('%s, cut beside its axis: the image leaves at δ = h/f', (kind) => {
    // A small source on the lamp's axis, in the focal plane of a lens whose optical axis is h beside it.
    const [h, f, radius] = [12, 200, 2]
    const body = { thicknessMm: 2, pitchMm: 0.1, grooves: 'target' as const, draftDeg: 0, tipShare: 0, designNm: NM }
    const lens = {
      ...{
        ...named,
        zMm: f,
        focalMm: f,
        diameterMm: 30,
        aperture: 'round' as const,
        centreXMm: h * 0.8,
        centreYMm: h * 0.6,
      },
      ...(kind === 'ideal' ? { kind } : { ...body, kind, material: 'pmma' as const }),
    } as Element
    const scene = sceneOf(withElements([lens], { source: { shape: 'disc', diameterMm: 2 * radius } }))
    const towards = (slope: number, aside: number) => {
      const [x, y] = [slope * 0.8 - aside * 0.6, slope * 0.6 + aside * 0.8]
      const direction = { thetaRad: Math.atan(Math.hypot(x, y)), phiRad: Math.atan2(y, x) }
      return backwardIntensity(scene, { ...axial, ...direction, coneHalfRad: 5e-4, rays: 1024 }).cd
    }
    const half = radius / f
    const peak = towards(h / f, 0)
    const luminance = 1000 / (Math.PI * Math.PI * radius ** 2)
    expectWithin(peak, luminance * Math.PI * 15 ** 2 * (kind === 'ideal' ? 1 : 0.92), {
      rel: 0.03,
      because: 'cosines of 3.4° and 5°; a lens of plastic passes about 0.92',
    })
    // The disc's edges, a fifth of its radius inside and outside: sharp to the spot of a Fresnel lens off its axis, well below 0.4 mm here.
    for (const [slope, aside] of [
      [1, 0],
      [-1, 0],
      [0, 1],
      [0, -1],
    ] as const) {
      expect(towards(h / f + slope * 0.8 * half, aside * 0.8 * half) / peak).toBeGreaterThan(0.9)
      expect(towards(h / f + slope * 1.2 * half, aside * 1.2 * half) / peak).toBeLessThan(0.1)
    }
  })

  test('a place near a tilted rectangle that looks onto a wide surface: E = L ∫ cosθ cosθ′/d² dA', () => {
    const tilt = 40
    const window = {
      ...{
        ...named,
        kind: 'diffuser' as const,
        transmittance: 1,
        reflectance: 0,
        spreadDeg: 0,
        aperture: 'rectangle' as const,
      },
      ...{ zMm: 50, diameterMm: 40, heightMm: 25, decentreXMm: 6, decentreYMm: -4, tiltXDeg: tilt },
    }
    const scene = sceneOf(withElements([window], wide(3000)))
    const place = { xMm: 15, yMm: 10, zMm: 90 }
    const at = backwardIlluminance(scene, place, 0.01, { seed: 1, rays: 8192 })
    // Rx: the piece's y goes to (cosα, sinα), its normal to (−sinα, cosα) in y and z.
    const [c, s] = [Math.cos(tilt * RAD), Math.sin(tilt * RAD)]
    const expected = integral(-20, 20, 30, (u) =>
      integral(-12.5, 12.5, 30, (v) => {
        const [x, y, z] = [place.xMm - 6 - u, place.yMm + 4 - v * c, place.zMm - 50 - v * s]
        const d2 = x * x + y * y + z * z
        return ((-s * y + c * z) * z) / d2 ** 2
      }),
    )
    near(at, 1e6 * L * expected)
  })
})

describe('tunnels', () => {
  const mirror = { reflectance: 1, specularShare: 1, scatterDeg: 0 }
  const joint = { zMm: 60, belowMm: 40, aboveMm: 40, belowHeightMm: 16, aboveHeightMm: 16, ...mirror }

  test('a perfect mirror duct of two rectangular stretches keeps the luminance of a filled inlet: L A cosθ', () => {
    const duct = { ...tube(20, 150, { ...mirror, sides: 4, inHeightMm: 16, outHeightMm: 16 }), joints: [joint] }
    const lamp = oneEmitter({ ...wide(60), tunnel: duct })
    for (const [deg, phiRad] of [
      [0, 0],
      [20, 0.4],
      [55, 1.3],
    ] as const) {
      const at = backwardIntensity(sceneOf(lamp), { ...axial, thetaRad: deg * RAD, phiRad, rays: 4096 })
      near(at, L * 40 * 16 * Math.cos(deg * RAD))
      expectWithin(at.se, 0, { abs: 1e-5 * at.value, because: 'every ray meets the source' })
    }
  })

  test('through a step into a wider black stretch only the narrower one is seen, by its own reflectance at the wavelength', () => {
    // The wall below is black but for the light's own wavelength: half of what it gets. At 45° along a duct 16 mm high and 40 mm long the ray meets
    // it at least twice: nothing of it is left but L ρᵏ, k the number of walls.
    const half = [
      { nm: 500, reflectance: 0 },
      { nm: 555, reflectance: 0.5 },
      { nm: 610, reflectance: 0 },
    ]
    const below = { ...mirror, reflectance: 0.1, reflectanceByNm: half }
    const stepped = {
      ...tube(20, 41, { ...below, sides: 4, inHeightMm: 16, outHeightMm: 80, outMm: 100 }),
      joints: [{ ...joint, zMm: 40, aboveMm: 100, aboveHeightMm: 80, reflectance: 0 }],
    }
    const scene = sceneOf(oneEmitter({ ...wide(60), tunnel: stepped }))
    const at = backwardIntensity(scene, {
      ...axial,
      thetaRad: 45 * RAD,
      phiRad: Math.PI / 2,
      coneHalfRad: 1e-5,
      rays: 32_768,
    })
    // The ray from y at the joint goes down 40 mm to y − 40, folded by walls 16 mm apart: k = 2 for half of the y, 3 for the other half.
    near(at, L * 40 * 16 * Math.SQRT1_2 * (0.5 * 0.25 + 0.5 * 0.125), 1e-4)
  })
})

test('a step lit evenly, part mirror with scatter and part Lambertian: the two parts add', () => {
  // L(o) = ρ [s ∫ g/A cosθ/cosθ_o dω + 1 − s] under light of one luminance from everywhere: linear in the share s, whichever part was drawn.
  const meanWeight = (share: number) => {
    const row = new Float32Array(STRETCH.size)
    row[STRETCH.wallSpecular] = share
    row[STRETCH.wallScatter] = 30 * RAD
    const [ray, stream] = [new Float64Array(RAY_SIZE), new Int32Array(3)]
    const weights = Array.from({ length: 1 << 14 }, (_, i) => {
      seedStream(stream, 1, 0, i)
      ray.set([Math.sin(80 * RAD), 0, -Math.cos(80 * RAD), 1], DX)
      leaveStepBack(ray, stream, row)
      return ray[W]!
    })
    return { value: mean(weights), se: standardError(weights) }
  }
  const [mirror, half] = [meanWeight(1), meanWeight(0.5)]
  expect(mirror.value).toBeGreaterThan(1.3)
  expectWithin(half.value, 0.5 * mirror.value + 0.5, { sigmas: 4, se: Math.hypot(half.se, 0.5 * mirror.se) })
})

test('what can be traced backwards, and where: no emitter above an element’s front; on the processor', () => {
  const cover = { ...square, kind: 'cover' as const, zMm: 20, thicknessMm: 1, material: 'pmma' as const, tiltXDeg: 30 }
  const scene = sceneOf(withElements([cover], { heightMm: 4 }))
  expect(backwardUnsupported(scene)).toEqual([])
  expect(unsupportedBackward(scene)).toEqual([
    'Tilted or moved lenses, several elements, or tunnels of several stretches.',
  ])
  // The lower edge of the tilted plate stands at 20 − 30 sin 30° = 5 mm.
  const above = sceneOf(withElements([cover], { heightMm: 6 }))
  expect(backwardUnsupported(above)).toEqual(['An emitter stands above the lens’s front.'])
})

/** Simpson's rule with 2 n parts. */
function integral(from: number, to: number, n: number, of: (x: number) => number): number {
  const step = (to - from) / (2 * n)
  let sum = of(from) + of(to)
  for (let i = 1; i < 2 * n; i++) sum += (i % 2 === 1 ? 4 : 2) * of(from + i * step)
  return (sum * step) / 3
}

/** Φ(x) by the integral of its density from 0, for x ≥ 0. */
const normalBelow = (x: number): number =>
  0.5 + integral(0, Math.min(x, 9), 40, (t) => Math.exp((-t * t) / 2)) / Math.sqrt(2 * Math.PI)
