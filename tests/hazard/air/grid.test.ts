// The sparse grid: no planted place may be missed, and B bounds every disc.
import { describe, expect, test } from 'vitest'
import type { DenseOptions } from '../../../src/hazard/air/blocks.ts'
import { measureFacing } from '../../../src/hazard/air/disc.ts'
import { findDensePoints, part } from '../../../src/hazard/air/grid.ts'
import { seededRandom } from '../../../src/num/rng.ts'
import { joinSegments, makeSegments } from '../../../src/run/segments.ts'
import { amount } from '../../kit/amount.ts'
import { expectWithin, seeds } from '../../kit/expect.ts'
import { drawnSegments, evenDisc, type V3 } from '../../kit/handSegments.ts'

const DISC = 10
const AREA = Math.PI * 25
const options = (over: Partial<DenseOptions> = {}): DenseOptions => ({
  discMm: DISC,
  floorKWm2: 1,
  share: 0.5,
  zoneOf: () => 0,
  zones: 1,
  most: 5,
  partMm: 15,
  ...over,
})

function randomUnit(u: () => number): V3 {
  const z = 2 * u() - 1
  const turn = 2 * Math.PI * u()
  const r = Math.sqrt(1 - z * z)
  return [r * Math.cos(turn), r * Math.sin(turn), z]
}

/** A cone of half angle 0.2 towards a point, about a random direction, 600 mm long on both sides; 8 W. */
function focus(at: V3, seed: number) {
  const random = seededRandom(seed)
  const axis = randomUnit(random)
  return drawnSegments({ rays: 800, watts: 8, seed }, (u) => {
    const off = randomUnit(u)
    const towards = axis.map((a, k) => a + 0.2 * off[k]!) as unknown as V3
    const length = Math.hypot(...towards)
    const from = at.map((p, k) => p - (600 * towards[k]!) / length) as unknown as V3
    return { from, towards, lengthMm: 1200 }
  })
}

/** Even light along z over a square of 1 m: 100 W, 0.1 kW/m². */
const background = (seed: number) =>
  drawnSegments({ rays: 20_000, watts: 100, seed }, (u) => ({
    from: [1000 * (u() - 0.5), 1000 * (u() - 0.5), -600],
    towards: [0, 0, 1],
    lengthMm: 1200,
  }))

describe('a focus anywhere, from any side', () => {
  test.each(seeds(amount(20, 200)))('is the densest point, seed %i', (seed) => {
    const random = seededRandom(seed * 31)
    const at: V3 = [700 * (random() - 0.5), 700 * (random() - 0.5), 900 * (random() - 0.5)]
    const [top] = findDensePoints(joinSegments(background(seed), focus(at, seed)), options())
    const away = Math.hypot(top!.xMm - at[0], top!.yMm - at[1], top!.zMm - at[2])
    // A ball holds all of a cone of 0.2 as long as its middle lies within R / sin 0.2 of the point.
    expect(away).toBeLessThanOrEqual(5 / Math.sin(0.2))
    // The ball about the nearest point of the lattice holds all of it: half the diagonal of a cube of R is 0.87 R.
    expect(top!.kWm2).toBeGreaterThanOrEqual((8 / AREA) * 1000 * (1 - 1e-6))
  })
  test('in a region of 8 m, where cells are larger than two discs', () => {
    const at: V3 = [33, -71, 12]
    const far = drawnSegments({ rays: 160, watts: 1 }, () => ({
      from: [-4000, 0, 0],
      towards: [1, 0.01, 0],
      lengthMm: 8000,
    }))
    const [top] = findDensePoints(joinSegments(far, focus(at, 3)), options({ floorKWm2: 50 }))
    expect(Math.hypot(top!.xMm - at[0], top!.yMm - at[1], top!.zMm - at[2])).toBeLessThan(5 / Math.sin(0.2))
    expect(top!.kWm2).toBeGreaterThanOrEqual((8 / AREA) * 1000 * (1 - 1e-6))
  })
})

