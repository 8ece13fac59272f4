// Luminance is not raised by optics: the intensity on the axis is at most luminance × aperture area (R. Winston, W. T. Welford, Optics of
// Nonimaging Concentrators, 1978; second-hand). Values derived.
import { describe, expect, test } from 'vitest'
import { placeEmitters } from '../../src/lamp/place.ts'
import type { Lamp, Lens, OpticType, Tunnel } from '../../src/lamp/schema.ts'
import { gaussLegendre, integrate } from '../../src/num/quadrature.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { fresnelMean } from '../../src/optics/interface.ts'
import * as P from '../../src/optics/params.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin, seeds } from '../kit/expect.ts'
import { axialCd, GREEN, oneEmitter, traceHere, tube } from '../kit/traceHere.ts'

const RAD = Math.PI / 180
const M2 = 1e-6

test('least divergence: sin t = √(As/Aa)', () => {
  // Discs 20/500, 40/500, 60/300 mm; 100 dies of 3.45 mm square into 500 mm.
  for (const [source, aperture, deg] of [
    [20, 500, 2.292443],
    [40, 500, 4.588566],
    [60, 300, 11.536959],
  ] as const)
    expectWithin(Math.asin(source / aperture) / RAD, deg, { abs: 1e-6, because: 'printed digits' })
  expectWithin(Math.asin(Math.sqrt(1190.25 / (Math.PI * 250 ** 2))) / RAD, 4.465463, {
    abs: 1e-6,
    because: 'printed digits',
  })
})

/** A lens without aberration for a point at the focus, its curve to the target. */
function hyperbola(diameterMm: number, focalMm: number, n: number): Extract<Lens, { kind: 'solid' }> {
  const radiusMm = focalMm * (n - 1)
  const r = diameterMm / 2
  const k = 1 - n * n
  const sag = r ** 2 / radiusMm / (1 + Math.sqrt(1 - (k * r ** 2) / radiusMm ** 2))
  return {
    kind: 'solid',
    zMm: 0,
    diameterMm,
    radiusMm,
    conic: -n * n,
    thicknessMm: sag + 2,
    curved: 'source',
    material: 'crown',
  }
}

test('100 dies, 50,000 lm, into 500 mm: at most 2,625,499 cd, reached but for the faces’ reflections', () => {
  const side = Math.sqrt(1190.25) // packed without gaps
  const luminance = 50_000 / (Math.PI * 1190.25 * M2)
  expectWithin(luminance, 1.3371556e7, { rel: 1e-7, because: 'printed digits' })
  const most = luminance * Math.PI * 0.25 ** 2
  expectWithin(most, 2_625_499, { rel: 1e-6, because: 'printed digits' })
  expectWithin(2 * Math.sqrt(most), 3240.68, { rel: 1e-5, because: 'printed digits' })

  const lens: Lens = {
    kind: 'fresnel',
    zMm: 500,
    focalMm: 500,
    diameterMm: 500,
    aperture: 'round',
    thicknessMm: 2,
    pitchMm: 0.5,
    grooves: 'target',
    draftDeg: 0,
    tipShare: 0,
    material: 'pmma',
    designNm: 555,
  }
  const lamp = oneEmitter({
    source: { shape: 'rectangle', widthMm: side, heightMm: side },
    fluxLm: 50_000,
    lens,
    axialConeHalfDeg: 0.5,
  })
  const cd = axialCd(traceHere(lamp, { rays: 1 << 17 }))
  expect(cd.value).toBeLessThan(most)
  // 0.75: transmittance 0.91, and what the risers of an f/1 lens take.
  expect(cd.value).toBeGreaterThan(0.75 * most)
})

