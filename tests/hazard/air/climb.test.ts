// The climb to the hottest disc, step by step: a compass search with steps of 2.5, 1.25, 0.625 and 0.3125 mm for a disc of radius 5, so that
// where it ends can be followed by hand.
import { describe, expect, test } from 'vitest'
import { climbDisc, moveToWaist } from '../../../src/hazard/air/climb.ts'
import type { Segments } from '../../../src/run/segments.ts'
import { expectWithin } from '../../kit/expect.ts'
import { type ListedSegment, listedSegments, type V3 } from '../../kit/handSegments.ts'

const DISC = 10
const at = (xMm: number, yMm: number, zMm: number) => ({ xMm, yMm, zMm })
const plus = (a: V3, b: V3, times = 1): V3 => [a[0] + times * b[0], a[1] + times * b[1], a[2] + times * b[2]]
const cross = (a: V3, b: V3): V3 => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
const unit = (v: V3): V3 => v.map((x) => x / Math.hypot(...v)) as unknown as V3

/** A ray through a point, from `back` mm before it on. */
const through = (p: V3, towards: V3, watts = 1, back = 200, lengthMm = 3000): ListedSegment => ({
  from: plus(p, unit(towards), -back),
  towards,
  watts,
  lengthMm,
})

function expectPlace(disc: { xMm: number; yMm: number; zMm: number } | null, place: V3, abs = 1e-4): void {
  expect(disc).not.toBeNull()
  for (const [k, name] of (['xMm', 'yMm', 'zMm'] as const).entries())
    expectWithin(disc![name], place[k]!, { abs, because: 'steps by hand; rays in single precision' })
}

