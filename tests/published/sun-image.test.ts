// The sun through a lens. Half angle 0.2666° (959.63″ at 1 au is 0.266564°; memory). Concentration: no lens in air beats
// (sin u / sin sun)², u the rim half angle (R. Winston, J. C. Miñano, P. Benítez, Nonimaging Optics, 2005; second-hand); values derived.
import { describe, expect, test } from 'vitest'
import type { Lens } from '../../src/lamp/schema.ts'
import { middleOfSun } from '../../src/library/sunDisc.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin } from '../kit/expect.ts'
import { type Exit, exitsOf, oneEmitter, traceHere } from '../kit/traceHere.ts'

const RAD = Math.PI / 180
const SUN = 0.2666 * RAD

const sunThrough = (lens: Lens, rays: number, tiltDeg = 0) =>
  traceHere(oneEmitter({ lens }), { rays, sunTiltDeg: tiltDeg })
const ideal = (focalMm: number, diameterMm: number): Lens => ({
  kind: 'ideal',
  zMm: 1.5 * focalMm,
  focalMm,
  diameterMm,
})

/** Where a ray that came in crosses the plane at a depth under the point it left the lens from. */
const under = ({ x, y, z, dx, dy, dz }: Exit, planeZ: number): [number, number] => [
  x + ((planeZ - z) * dx) / dz,
  y + ((planeZ - z) * dy) / dz,
]

describe('the middle of the sun against its mean', () => {
  test('laws: Eddington’s is over those measured, or under by no more than 0.2 % over all wavelengths and 1 % at 550 nm', () => {
    expectWithin(middleOfSun(0), 1.25, { rel: 1e-12, because: '1/(1 − 0.6/3)' })
    expectWithin(middleOfSun(1), 1, { rel: 1e-12, because: 'all of it' })
    expectWithin(middleOfSun(0.4), MIDDLE, { rel: 1e-12, because: 'by hand' })
    // Quadratic laws 1 − u − v + uμ + vμ² (C. W. Allen, Astrophysical Quantities; memory): light within ρ, over ρ² and the whole.
    for (const [u, v, least] of [
      [0.93, -0.23, 0.99],
      [0.84, -0.2, 0.998],
    ] as const) {
      const within = (r: number) =>
        (1 - u - v) * r ** 2 + ((2 * u) / 3) * (1 - (1 - r * r) ** 1.5) + v * (r ** 2 - r ** 4 / 2)
      for (const r of [1e-3, 0.2, 0.4, 0.6, 0.8, 0.9, 1]) {
        const measured = within(r) / within(1) / r ** 2
        expect(middleOfSun(r)).toBeGreaterThan(measured * least)
        expect(middleOfSun(r)).toBeLessThan(measured * 1.03)
      }
    }
  })
  test('traced: a disc of 2 mm in an image of 9.3 mm, at f 1000', () => {
    const exits = exitsOf(sunThrough(ideal(1000, 100), 1 << 15))
    const edge = 1000 * Math.tan(SUN)
    const share = exits.filter((e) => Math.hypot(...under(e, 500)) <= 1).length / exits.length
    const se = Math.sqrt(share / exits.length)
    expectWithin(share * edge ** 2, middleOfSun(1 / edge), { se: se * edge ** 2, sigmas: 3 })
    // An even disc would give 1: it is seen.
    expect(share * edge ** 2 - 4 * se * edge ** 2).toBeGreaterThan(1)
  })
})

describe('image of the sun in the focus of an ideal lens', () => {
  // Printed diameters are for 0.266564°.
  test.each([
    [100, 0.93049],
    [200, 1.86098],
    [300, 2.791471],
    [400, 3.721961],
    [500, 4.652451],
    [1000, 9.304902],
  ])('f %i: diameter %f', (f, diameter) => {
    expectWithin(2 * f * Math.tan(SUN), diameter, { rel: 1.4e-4, because: '0.2666° against 0.266564°' })
    const exits = exitsOf(sunThrough(ideal(f, 100), 1 << 14))
    expect(exits.length).toBe(1 << 14)
    const radii = exits.map((e) => Math.hypot(...under(e, 0.5 * f)))
    const edge = radii.reduce((a, b) => Math.max(a, b))
    expectWithin(edge, f * Math.tan(SUN), { rel: 3e-4, because: 'outermost of 16,384 rays; single precision' })
    expect(edge).toBeLessThan(f * Math.tan(SUN) * (1 + 1e-4))
    const rms = Math.sqrt(radii.reduce((sum, r) => sum + r * r, 0) / radii.length)
    // Mean of ρ² under (2 + 3μ)/5, by hand: half of the light even (½), half as μ (⅖).
    expectWithin(rms, f * Math.tan(SUN) * Math.sqrt(0.45), {
      rel: 2e-3,
      because: 'three standard errors or more of 16,384 even rays',
    })
  })

  test('a tilt of 2° moves it by f tan 2°', () => {
    const exits = exitsOf(sunThrough(ideal(400, 100), 1 << 14, 2))
    const places = exits.map((e) => under(e, 200))
    const mean = (k: 0 | 1) => places.reduce((sum, p) => sum + p[k], 0) / places.length
    expectWithin(mean(0), -400 * Math.tan(2 * RAD), { abs: 0.01, because: 'f/100 rms of the image over √16,384' })
    expectWithin(mean(1), 0, { abs: 0.01, because: 'the same' })
  })
})