test('a filled aperture: luminance × area × transmittance', () => {
  const n = 1.5168
  const focal = 400
  const lens = { ...hyperbola(200, focal, n), curved: 'target' as const }
  // Light from the focus: curved side to the target is perfect for parallel light inside, so turn it: flat side to parallel light.
  const turned: Lens = { ...lens, curved: 'source', zMm: focal + lens.thicknessMm }
  const lamp = oneEmitter({
    source: { shape: 'disc', diameterMm: 16 },
    lens: turned,
    axialConeHalfDeg: 0.7,
    faceSizeMm: 400,
  })
  const edit = (scene: { params: Float32Array; lensIndex: Float32Array }) => {
    scene.params[P.lensAbsorption] = 0
    scene.lensIndex.fill(n)
  }
  const cd = axialCd(traceHere(lamp, { rays: 1 << 17, edit }))
  const luminance = 1000 / (Math.PI * Math.PI * 64 * M2)
  // Seen from the target each point of the aperture shows the source's middle, dimmed by two faces: normal incidence on the flat one, and on the
  // curve sinh: tan of its slope is r / (R − K' w), from the conic's own equation.
  const R = lens.radiusMm
  const dimmed = (r: number) => {
    const sag = r ** 2 / R / (1 + Math.sqrt(1 - ((1 - n * n) * r ** 2) / R ** 2))
    const slope = Math.atan(r / (R - (1 - n * n) * sag))
    return (1 - fresnelMean(1, 1, n)) * (1 - fresnelMean(Math.cos(slope), n, 1))
  }
  const area = integrate((r) => 2 * Math.PI * r * dimmed(r), 0, 100, gaussLegendre(20)) * M2
  // Light reflected twice between the faces comes out of focus: it adds well under a thousandth.
  expectWithin(cd.value, luminance * area, {
    abs: 4 * cd.se + 2e-3 * luminance * area,
    because: 'four standard errors and ghosts',
  })
  expect(cd.se).toBeLessThan(0.01 * cd.value)
})

describe('thin ideal lens, a disc at its focus: luminance × π f² sin²u', () => {
  test.each([
    [100, 400],
    [500, 400],
    [600, 300],
  ])('D %i, f %i', (diameterMm, focalMm) => {
    const lens: Lens = { kind: 'ideal', zMm: focalMm, focalMm, diameterMm }
    const lamp = oneEmitter({ source: { shape: 'disc', diameterMm: focalMm / 25 }, lens, axialConeHalfDeg: 0.5 })
    const cd = axialCd(traceHere(lamp, { rays: 1 << 17 }))
    const luminance = 1000 / (Math.PI * Math.PI * (focalMm / 50) ** 2 * M2)
    const u = Math.atan(diameterMm / 2 / focalMm)
    const expected = luminance * Math.PI * (focalMm / 1000) ** 2 * Math.sin(u) ** 2
    expectWithin(cd.value, expected, {
      abs: 4 * cd.se + 1e-3 * expected,
      because: 'four standard errors; off-axis points see cos⁴ of 1° less',
    })
  })
})

describe('no lamp, whatever its optics, beats luminance × aperture area on its axis', () => {
  test.each(seeds(amount(12, 36)))('seed %i', (seed) => {
    const { lamp, apertureMm2, luminance } = randomBright(seed)
    const cd = axialCd(traceHere(lamp, { rays: 1 << 15, seed }))
    expect(cd.value).toBeLessThanOrEqual(luminance * apertureMm2 * M2 + 4 * cd.se)
  })
})

/** Apart, so that none adds to another's luminance. */
const SITES = [0, 1, 2, 3].map((i) => ({ xMm: i === 1 ? 32 : i === 3 ? -32 : 0, yMm: i === 2 ? 32 : 0 }))

