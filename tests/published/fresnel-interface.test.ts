// Reflection and refraction at one boundary. All values derived: Fresnel's formulae as in M. Born, E. Wolf, Principles of Optics,
// 7th ed., 1.5.2 and 1.5.3, evaluated in double precision apart from this program. Index 1.49, 1.5, 1.5168, 1.585.
import { describe, expect, test } from 'vitest'
import type { SolidLens } from '../../src/lamp/schema.ts'
import { gaussLegendre, integrate } from '../../src/num/quadrature.ts'
import { seedStream } from '../../src/optics/draws.ts'
import { cross, fresnelMean } from '../../src/optics/interface.ts'
import * as P from '../../src/optics/params.ts'
import { DX, DZ, ETA, NX, NY, NZ } from '../../src/optics/records.ts'
import { expectWithin } from '../kit/expect.ts'
import { rayAt } from '../kit/lensBench.ts'
import { atAngle, deliveredShare, endShare, oneEmitter, traceHere } from '../kit/traceHere.ts'

const RAD = Math.PI / 180
const printed = (digits: number) => ({ abs: 0.6 * 10 ** -digits, because: `${digits} printed decimals` })

test.each([
  [1.49, 0.03872518],
  [1.5, 0.04],
  [1.5168, 0.04216456],
  [1.585, 0.05121423],
])('normal reflectance, n %f: %f', (n, share) => {
  expectWithin(fresnelMean(1, 1, n), share, printed(8))
  expectWithin(fresnelMean(1, n, 1), share, printed(8))
})

describe('Brewster’s angle: the p part is gone, half of the s part is left', () => {
  test.each([
    [1.49, 56.132821],
    [1.5, 56.309932],
    [1.5168, 56.603826],
    [1.585, 57.751565],
  ])('n %f: %f°', (n, deg) => {
    const s = ((n * n - 1) / (n * n + 1)) ** 2
    expectWithin(fresnelMean(Math.cos(deg * RAD), 1, n), s / 2, {
      abs: 5e-9,
      because: 'the angle is printed to 1e-8 rad, and s changes by about a quarter of that',
    })
  })
})

describe('critical angle', () => {
  test.each([
    [1.49, 42.155184],
    [1.5, 41.810315],
    [1.5168, 41.24519],
    [1.585, 39.117649],
  ])('n %f: %f°', (n, deg) => {
    expect(fresnelMean(Math.cos((deg + 1e-6) * RAD), n, 1)).toBe(1)
    expect(fresnelMean(Math.cos((deg - 1e-6) * RAD), n, 1)).toBeLessThan(1)
  })
})

/** Angle after one crossing, by the tracer’s own step; draws are tried until it refracts. */
function refractedDeg(deg: number, n: number): number {
  const stream = new Int32Array(3)
  for (let i = 0; ; i++) {
    seedStream(stream, 1, 0, i)
    const ray = rayAt([0, 0, 0], [Math.sin(deg * RAD), 0, Math.cos(deg * RAD)], n)
    ray[NX] = 0
    ray[NY] = 0
    ray[NZ] = -1
    ray[ETA] = 1 / n
    if (cross(ray, stream)) return Math.atan2(ray[DX]!, ray[DZ]!) / RAD
  }
}

test.each([
  [1.49, 30, 19.607232],
  [1.49, 45, 28.331246],
  [1.5168, 30, 19.247008],
  [1.5168, 45, 27.786828],
  [1.585, 30, 18.38843],
  [1.585, 45, 26.495284],
])('refraction, n %f: %i° becomes %f°', (n, deg, inside) => {
  expectWithin(refractedDeg(deg, n), inside, printed(6))
})

const OBLIQUE: [number, number[]][] = [
  [1.49, [0.040226, 0.048845, 0.087521, 0.251156, 0.385989, 0.611656]],
  [1.5168, [0.043722, 0.052595, 0.091958, 0.256144, 0.390447, 0.614598]],
  [1.585, [0.052891, 0.062281, 0.102896, 0.267341, 0.400002, 0.620516]],
]
describe.each(OBLIQUE)('unpolarised reflectance, n %f', (n, shares) => {
  test.each([30, 45, 60, 75, 80, 85].map((deg, i) => [deg, shares[i]!]))('%i°: %f', (deg, share) => {
    expectWithin(fresnelMean(Math.cos(deg * RAD), 1, n), share, printed(6))
    // The same from inside, at the refracted angle (Stokes).
    const inside = Math.asin(Math.sin(deg * RAD) / n)
    expectWithin(fresnelMean(Math.cos(inside), n, 1), share, printed(6))
  })
})

test.each([
  [1.49, 0.089652, 0.008038],
  [1.5168, 0.095978, 0.009212],
  [1.585, 0.112015, 0.012547],
])('45°, n %f: the mean of s %f and p %f', (n, s, p) => {
  expectWithin(fresnelMean(Math.cos(45 * RAD), 1, n), (s + p) / 2, printed(6))
})

describe('Lambertian light on a flat face', () => {
  const rule = gaussLegendre(200)
  test.each([
    [1.49, 0.090306185, 0.590246469],
    [1.5, 0.091777959, 0.59634576],
    [1.585, 0.1041023, 0.643384768],
  ])('n %f: %f from air, %f from inside', (n, outside, inside) => {
    // ∫ R(sin²) d(sin²); the substitution takes the square root at grazing light out.
    const air = integrate((c) => 2 * c * fresnelMean(c, 1, n), 0, 1, rule)
    expectWithin(air, outside, printed(9))
    const critical = Math.sqrt(1 - 1 / (n * n))
    const part = integrate((t) => 2 * t * fresnelMean(Math.sqrt(critical ** 2 + t * t), n, 1), 0, 1 / n, rule)
    expectWithin(part + critical ** 2, inside, printed(9))
  })
})

/** A window: a lens of so long a radius that it is flat, without absorption, of one index. */
function windowShare(n: number): { through: number; se: number; back: number } {
  const lens: SolidLens = {
    kind: 'solid',
    zMm: 50,
    diameterMm: 400,
    radiusMm: 1e7,
    conic: 0,
    thicknessMm: 2,
    curved: 'target',
    material: 'crown',
  }
  const lamp = oneEmitter({ lens, profile: atAngle(0.02), faceSizeMm: 2000 })
  const edit = (scene: { params: Float32Array; lensIndex: Float32Array }) => {
    scene.params[P.lensAbsorption] = 0
    scene.lensIndex.fill(n)
  }
  const run = traceHere(lamp, { rays: 1 << 16, edit })
  const share = deliveredShare(run)
  return { through: share.value, se: share.se, back: endShare(run, 'lensReturnedLost').value }
}

describe('a window, all bounces between its faces: 2n/(n² + 1)', () => {
  test.each([
    [1.49, 0.9254371],
    [1.5, 0.92307692],
    [1.5168, 0.91908272],
    [1.585, 0.90256177],
  ])('n %f: %f', (n, share) => {
    const got = windowShare(n)
    expectWithin(got.through, share, { sigmas: 3.5, se: got.se })
    expectWithin(got.through + got.back, 1, { abs: 1e-9, because: 'nothing else may happen to it' })
  })
})

test.each([
  [1.49, 0.92404928],
  [1.5, 0.9216],
  [1.5168, 0.91744873],
  [1.585, 0.90019444],
])('two faces without a second bounce, n %f: %f', (n, share) => {
  expectWithin((1 - fresnelMean(1, 1, n)) * (1 - fresnelMean(1, n, 1)), share, printed(8))
})
