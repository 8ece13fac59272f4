// What of the light comes near a place and crosses a disc there, ray by ray.
import { describe, expect, test } from 'vitest'
import { crowdOn, powerOn, projectNear, readDirection as readDirectionOn } from '../../../src/hazard/air/crossings.ts'
import {
  dot,
  gatherNear,
  listCrossing,
  makeNearRoom,
  type Near,
  powerThrough,
  startDirection,
  type V3,
} from '../../../src/hazard/air/near.ts'
import { makeSampler } from '../../../src/num/rng.ts'
import { expectWithin } from '../../kit/expect.ts'
import { type NearRay, nearOf } from '../../kit/handNear.ts'
import { listedSegments } from '../../kit/handSegments.ts'

const place = { xMm: 10, yMm: 20, zMm: 30 }
/** Numbers of the segments that are gathered about (10, 20, 30) within 5 mm, by their watts: 1, 2, 4 … */
const gathered = (rays: readonly { from: V3; towards: V3; lengthMm?: number }[]) => {
  const near = gatherNear(listedSegments(rays.map((r, i) => ({ ...r, watts: i + 1 }))), place, 5)
  return [...near.watts].map((w) => w - 1)
}

describe('segments near a place', () => {
  test('by the nearest point of each: its foot, or the end that is nearer', () => {
    expect(
      gathered([
        { from: [10, 24, -70], towards: [0, 0, 1] }, // 4 mm beside
        { from: [10, 26, -70], towards: [0, 0, 1] }, // 6 mm beside
        { from: [10, 20, 36], towards: [0, 0, 1] }, // begins 6 mm beyond and runs away
        { from: [10, 20, 34], towards: [0, 0, 1] }, // begins 4 mm beyond
        { from: [10, 20, 36], towards: [0, 0, -1] }, // comes back through it
        { from: [10, 20, -70], towards: [0, 0, 1], lengthMm: 94 }, // ends 6 mm before
        { from: [10, 20, -70], towards: [0, 0, 1], lengthMm: 96 }, // ends 4 mm before
        { from: [-90, 24, 30], towards: [1, 0, 0] },
        { from: [-90, 26, 30], towards: [1, 0, 0] },
        { from: [10, -80, 26], towards: [0, 1, 0] },
        { from: [10, -80, 24], towards: [0, 1, 0] },
        { from: [16, -80, 30], towards: [0, 1, 0] },
      ]),
    ).toEqual([0, 3, 4, 6, 7, 9])
  })
  test('of slanting ones: (10, 20, 30) + s w − t d, s the distance when w is a unit vector square to d', () => {
    // d = (2, 3, 6)/7; w = (3, −2, 0)/√13 and (6, 0, −2)/√40 are square to it.
    const aside = (s: number, w: V3) => {
      const unit = s / Math.hypot(...w)
      return {
        from: [10 + unit * w[0] - 20, 20 + unit * w[1] - 30, 30 + unit * w[2] - 60] as V3,
        towards: [2, 3, 6] as V3,
      }
    }
    expect(
      gathered([
        aside(4.9, [3, -2, 0]),
        aside(5.1, [3, -2, 0]),
        aside(4.9, [-6, 0, 2]),
        aside(5.1, [-6, 0, 2]),
        aside(4.9, [0, -6, 3]),
        aside(5.1, [0, 6, -3]),
      ]),
    ).toEqual([0, 2, 4])
  })
  test('at the reach itself none', () => {
    expect(gathered([{ from: [10, 25, -70], towards: [0, 0, 1] }])).toEqual([])
    expect(gathered([])).toEqual([])
  })
  test('every column, relative to the place', () => {
    const segments = listedSegments([
      { from: [500, 0, 0], towards: [1, 0, 0] },
      { from: [9, 17, 25], towards: [0.48, 0.6, 0.64], lengthMm: 12, watts: 3, batch: 7 },
    ])
    const near = gatherNear(segments, place, 8)
    const row = [near.x, near.y, near.z, near.dx, near.dy, near.dz, near.length, near.watts, near.batch].map(
      (c) => c[0],
    )
    expect(near.count).toBe(1)
    expect(near.x.length).toBe(1)
    for (const [k, value] of [-1, -3, -5, 0.48, 0.6, 0.64, 12, 3, 7].entries())
      expectWithin(row[k]!, value, { abs: 1e-7, because: 'single precision' })
  })
  test('thinned: those that the sampler of the wanted share takes, standing for all', () => {
    const all = 1000
    const segments = listedSegments(
      Array.from({ length: all }, (_, i) => ({ from: [10, 20, 30], towards: [0, 0, 1], watts: 2, lengthMm: i + 1 })),
    )
    const taken = makeSampler(0.25)
    const expected = Array.from({ length: all }, (_, i) => i).filter(taken)
    const near = gatherNear(segments, place, 5, 250)
    expect([...near.length].map((l) => l - 1)).toEqual(expected)
    for (const w of near.watts)
      expectWithin(w, (2 * all) / expected.length, { rel: 1e-12, because: '2 W of each of 1000' })
    expect(gatherNear(segments, place, 5, all).count).toBe(all)
    // Columns that were used before are longer, and hold the same.
    const room = makeNearRoom()
    gatherNear(segments, place, 5, all, room)
    const again = gatherNear(segments, place, 5, 250, room)
    expect(again.count).toBe(near.count)
    expect([...again.length.subarray(0, again.count)]).toEqual([...near.length])
    // Fewer near by than the most that are wanted: all of them.
    expect(gatherNear(listedSegments([{ from: [10, 20, 30], towards: [0, 0, 1] }]), place, 5, 250).watts[0]).toBe(1)
  })
})

