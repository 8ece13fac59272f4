// Light at a boundary by hand: Born & Wolf 1.5.2 in the form of sines and tangents, Snell by angles, Duff's frame as a rotation.
import { describe, expect, test } from 'vitest'
import { draw, drawAt, seedStream } from '../../../src/optics/draws.ts'
import {
  absorb,
  cross,
  crossPlane,
  fresnelMean,
  lambertian,
  refracts,
  scatterAlong,
  tilt,
} from '../../../src/optics/interface.ts'
import * as P from '../../../src/optics/params.ts'
import { DX, DY, DZ, ETA, NX, PATH, RISER, TX, W } from '../../../src/optics/records.ts'
import { expectWithin } from '../../kit/expect.ts'
import { doubles, rayAt } from '../../kit/lensBench.ts'
import { bent, directionOf, dot, inFrameAbout, mirrored, scaled, type V } from '../../kit/vectors.ts'

const stream = new Int32Array(3)
const rounding = { abs: 2e-14, because: 'rounding' }
const vector = (ray: Float64Array): V => [ray[DX]!, ray[DY]!, ray[DZ]!]

function expectVector(got: V, expected: V, tolerance: { abs: number; because: string } = rounding): void {
  for (const k of [0, 1, 2] as const) expectWithin(got[k], expected[k], tolerance)
}

/** ½ (sin²(i − t)/sin²(i + t) + tan²(i − t)/tan²(i + t)), i ≠ 0. */
function byAngles(i: number, nIn: number, nOut: number): number {
  const t = Math.asin((nIn / nOut) * Math.sin(i))
  return 0.5 * ((Math.sin(i - t) / Math.sin(i + t)) ** 2 + (Math.tan(i - t) / Math.tan(i + t)) ** 2)
}

const INCIDENCE = [0.1, 0.5, 0.7, 1, 1.3, 1.5].flatMap((i) =>
  (
    [
      [1, 1.5],
      [1.5, 1],
      [1.33, 1.7],
      [1.6, 1.49],
    ] as const
  )
    .filter(([a, b]) => Math.sin(i) < b / a)
    .map(([a, b]) => [i, a, b] as const),
)

describe('reflectance', () => {
  test.each(INCIDENCE)('at %f rad from %f to %f', (i, a, b) =>
    expectWithin(fresnelMean(Math.cos(i), a, b), byAngles(i, a, b), rounding),
  )
  test('straight on: ((n − 1)/(n + 1))²; total from the critical angle on', () => {
    expectWithin(fresnelMean(1, 1, 1.5), 0.04, rounding)
    expectWithin(fresnelMean(1, 2, 1), 1 / 9, rounding)
    expect(fresnelMean(0.1, 1.5, 1)).toBe(1)
    expect(fresnelMean(0, 1, 1)).toBe(1) // sin θ′ = 1 exactly
    expect(fresnelMean(0.5, 1.2, 1.2)).toBe(0)
  })
  test.each(INCIDENCE)('the draw decides just there: %f rad from %f to %f', (i, a, b) => {
    const t = Math.asin((a / b) * Math.sin(i))
    const r = byAngles(i, a, b)
    const went = (u: number) => refracts(u, Math.cos(i), Math.cos(t), a / b)
    expect(went(r * (1 + 1e-9))).toBe(true)
    expect(went(r * (1 - 1e-9))).toBe(false)
  })
  test('no reflectance: even the draw 0 refracts', () => expect(refracts(0, 0.5, 0.5, 1)).toBe(true))
})