test('B bounds the irradiance of every disc about the point, however it is turned', () => {
  const segments = joinSegments(background(1), joinSegments(focus([0, 0, 0], 5), focus([6, 2, 1], 6)))
  const random = seededRandom(4)
  for (const point of findDensePoints(segments, options({ most: 40, partMm: 5, share: 0.05 }))) {
    const [dx, dy, dz] = randomUnit(random)
    expect(measureFacing(segments, { ...point, dx, dy, dz }, DISC).all.kWm2).toBeLessThanOrEqual(
      point.kWm2 * (1 + 1e-5),
    )
  }
})

test('B of even light is its irradiance', () => {
  const segments = drawnSegments({ rays: 50_000, watts: 100, seed: 2 }, (u) => ({
    from: [60 * (u() - 0.5), 60 * (u() - 0.5), -30],
    towards: [0, 0, 1],
    lengthMm: 60,
  }))
  const points = findDensePoints(segments, options({ most: 1e6, partMm: 0, share: 0, floorKWm2: 5 }))
  const inner = points.filter((p) => Math.abs(p.xMm) < 24 && Math.abs(p.yMm) < 24 && Math.abs(p.zMm) < 24)
  const mean = inner.reduce((sum, p) => sum + p.kWm2, 0) / inner.length
  // A lattice of 5 mm over ± 24 mm: 9 or 10 points along an edge.
  expect(inner.length).toBeGreaterThanOrEqual(9 ** 3)
  expectWithin(mean, 100 / 3.6, { rel: 0.02, because: '100 W on 0.0036 m²; 1090 rays a ball' })
})

describe('zones', () => {
  const two = joinSegments(focus([-200, 0, 0], 1), focus([200, 0, 0], 2))
  const zoneOf = (x: number) => (x < 0 ? 0 : 1)
  test('each gives its own places', () => {
    const found = findDensePoints(two, options({ zoneOf, zones: 2, most: 1 }))
    expect(found.map((p) => p.zone)).toEqual([0, 1])
    expect(found[0]!.xMm).toBeLessThan(-190)
    expect(found[1]!.xMm).toBeGreaterThan(190)
  })
  test('a weaker one is not hidden by a stronger one elsewhere', () => {
    const weak = focus([200, 0, 0], 2)
    weak.watts.fill(0.3 / weak.count)
    const found = findDensePoints(joinSegments(focus([-200, 0, 0], 1), weak), options({ zoneOf, zones: 2, most: 1 }))
    expect(found.length).toBe(2)
    expectWithin(found[1]!.kWm2, (0.3 / AREA) * 1000, { rel: 0.05, because: 'all of it, and hardly more' })
  })
  test('−1 is not looked at', () => {
    expect(findDensePoints(two, options({ zoneOf: (x) => (x < 0 ? -1 : 0) }))[0]!.xMm).toBeGreaterThan(0)
    expect(findDensePoints(two, options({ zoneOf: () => -1 }))).toEqual([])
  })
  test('under the floor there is nothing', () => {
    expect(findDensePoints(two, options({ floorKWm2: 1e4 }))).toEqual([])
    expect(findDensePoints(makeSegments(0, 1), options())).toEqual([])
  })
})

test('parted places: the hottest first, none too near a hotter one', () => {
  const p = (xMm: number, kWm2: number) => ({ xMm, yMm: 0, zMm: 0, kWm2 })
  expect(part([p(0, 1), p(4, 3), p(8, 2), p(20, 0.5)], 3, 5).map((x) => x.kWm2)).toEqual([3, 0.5])
  expect(part([p(0, 1), p(5, 3)], 3, 5).length).toBe(2)
  expect(part([p(0, 1), p(50, 3)], 1, 5).length).toBe(1)
})

test('rays along the axes and along the diagonals meet the same lattice', () => {
  for (const n of [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, -1],
    [1, 1, 1],
    [-1, 1, 0],
  ] as const) {
    const length = Math.hypot(...n)
    const segments = drawnSegments({ rays: 500, watts: 5 }, (u) => {
      const [a, b] = evenDisc(u, 1)
      return {
        from: [a - (200 * n[0]) / length, b - (200 * n[1]) / length, -(200 * n[2]) / length],
        towards: n,
        lengthMm: 400,
      }
    })
    const [top] = findDensePoints(segments, options())
    expect(top!.kWm2).toBeGreaterThanOrEqual((5 / AREA) * 1000 * (1 - 1e-5))
  }
})