/** Lambertian emitters, bare or in cups; collimators by data sheet carry their own luminance. Every kind of lens that is physical. */
function randomBright(seed: number): { lamp: Lamp; apertureMm2: number; luminance: number } {
  const random = seededRandom(seed * 7919)
  const between = (a: number, b: number) => a + (b - a) * random()
  const pick = <T>(of: readonly T[]) => of[Math.floor(random() * of.length)]!
  const sourceMm = between(2, 20)
  const optic: OpticType = pick<OpticType>([
    { kind: 'bare', id: 'o', name: '' },
    {
      kind: 'reflector',
      id: 'o',
      name: '',
      focalMm: between(5, 15),
      exitDiameterMm: between(50, 120),
      reflectance: between(0.8, 1),
      shiftXMm: 0,
      shiftYMm: 0,
      shiftZMm: between(-2, 2),
    },
    {
      kind: 'collimator',
      id: 'o',
      name: '',
      exitDiameterMm: 30,
      heightMm: 10,
      fwhmDeg: between(8, 60),
      shape: 'gaussian',
      efficiency: 0.9,
    },
  ])
  const lensHalf = between(60, 250)
  const length = between(100, 500)
  const sides = pick([0, 4, 6, 8] as const)
  const tunnel: Tunnel | null =
    random() < 0.5
      ? tube(between(70, 100), length, {
          zInMm: between(0, 12),
          outMm: 2 * between(70, 250),
          sides,
          reflectance: between(0.5, 1),
          specularShare: between(0, 1),
          scatterDeg: pick([0, 2]),
        })
      : null
  const inFocus = random() < 0.5
  const focalMm = inFocus ? Math.max(length + 60, lensHalf) : between(0.8, 2) * Math.max(length, lensHalf)
  const n = 1.5168
  const solid = hyperbola(2 * lensHalf, focalMm, n)
  const zMm = length + 20 + solid.thicknessMm
  const fresnel: Lens = {
    kind: 'fresnel',
    zMm: length + 60,
    focalMm,
    diameterMm: 2 * lensHalf,
    aperture: pick(['round', 'square'] as const),
    thicknessMm: 2,
    pitchMm: between(0.5, 3),
    grooves: pick(['target', 'source'] as const),
    draftDeg: pick([0, 3]),
    tipShare: pick([0, 0.05]),
    material: pick(['pmma', 'polycarbonate'] as const),
    designNm: 587.6,
  }
  const lens = pick<Lens | null>([null, fresnel, { ...solid, zMm, curved: pick(['target', 'source'] as const) }])
  const lamp = oneEmitter({
    source: { shape: 'disc', diameterMm: sourceMm },
    sites: SITES.slice(0, optic.kind === 'reflector' ? 1 : 1 + Math.floor(random() * 4)),
    optic,
    tunnel,
    lens,
    heightMm: between(0, 8),
    spectrum: pick([GREEN, { kind: 'white', classK: 5000 } as const]),
    faceReflectance: between(0, 0.9),
    faceSizeMm: 220,
    axialConeHalfDeg: between(0.5, 2),
  })
  const places = placeEmitters(lamp).length
  const polygon = (half: number) => (sides === 0 ? Math.PI : sides * Math.tan(Math.PI / sides)) * half * half
  const openings = places * Math.PI * (optic.kind === 'bare' ? sourceMm : optic.exitDiameterMm) ** 2 * 0.25
  const faceMm2 = Math.PI * 110 ** 2
  const apertureMm2 = lens
    ? (lens.kind === 'fresnel' && lens.aperture === 'square' ? 4 : Math.PI) * lensHalf ** 2
    : tunnel
      ? polygon(tunnel.outMm / 2)
      : openings + faceMm2
  // A Gaussian's intensity on the axis per lumen, from its own width: 4 ln2/(π F²), a little more when exact.
  const luminance =
    optic.kind === 'collimator'
      ? (1.03 * 0.9 * 1000 * 4 * Math.LN2) / (Math.PI * (optic.fwhmDeg * RAD) ** 2) / (Math.PI * 15 ** 2 * M2)
      : 1000 / (Math.PI * Math.PI * (sourceMm / 2) ** 2 * M2)
  return { lamp, apertureMm2, luminance }
}