describe('crossing', () => {
  test('Snell or mirror as the draw says, at any attitude; the plane by the general rule', () => {
    const counts = { refracted: 0, reflected: 0, total: 0 }
    for (let i = 0; i < 300; i++) {
      seedStream(stream, 4, 1, i)
      const [u, v, s, t] = [draw(stream), draw(stream), draw(stream), draw(stream)]
      const plane = i % 3 === 0
      const d = directionOf(s, t)
      const axis: V = plane ? [0, 0, 1] : directionOf(u, v)
      const normal = scaled(axis, -Math.sign(dot(d, axis)))
      const eta = i % 2 ? 1.5 : 1 / 1.5
      const decision = drawAt(stream, stream[2]!)
      const before = stream[2]!
      const ray = rayAt([0, 0, 0], d, 1.5)
      ray.set(normal, NX)
      ray[ETA] = eta
      const away = bent(d, normal, eta)
      const went = away !== null && decision >= byAngles(Math.acos(-dot(d, normal)), eta, 1)
      if (plane) ray.fill(Number.NaN, NX, NX + 3) // not asked for
      expect(plane ? crossPlane(ray, stream) : cross(ray, stream)).toBe(went)
      expectVector(vector(ray), went ? away! : mirrored(d, normal))
      expect(stream[2]! - before).toBe(away ? 1 : 0) // total reflection takes no draw
      counts[went ? 'refracted' : away ? 'reflected' : 'total']++
    }
    for (const count of Object.values(counts)) expect(count).toBeGreaterThan(10)
  })

  test('a direction that rounding has stretched is brought back to length 1', () => {
    seedStream(stream, 1, 0, 0)
    const ray = rayAt([0, 0, 0], [0.36, 0.48, 0.8], 1.5)
    for (const k of [DX, DY, DZ]) ray[k]! *= 1 + 1e-7
    ray.set([0, 0, -1], NX)
    ray[ETA] = 1 / 1.5
    while (!cross(ray, stream));
    expectWithin(Math.hypot(...vector(ray)), 1, { abs: 1e-12, because: 'a Newton step squares 1e-7' })
  })

  test.each([
    ['along the surface between equal media', 1, [1, 0, 0], [0, 0, -1]],
    ['from behind the surface, by rounding', 1 / 1.5, [0.6, 0, -0.8], [0, 0, -1]],
  ] as [string, number, V, V][])('%s: as it was', (_, eta, d, normal) => {
    seedStream(stream, 1, 0, 0)
    const ray = rayAt([0, 0, 0], d, 1.5)
    ray.set(normal, NX)
    ray[ETA] = eta
    expect(cross(ray, stream)).toBe(false)
    expectVector(vector(ray), d)
    expect(stream[2]).toBe(eta === 1 ? 8 : 9)
  })

  test('along a plane between equal media: as it was, without a draw', () => {
    seedStream(stream, 1, 0, 0)
    const ray = rayAt([0, 0, 0], [0, 1, 0], 1.5)
    ray[ETA] = 1
    expect(crossPlane(ray, stream)).toBe(false)
    expectVector(vector(ray), [0, 1, 0])
    expect(stream[2]).toBe(8)
  })
})

describe('absorption', () => {
  const p = doubles(P.size)
  const left = (a: number, path: number) => {
    const ray = rayAt([0, 0, 0], [0, 0, 1], 1)
    p[P.lensAbsorption] = a
    ray[PATH] = path
    ray[W] = 0.5
    absorb(ray, p)
    return 2 * ray[W]!
  }
  test('short paths: five terms of exp(−x)', () => {
    for (const x of [0, 0.01, 0.03, 0.0499])
      expectWithin(left(x / 8, 8), 1 - x + x ** 2 / 2 - x ** 3 / 6 + x ** 4 / 24, rounding)
  })
  test('longer ones: exp(−x)', () => {
    for (const x of [0.05, 0.0501, 0.3, 2]) expect(left(x, 1)).toBe(Math.exp(-x))
    expectWithin(left(0.02, 100), Math.exp(-2), rounding)
  })
})

const AXES: V[] = [
  [0, 0, 1],
  [0, 0, -1],
  [0.6, 0.8, 0],
  [1, 0, 0],
  [0, -1, 0],
  ...[0.02, 0.2, 0.4, 0.6, 0.8, 0.97].map((u, i) => directionOf(u, 0.13 + 0.17 * i)),
]

describe.each(AXES)('about (%f, %f, %f)', (...axis) => {
  const n = axis as V
  test('the frame turns by the shortest way from ±z', () => {
    for (const t of [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
      [0.3, -0.5, 0.7],
    ] as V[]) {
      const ray = rayAt([0, 0, 0], [0, 0, 1], 1)
      ray.set(n, NX)
      ray.set(t, TX)
      tilt(ray)
      expectVector(vector(ray), inFrameAbout(n, t))
    }
  })
  test('Lambertian: cosθ = √u, then the azimuth', () => {
    seedStream(stream, 5, 0, 7)
    const [u, v] = [drawAt(stream, 8), drawAt(stream, 9)]
    const ray = rayAt([0, 0, 0], [0, 0, 1], 1)
    ray.set(n, NX)
    lambertian(ray, stream)
    const sin = Math.sin(Math.acos(Math.sqrt(u)))
    const local: V = [sin * Math.cos(2 * Math.PI * v), sin * Math.sin(2 * Math.PI * v), Math.sqrt(u)]
    expectVector(vector(ray), inFrameAbout(n, local), { abs: 1e-9, because: 'the turn’s series' })
    expect(ray[RISER]).toBe(0)
  })
})

test.each([true, false])('a rounded tip scatters ahead and is remembered, up %s', (up) => {
  seedStream(stream, 5, 0, 8)
  const [u, v] = [drawAt(stream, 8), drawAt(stream, 9)]
  const ray = rayAt([0, 0, 0], [1, 0, 0], 1)
  ray.set([0.3, 0.4, 0.5], NX)
  scatterAlong(ray, stream, up)
  const sin = Math.sqrt(1 - u)
  const local: V = [sin * Math.cos(2 * Math.PI * v), sin * Math.sin(2 * Math.PI * v), Math.sqrt(u)]
  expectVector(vector(ray), inFrameAbout([0, 0, up ? 1 : -1], local), { abs: 1e-9, because: 'the turn’s series' })
  expect(ray[RISER]).toBe(1)
})