interface Concentration {
  /** Mean irradiance over the disc in the focal plane, over that of the sun. */
  atFocus: number
  /** The greatest ratio to (sin u / sin sun)² over planes near the focus, u seen from the plane. */
  ofLimit: number
}

/** A small disc on the axis, on planes under the lens; `fromZ`: where the focal length is measured from. */
function concentration(lens: Lens, fromZ: number, focalMm: number, discMm: number): Concentration {
  const half = lens.diameterMm / 2
  const run = sunThrough(lens, 1 << 16)
  const exits = exitsOf(run)
  const onPlane = (depth: number) => {
    let weight = 0
    for (const e of exits) if (Math.hypot(...under(e, fromZ - depth)) <= discMm) weight += e.weight
    return (weight / run.exits.fromRays) * (half / discMm) ** 2
  }
  let ofLimit = 0
  for (let step = -12; step <= 12; step++) {
    const depth = focalMm * (1 + 0.005 * step)
    ofLimit = Math.max(ofLimit, onPlane(depth) / (Math.sin(Math.atan(half / depth)) / Math.sin(SUN)) ** 2)
  }
  return { atFocus: onPlane(focalMm), ofLimit }
}

const fresnel = (diameterMm: number, focalMm: number, grooves: 'target' | 'source'): Lens => ({
  kind: 'fresnel',
  zMm: 2 * focalMm,
  focalMm,
  diameterMm,
  aperture: 'round',
  thicknessMm: 2,
  pitchMm: 0.5,
  grooves,
  draftDeg: 0,
  tipShare: 0,
  material: 'pmma',
  designNm: 587.6,
})

/**
 * Mean radiance of the sun within 0.4 of its radius over that of all of it, by (2 + 3μ)/5 (Eddington; memory): by hand
 * (0.4 · 0.16 + 0.4 (1 − 0.84^1.5))/0.8/0.16. The limit is for a sun as bright all over as that part.
 */
const MIDDLE = (0.4 * 0.16 + 0.4 * (1 - 0.84 ** 1.5)) / 0.8 / 0.16

describe('no traced lens beats (sin u / sin sun)²', () => {
  // 2.56 and 2.57: diameter, focal length, the limit, and (D / image)², which a thin ideal lens would reach.
  const CASES = [
    [500, 400, 12_978, 18_047],
    [250, 600, 1_922, 2_005],
    [300, 300, 9_240, 11_550],
  ] as const
  test.each(CASES.slice(0, amount(2, CASES.length)))('D %i, f %i: at most %i', (diameter, focal, limit, naive) => {
    const u = Math.atan(diameter / 2 / focal)
    expectWithin((Math.sin(u) / Math.sin(0.266564 * RAD)) ** 2, limit, { rel: 1e-4, because: 'printed digits' })
    const disc = 0.4 * focal * Math.tan(SUN)
    for (const grooves of ['target', 'source'] as const) {
      const { ofLimit } = concentration(fresnel(diameter, focal, grooves), 2 * focal, focal, disc)
      expect(ofLimit).toBeLessThan(MIDDLE)
      expect(ofLimit).toBeGreaterThan(0.1)
    }
    // The ideal lens is no physical lens at these apertures: it reaches the naive figure, above the limit.
    const thin = concentration(ideal(focal, diameter), 1.5 * focal, focal, disc).atFocus
    expectWithin(thin, naive * MIDDLE, {
      rel: 0.02,
      because: 'three standard errors of the share on the disc, and 0.2666° for 0.266564°',
    })
  })

  test('a slow ideal lens, D 20, f 400, agrees with the limit: it means what it says there', () => {
    const { ofLimit } = concentration(ideal(400, 20), 600, 400, 0.4 * 400 * Math.tan(SUN))
    expectWithin(ofLimit, MIDDLE, { rel: 0.02, because: 'three standard errors' })
  })

  test('a solid lens without aberration, D 200, f 200', () => {
    const n = 1.5168
    const lens: Lens = {
      kind: 'solid',
      zMm: 500,
      diameterMm: 200,
      radiusMm: 200 * (n - 1),
      conic: -n * n,
      thicknessMm: 50,
      curved: 'source',
      material: 'crown',
    }
    const { ofLimit } = concentration(lens, 450, 200, 0.3)
    expect(ofLimit).toBeLessThan(MIDDLE)
    expect(ofLimit).toBeGreaterThan(0.4)
  })
})