const Z: V3 = [0, 0, 1]
const listed = (near: Near, c: V3, n: V3, radius: number): number[] => {
  const { count, index } = listCrossing(near, c, n, radius)
  return [...index.subarray(0, count)]
}
const ANYWHERE = { acrossMm: Number.POSITIVE_INFINITY, alongMm: Number.POSITIVE_INFINITY }
const onto = (near: Near, n: V3) => projectNear(near, n, ANYWHERE)
const readDirection = (near: Near, c: V3, n: V3, radius: number) => readDirectionOn(near, onto(near, n), c, radius)

describe.each([
  ['listed', (near: Near, c: V3, n: V3, radius: number) => listed(near, c, n, radius).length],
  ['summed', (near: Near, c: V3, n: V3, radius: number) => powerThrough(near, c, n, radius)],
  ['projected', (near: Near, c: V3, n: V3, radius: number) => powerOn(onto(near, n), c, radius)],
] as const)('what crosses a disc, %s', (_name, count) => {
  test('up to its edge, from the side it faces', () => {
    expect(count(nearOf([{ x: [3, 4, -10], d: Z }]), [0, 0, 0], Z, 5)).toBe(1)
    expect(count(nearOf([{ x: [3, 4.001, -10], d: Z }]), [0, 0, 0], Z, 5)).toBe(0)
    expect(count(nearOf([{ x: [0, 0, 10], d: [0, 0, -1] }]), [0, 0, 0], Z, 5)).toBe(0)
    expect(count(nearOf([{ x: [-10, 3, -4], d: [1, 0, 0] }]), [0, 0, 0], [1, 0, 0], 5)).toBe(1)
    expect(count(nearOf([{ x: [-10, 3, -4.1], d: [1, 0, 0] }]), [0, 0, 0], [1, 0, 0], 5)).toBe(0)
  })
  test('from the segment’s beginning on to its end, both included', () => {
    expect(count(nearOf([{ x: [0, 0, 0], d: Z }]), [0, 0, 0], Z, 5)).toBe(1)
    expect(count(nearOf([{ x: [0, 0, 0.001], d: Z }]), [0, 0, 0], Z, 5)).toBe(0)
    expect(count(nearOf([{ x: [0, 0, -7], d: Z, length: 7 }]), [0, 0, 0], Z, 5)).toBe(1)
    expect(count(nearOf([{ x: [0, 0, -7], d: Z, length: 6.999 }]), [0, 0, 0], Z, 5)).toBe(0)
  })
  test('unless it runs along the disc: a cosine of 1e-6 or less', () => {
    const along = (cos: number) => nearOf([{ x: [0, 0, 0], d: [1, 0, cos] }])
    expect(count(along(1e-6), [0, 0, 0], Z, 5)).toBe(0)
    expect(count(along(1.1e-6), [0, 0, 0], Z, 5)).toBe(1)
  })
  test('of a slanting disc elsewhere, slanting rays: only the one that meets it within its radius', () => {
    // The disc lies about c, square to n = (2, 3, 6)/7; (3, −2, 0)/√13 lies in it. d = (0.6, 0, 0.8): 6 mm before it.
    const n: V3 = [2 / 7, 3 / 7, 6 / 7]
    const c: V3 = [5, -4, 3]
    const d: V3 = [0.6, 0, 0.8]
    const beside = (s: number, w: V3): NearRay => {
      const t = s / Math.hypot(...w)
      return { x: [0, 1, 2].map((k) => c[k]! + t * w[k]! - 6 * d[k]!) as V3, d, length: 7 }
    }
    // Both are square to n.
    for (const w of [
      [3, -2, 0],
      [-3, 2, 0],
      [-12, -18, 13],
      [12, 18, -13],
    ] as V3[]) {
      expect(count(nearOf([beside(1.99, w)]), c, n, 2)).toBe(1)
      expect(count(nearOf([beside(2.01, w)]), c, n, 2)).toBe(0)
      expect(count(nearOf([{ ...beside(1.99, w), length: 5.99 }]), c, n, 2)).toBe(0)
    }
  })
})