/** Axes across n as the search has them: n × x, or n × y where n runs near x, and n times that. */
function axes(n: V3): [V3, V3] {
  const u = unit(cross(n, Math.abs(n[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0]))
  return [u, cross(n, u)]
}

const WAYS: V3[] = [
  [0, 0, 1],
  [0, 0, -1],
  [1, 0, 0],
  [0, 1, 0],
  [2 / 7, 3 / 7, 6 / 7],
  [6 / 7, -2 / 7, 3 / 7],
  [-3 / 7, 6 / 7, 2 / 7],
]

describe('two pencils 8 mm apart, 1 W where it starts and 2 W', () => {
  // From the first one no step finds both. Crowding, 1 − x²/100 + 2 (1 − (8 − x)²/100), leads to 2.5, 5, 5.625 and back to 5.3125; from there a
  // step of −1.25, to 4.0625, has both within 5 mm, and none has more.
  test.each(WAYS)('along %d %d %d: found from where they crowd', (...n) => {
    for (const across of axes(n))
      for (const sign of [1, -1]) {
        const start: V3 = [30, -20, 100]
        const segments = listedSegments([through(start, n, 1), through(plus(start, across, 8 * sign), n, 2)])
        const disc = climbDisc(segments, at(...start), DISC)!
        expectPlace(disc, plus(start, across, 4.0625 * sign))
        for (const [k, d] of [disc.dx, disc.dy, disc.dz].entries())
          expectWithin(d, n[k]!, { abs: 1e-6, because: 'it faces them' })
        expectWithin(disc.spread, 0, { abs: 1e-3, because: 'parallel' })
      }
  })
  const pair = listedSegments([through([0, 0, 100], [0, 0, 1], 1), through([8, 0, 100], [0, 0, 1], 2)])
  test('its middle keeps to where it may lie', () => {
    // Below 4 the crowding leads to 2.5 and 3.75, which has both.
    expectPlace(climbDisc(pair, at(0, 0, 100), DISC, { mayLie: (x) => x < 4 }), [3.75, 0, 100], 1e-9)
    expectPlace(
      climbDisc(pair, at(0, 0, 100), DISC, { mayLie: (x, y, z) => x < 4 && y === 0 && z === 100 }),
      [3.75, 0, 100],
      1e-9,
    )
    expectPlace(climbDisc(pair, at(0, 0, 100), DISC, { mayLie: () => false }), [0, 0, 100], 0)
  })
  test('6.4 mm apart the first step has both; of places that hold the same the first stays', () => {
    const near = listedSegments([through([0, 0, 100], [0, 0, 1], 1), through([6.4, 0, 100], [0, 0, 1], 2)])
    expectPlace(climbDisc(near, at(0, 0, 100), DISC), [2.5, 0, 100], 1e-9)
  })
  test('on a plane: its middle moves there, while it faces the light', () => {
    // They cross the plane z = 100 8 mm apart, and are 6.4 mm apart as seen along them.
    const n: V3 = [0.6, 0, 0.8]
    const slanting = listedSegments([through([0, 0, 100], n, 1), through([8, 0, 100], n, 2)])
    const disc = climbDisc(slanting, at(0, 0, 100), DISC, { across: [0, 0, 1] })!
    expectPlace(disc, [2.5, 0, 100], 1e-9)
    expectWithin(disc.dx, 0.6, { abs: 1e-6, because: 'it faces them' })
    // Free, the same step is one across the light: 2.5 (0.8, 0, −0.6).
    expectPlace(climbDisc(slanting, at(0, 0, 100), DISC), [2, 0, 98.5])
  })
})

describe('a row of pencils 2 mm apart, each half as strong again as the one before', () => {
  const row = (to: number) =>
    listedSegments(
      Array.from({ length: 4 + to / 2 }, (_, k) => through([2 * k - 6, 0, 100], [0, 0, 1], 1e-3 * 1.5 ** k)),
    )
  test('it moves 2.5 radii, then what is near is gathered anew, five times: 62.5 mm', () => {
    expectPlace(climbDisc(row(90), at(0, 0, 100), DISC), [62.5, 0, 100], 1e-9)
  })
  test('and stops with the row', () => {
    // 12.5, then 15, 17.5 and 20, where the disc holds those from 16 to the last at 24; 22.5 would hold no more. Half steps back hold the same.
    expectPlace(climbDisc(row(24), at(0, 0, 100), DISC), [20, 0, 100], 1e-9)
  })
})

test('what is near is gathered anew only where the disc has moved more than 1.5 radii', () => {
  // One search asks at least 4 steps by 6 ways, a gathering makes 1 + 2 · 3 of them: 168 places; 1 + 3 where the light lies closest at the start itself: 96.
  const countPlaces = (list: readonly ListedSegment[]) => {
    let places = 0
    const mayLie = () => {
      places++
      return true
    }
    const disc = climbDisc(listedSegments(list), at(0, 0, 100), DISC, { mayLie })
    return { places, x: disc!.xMm }
  }
  expect(countPlaces([through([0, 0, 100], [0, 0, 1])])).toEqual({ places: 96, x: 0 })
  const two = countPlaces([through([0, 0, 100], [0, 0, 1]), through([6.4, 0, 100], [0, 0, 1], 2)])
  expect(two.x).toBe(2.5)
  expect(two.places).toBeLessThan(2 * 168)
  // A row up to 12 mm, each half as strong again: 2.5, 5 and 7.5 mm, which is 1.5 radii.
  const row = (to: number) =>
    countPlaces(Array.from({ length: 4 + to / 2 }, (_, k) => through([2 * k - 6, 0, 100], [0, 0, 1], 1e-3 * 1.5 ** k)))
  expect(row(12).x).toBe(7.5)
  expect(row(12).places).toBeLessThan(2 * 168)
  // Up to 14 mm: 10 mm, and again.
  expect(row(14).x).toBe(10)
  expect(row(14).places).toBeGreaterThan(2 * 168)
})

/** Rays to a focus from four sides with this slope, and of so many watts each. */
function cone(focus: V3, n: V3, slope: number, watts: number, back = 200, lengthMm = 3000): ListedSegment[] {
  const [u, v] = axes(n)
  return [plus(n, u, slope), plus(n, u, -slope), plus(n, v, slope), plus(n, v, -slope)].map((d) =>
    through(focus, d, watts, back, lengthMm),
  )
}

describe('along the light', () => {
  test.each(WAYS)('a cone about a pencil, %d %d %d: its crowding is followed for 2.5 radii', (...n) => {
    // 32 mm before the focus the rays are 8 mm from the pencil, and no step of 2.5 mm has more than that. 12.5 mm on they are 4.9 mm from it:
    // there the whole cone is in the disc.
    const focus: V3 = [5, 8, 100]
    const segments = listedSegments([...cone(focus, n, 0.25, 1), through(focus, n, 1)])
    const disc = climbDisc(segments, at(...plus(focus, n, -32)), DISC)!
    // Rounding may put the fifth step of 2.5 mm just beyond; then the half steps lead to 12.1875 mm.
    expectPlace(disc, plus(focus, n, -19.5), Math.max(...n) === 1 || Math.min(...n) === -1 ? 1e-9 : 0.32)
    // Each ray of the cone counts by 1/cos, cos = 1/√(1 + 1/16): mean cosine (1 + 4)/(1 + 4 √(17/16)).
    expectWithin(disc.spread, Math.sqrt(2 * (1 - 5 / (1 + 4 * Math.sqrt(17 / 16)))), { rel: 1e-4, because: 'by hand' })
  })
  test('steps are longer by 1/spread of what is in the disc', () => {
    // 32 mm before the focus: a cone of slope 0.1 is in the disc, one of 0.25 isn't, and no step across has more. Spread √(2 (1 − cos)).
    const segments = listedSegments([...cone([0, 0, 100], [0, 0, 1], 0.1, 1), ...cone([0, 0, 100], [0, 0, 1], 0.25, 1)])
    const spread = Math.sqrt(2 * (1 - 1 / Math.sqrt(1.01)))
    expectPlace(climbDisc(segments, at(0, 0, 68), DISC), [0, 0, 68 + 2.5 / spread], 1e-3)
    // From behind the focus back.
    expectPlace(climbDisc(segments, at(0, 0, 132), DISC), [0, 0, 132 - 2.5 / spread], 1e-3)
    // Not where a plane is given: there it may not leave it.
    expectPlace(climbDisc(segments, at(0, 0, 68), DISC, { across: [0, 0, 1] }), [0, 0, 68], 1e-9)
  })
  test('but no longer than 500 times, the least spread 0.002', () => {
    const long = (slope: number) => cone([0, 0, 1250], [0, 0, 1], slope, 1, 20_000, 40_000)
    // 1250 mm before the focus: 1.25 mm and 8.1 mm off the axis.
    const segments = listedSegments([...long(0.001), ...long(0.0065)])
    expectPlace(climbDisc(segments, at(0, 0, 0), DISC), [0, 0, 1250], 1e-6)
  })
})

test('it faces the net flux: each ray by its watts over its cosine, four readings', () => {
  // 1 W along z and 3 W along (sin 65°, 0, cos 65°), both through its middle.
  const tilt = (65 * Math.PI) / 180
  const rays: [number, number, number][] = [
    [0, 1, 1],
    [Math.sin(tilt), Math.cos(tilt), 3],
  ]
  const normal = ([x, z]: [number, number]): [number, number] => [x / Math.hypot(x, z), z / Math.hypot(x, z)]
  const mean = (weigh: (x: number, z: number) => number) =>
    normal([
      rays.reduce((s, [x, z, w]) => s + weigh(x, z) * w * x, 0),
      rays.reduce((s, [x, z, w]) => s + weigh(x, z) * w * z, 0),
    ])
  let n = mean(() => 1)
  const readings = [n]
  for (let k = 0; k < 4; k++) {
    const [nx, nz] = n
    n = mean((x, z) => 1 / (x * nx + z * nz))
    readings.push(n)
  }
  const segments = listedSegments(rays.map(([x, z, w]) => through([0, 0, 100], [x, 0, z], w)))
  const disc = climbDisc(segments, at(0, 0, 100), DISC)!
  expectWithin(disc.dx, n[0], { abs: 1e-6, because: 'directions in single precision' })
  expectWithin(disc.dz, n[1], { abs: 1e-6, because: 'directions in single precision' })
  expectWithin(disc.dy, 0, { abs: 1e-12, because: 'in the plane of both' })
  // The readings still differ by more than that.
  expect(Math.abs(n[0] - readings[3]![0])).toBeGreaterThan(2e-6)
})

test('where light crowds about a place that has none itself, the start stays', () => {
  // Three pencils 6 mm about (6, 0): no two are within a disc. From (0, 0) crowding leads to the middle of them.
  const segments = listedSegments(
    [0, 1, 2].map((k) => {
      const turn = Math.PI + (2 * Math.PI * k) / 3
      return through([6 + 6 * Math.cos(turn), 6 * Math.sin(turn), 100], [0, 0, 1])
    }),
  )
  expectPlace(climbDisc(segments, at(0, 0, 100), DISC), [0, 0, 100], 1e-9)
})

test('no light there: none', () => {
  const pencil = listedSegments([through([0, 0, 100], [0, 0, 1])])
  expect(climbDisc(pencil, at(5.1, 0, 100), DISC)).toBeNull()
  expect(climbDisc(pencil, at(4.9, 0, 100), DISC)).not.toBeNull()
  expect(climbDisc(listedSegments([]), at(0, 0, 0), DISC)).toBeNull()
})

describe('to the waist', () => {
  const facing = (place: V3, n: V3, spread: number) => ({ ...at(...place), dx: n[0], dy: n[1], dz: n[2], spread })
  const Z: V3 = [0, 0, 1]
  test.each(WAYS)('of a cone along %d %d %d, onto its focus', (...n) => {
    const focus: V3 = [3, -4, 60]
    const segments = listedSegments(cone(focus, n, 0.05, 1))
    const [u, v] = axes(n)
    for (const along of [40, -40]) {
      const disc = facing(plus(plus(plus(focus, n, -along), u, 1.2), v, -0.7), n, 0.05)
      const waist = moveToWaist(segments, disc, DISC)
      expectPlace(waist, focus, 1e-3)
      expect([waist.dx, waist.dy, waist.dz, waist.spread]).toEqual([...n, 0.05])
    }
  })
  test('where rays lie closest together: −cov(place, slope)/var(slope) by watts, over both axes; onto their mean there', () => {
    // x, y at the disc, slopes, watts.
    const rays: [number, number, number, number, number][] = [
      [1, -2, 0.01, 0.03, 1],
      [-2, 1, 0.05, -0.02, 2],
      [2, 2, -0.04, -0.03, 1.5],
      [-1, -1, 0.02, 0.04, 0.5],
    ]
    const total = 5
    const mean = (of: (r: (typeof rays)[number]) => number) => rays.reduce((s, r) => s + r[4] * of(r), 0) / total
    const [mx, my, msx, msy] = [0, 1, 2, 3].map((k) => mean((r) => r[k]!)) as [number, number, number, number]
    const cov = mean(([x, y, sx, sy]) => (x - mx) * (sx - msx) + (y - my) * (sy - msy))
    const spread = mean(([, , sx, sy]) => (sx - msx) ** 2 + (sy - msy) ** 2)
    const t = -cov / spread
    expect(Math.abs(t)).toBeGreaterThan(10)
    const segments = listedSegments(rays.map(([x, y, sx, sy, w]) => through([x, y, 0], [sx, sy, 1], w, 300)))
    expectPlace(moveToWaist(segments, facing([0, 0, 0], Z, 0.05), DISC), [mx + t * msx, my + t * msy, t], 1e-3)
  })
  test('in four steps of at most 2.5 R/spread', () => {
    // 90 mm before and behind its focus a cone of slope 0.05 is 4.5 mm wide. With a spread of 1 said: 12.5 mm a step.
    const segments = listedSegments(cone([0, 0, 100], Z, 0.05, 1))
    expectPlace(moveToWaist(segments, facing([0, 0, 10], Z, 1), DISC), [0, 0, 60], 1e-6)
    expectPlace(moveToWaist(segments, facing([0, 0, 190], Z, 1), DISC), [0, 0, 140], 1e-6)
    // 0.002 at least: 6250 mm a step.
    const slender = listedSegments(cone([0, 0, 30_000], Z, 1e-4, 1, 40_000, 80_000))
    expectPlace(moveToWaist(slender, facing([0, 0, 0], Z, 1e-5), DISC), [0, 0, 25_000], 1e-2)
  })
  test('parallel light has none: onto its middle', () => {
    // 1 W at x = 1 and 3 W at x = 3: 2.5.
    const segments = listedSegments([through([1, 0, 100], Z, 1), through([3, 0, 100], Z, 3)])
    expectPlace(moveToWaist(segments, facing([0, 0, 100], Z, 0), DISC), [2.5, 0, 100], 1e-9)
  })
  test('not where it may not lie', () => {
    const segments = listedSegments(cone([0, 0, 100], Z, 0.05, 1))
    const disc = facing([1, 0, 60], Z, 0.05)
    expect(moveToWaist(segments, disc, DISC, (_x, _y, z) => z < 99)).toEqual(disc)
    expect(moveToWaist(segments, disc, DISC, (x) => x > 0.5)).toEqual(disc)
    expect(moveToWaist(segments, disc, DISC, (_x, y) => y > 0.5)).toEqual(disc)
    expectPlace(
      moveToWaist(segments, disc, DISC, (x, y, z) => x < 0.5 && y < 0.5 && z > 99),
      [0, 0, 100],
      1e-3,
    )
  })
  test('not where it would lose more than a hundredth', () => {
    // A ray that leaves the disc on the way: 4.5 mm off the axis, outwards by 0.05.
    const withStray = (watts: number) =>
      listedSegments([...cone([0, 0, 60], Z, 0.05, 1), through([4.5, 0, 0], [0.05, 0, 1], watts)])
    const moved = (segments: Segments) => moveToWaist(segments, facing([0, 0, 0], Z, 0.05), DISC).zMm
    // 0.8 % of 4 W is left behind, 1.2 % isn't.
    expect(moved(withStray(0.032))).toBeGreaterThan(50)
    expect(moved(withStray(0.049))).toBe(0)
  })
  test('without light it stays', () => {
    const disc = facing([50, 0, 60], Z, 0.05)
    expect(moveToWaist(listedSegments(cone([0, 0, 100], Z, 0.05, 1)), disc, DISC)).toEqual(disc)
  })
})