test('which they are', () => {
  const near = nearOf([
    { x: [9, 0, -1], d: Z },
    { x: [1, 2, -1], d: Z },
    { x: [-3, 1, -1], d: Z },
  ])
  expect(listed(near, [0, 0, 0], Z, 5)).toEqual([1, 2])
})

test('the sum is of watts', () => {
  const near = nearOf([
    { x: [1, 2, -1], d: Z, watts: 3 },
    { x: [-3, 1, -1], d: Z, watts: 0.5 },
    { x: [-30, 1, -1], d: Z, watts: 7 },
  ])
  expect(powerThrough(near, [0, 0, 0], Z, 5)).toBe(3.5)
  expect(powerOn(onto(near, Z), [0, 0, 0], 5)).toBe(3.5)
})

describe('direction of the net flux', () => {
  test('each ray by its watts over its cosine', () => {
    // 3 W along z and 4 W along (0.6, 0, 0.8) on a disc across z: 3 z + 5 (0.6, 0, 0.8) = (3, 0, 7).
    const near = nearOf([
      { d: Z, watts: 3 },
      { d: [0.6, 0, 0.8], watts: 4 },
    ])
    const { n, spread } = readDirection(near, [0, 0, 0], Z, 5)!
    const length = Math.sqrt(58)
    expectWithin(n[0], 3 / length, { abs: 1e-15, because: 'by hand' })
    expectWithin(n[1], 0, { abs: 1e-15, because: 'by hand' })
    expectWithin(n[2], 7 / length, { abs: 1e-15, because: 'by hand' })
    // Mean of the cosines √58/8; cos a ≈ 1 − a²/2.
    expectWithin(spread, Math.sqrt(2 * (1 - length / 8)), { abs: 1e-15, because: 'by hand' })
  })
  test('of all three axes', () => {
    // (2, 3, 6)/7 with 6 W on a disc across z: 6/(6/7) = 7, so (2, 3, 6); and across y and x the same direction.
    for (const axis of [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as V3[]) {
      const near = nearOf([
        { d: [2 / 7, 3 / 7, 6 / 7], watts: 6 },
        { d: axis, watts: 2 },
      ])
      const { n } = readDirection(near, [0, 0, 0], axis, 5)!
      const share = 6 / dot([2 / 7, 3 / 7, 6 / 7], axis)
      const sum = axis.map((a, k) => 2 * a + (share * [2, 3, 6][k]!) / 7)
      const length = Math.hypot(...sum)
      for (const k of [0, 1, 2]) expectWithin(n[k]!, sum[k]! / length, { abs: 1e-15, because: 'by hand' })
    }
  })
  test('a grazing ray counts by a tenth at least', () => {
    // 1 W at a cosine of 0.05: 10 times itself, not 20; with 10 W along z (10·√0.9975, 0, 10.5).
    const x = Math.sqrt(1 - 0.05 ** 2)
    const near = nearOf([
      { d: Z, watts: 10 },
      { d: [x, 0, 0.05], watts: 1 },
    ])
    const { n } = readDirection(near, [0, 0, 0], Z, 5)!
    expectWithin(n[0] / n[2], (10 * x) / 10.5, { rel: 1e-14, because: 'by hand' })
  })
  test('one direction has no spread, whatever its last digits; no light has no direction', () => {
    expect(readDirection(nearOf([{ d: [0, 0, 1 + 1e-7] }]), [0, 0, 0], Z, 5)!.spread).toBe(0)
    expect(readDirection(nearOf([{ x: [9, 0, 0], d: Z }]), [0, 0, 0], Z, 5)).toBeNull()
    expect(readDirection(nearOf([]), [0, 0, 0], Z, 5)).toBeNull()
  })
})

describe('a direction to begin with', () => {
  test('the mean of what passes within the radius, by watts', () => {
    // 3 (0, 0, 1) + 5 (0.6, 0, 0.8) = (3, 0, 7); the third passes 5.1 mm off and the fourth 5 mm exactly.
    const rays: NearRay[] = [
      { x: [0, 0, -10], d: Z, watts: 3 },
      { x: [-6, 0, -8], d: [0.6, 0, 0.8], watts: 5 },
      { x: [0, 5.1, -10], d: Z, watts: 100 },
    ]
    const n = startDirection(nearOf(rays), 5)!
    for (const [k, v] of [3, 0, 7].entries()) expectWithin(n[k]!, v / Math.sqrt(58), { abs: 1e-15, because: 'by hand' })
    // 8 W more along z at the very edge: (3, 0, 15).
    const more = startDirection(nearOf([...rays, { x: [0, 5, -10], d: Z, watts: 8 }]), 5)!
    expectWithin(more[0] / more[2], 3 / 15, { abs: 1e-15, because: 'by hand' })
  })
  test('distances of a slanting ray count from its line', () => {
    // From (6, 9, 18) − 21 (2, 3, 6)/7 = 0; aside by s (3, −2, 0)/√13 and s (−12, −18, 13)/√637.
    for (const [w, length] of [
      [[3, -2, 0], Math.sqrt(13)],
      [[-12, -18, 13], Math.sqrt(637)],
    ] as const)
      for (const [aside, counts] of [
        [4.9, true],
        [5.1, false],
      ] as const) {
        const s = aside / length
        const n = startDirection(
          nearOf([
            { x: [0, 0, -1], d: Z },
            { x: [s * w[0] - 6, s * w[1] - 9, s * w[2] - 18], d: [2 / 7, 3 / 7, 6 / 7], watts: 7 },
          ]),
          5,
        )!
        // Z + 7 (2, 3, 6)/7 = (2, 3, 7), or Z alone.
        expectWithin(n[0], counts ? 2 / Math.sqrt(62) : 0, { abs: 1e-14, because: 'by hand' })
        expectWithin(n[1], counts ? 3 / Math.sqrt(62) : 0, { abs: 1e-14, because: 'by hand' })
      }
  })
  test('the axis that most of it runs along, where the mean stands across all of it', () => {
    // Three pairs head on cancel; 1 mW along y leaves the mean there.
    const pair = (d: V3, watts: number): NearRay[] => [
      { x: [-9 * d[0], -9 * d[1], -9 * d[2]], d, watts },
      { x: [9 * d[0], 9 * d[1], 9 * d[2]], d: [-d[0], -d[1], -d[2]], watts },
    ]
    for (const [d, opposite] of [
      [
        [1, 0, 0],
        [-1, 0, 0],
      ],
      [
        [0, 1, 0],
        [0, -1, 0],
      ],
      [
        [0, 0, 1],
        [0, 0, -1],
      ],
    ] as [V3, V3][]) {
      // Of equal ones the first.
      expect(startDirection(nearOf(pair(d, 2)), 5)).toEqual(d)
      const other: V3 = d[0] === 0 ? [1, 0, 0] : [0, 1, 0]
      const n = startDirection(
        nearOf([
          ...pair(d, 2),
          { d: [0.6 * d[0] + 0.8 * other[0], 0.6 * d[1] + 0.8 * other[1], 0.6 * d[2]], watts: 1e-3 },
          { d: [-0.6 * d[0] + 0.8 * other[0], -0.6 * d[1] + 0.8 * other[1], -0.6 * d[2]], watts: 1e-3 },
        ]),
        5,
      )!
      // The mean runs along `other`; 2 W go along d and against it, and the 1 mW with them.
      expect(n).toEqual(d)
      // Weaker along d: against it.
      const [there, back] = pair(d, 2) as [NearRay, NearRay]
      expect(startDirection(nearOf([there, { ...back, watts: 3 }]), 5)).toEqual(opposite.map((v) => v + 0))
    }
  })
  test('none without light', () => {
    expect(startDirection(nearOf([]), 5)).toBeNull()
    expect(startDirection(nearOf([{ x: [0, 0, 1], d: Z }]), 5)).toBeNull()
  })
})

test('crowding: each ray within two radii by 1 − (r/2R)²', () => {
  // R = 5: 2 W at 0, 3 W at 6 (1 − 0.36), 4 W at 10 (0), 5 W beyond.
  const near = nearOf([
    { x: [0, 0, -1], d: Z, watts: 2 },
    { x: [0, 6, -1], d: Z, watts: 3 },
    { x: [10, 0, -1], d: Z, watts: 4 },
    { x: [11, 0, -1], d: Z, watts: 5 },
  ])
  expectWithin(crowdOn(onto(near, Z), [0, 0, 0], 5), 2 + 3 * 0.64, { abs: 1e-15, because: 'by hand' })
})

test('scalar product', () => {
  expect(dot([1, 2, 3], [4, -5, 7])).toBe(15)
})
