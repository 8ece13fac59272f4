// Rays on planes: samples of them, discs that grow, and the climb on a plane, worked by hand.
import { describe, expect, test } from 'vitest'
import { climbPlanes } from '../../src/hazard/planeClimb.ts'
import { measureDiscs } from '../../src/hazard/planeDiscs.ts'
import { gatherRays, type Sample, type Spot2, takeSample, thinRays } from '../../src/hazard/planes.ts'
import { runToEnd } from '../../src/num/scheduler.ts'
import { T95 } from '../../src/num/stats.ts'
import type { RayColumns } from '../../src/run/exits.ts'
import { expectWithin } from '../kit/expect.ts'
import { type ListedRay, listedColumns } from '../kit/handSegments.ts'

const because = 'by hand'
/** Ray i at x = i. */
const numbered = (count: number) =>
  listedColumns(Array.from({ length: count }, (_, i) => ({ at: [i, -i], slope: [2 * i, 3 * i], watts: i + 1 })))
const all = () => true

describe('a sample', () => {
  test('of some batches, whole', () => {
    const { index, factor, batches } = takeSample(numbered(40), (b) => b === 1 || b === 3, 100)
    expect([...index]).toEqual([1, 3, 17, 19, 33, 35])
    expect([factor, batches]).toEqual([8, 2])
    // Just as many as wanted.
    expect(takeSample(numbered(40), (b) => b === 1 || b === 3, 6).index.length).toBe(6)
  })
  test('thinned by an odd stride, which has no factor in common with 16', () => {
    // 40 of 40 to at most 13: ⌈40/13⌉ = 4, so every fifth.
    const four = takeSample(numbered(40), all, 13)
    expect([...four.index]).toEqual([0, 5, 10, 15, 20, 25, 30, 35])
    expectWithin(four.factor, 5, { abs: 1e-15, because: '40/8' })
    expect(four.batches).toBe(16)
    // To at most 19: ⌈40/19⌉ = 3 as it is; 14 rays, 40/14.
    const three = takeSample(numbered(40), all, 19)
    expect([...three.index].slice(0, 3)).toEqual([0, 3, 6])
    expect(three.index.length).toBe(14)
    expectWithin(three.factor, 40 / 14, { rel: 1e-15, because })
    // Even batches of 40 rays are 0, 2, 4 …: 20; to at most 7 every third of them, and they stand for twice as many.
    const even = takeSample(numbered(40), (b) => b % 2 === 0, 7)
    expect([...even.index]).toEqual([0, 6, 12, 18, 24, 30, 36])
    expectWithin(even.factor, (2 * 20) / 7, { rel: 1e-15, because })
  })
  test('an empty one has factor 0', () => {
    expect(takeSample(numbered(0), all, 5)).toMatchObject({ factor: 0, batches: 16 })
    const none = takeSample(numbered(3), (b) => b === 9, 5)
    expect([none.index.length, none.factor, none.batches]).toEqual([0, 0, 1])
  })
})

test('gathered rays lie side by side, every column', () => {
  const rays = numbered(40)
  const { rays: own, sample } = gatherRays(
    rays,
    takeSample(rays, (b) => b === 1 || b === 3, 100),
  )
  const index = [1, 3, 17, 19, 33, 35]
  expect(own.count).toBe(6)
  for (const name of ['xMm', 'yMm', 'slopeX', 'slopeY', 'watts', 'lumens', 'batch'] as const)
    expect([...own[name]]).toEqual(index.map((i) => rays[name][i]))
  expect([own.zMm, own.wattsOfOne]).toEqual([rays.zMm, rays.wattsOfOne])
  expect([...sample.index]).toEqual([0, 1, 2, 3, 4, 5])
  expect([sample.factor, sample.batches]).toEqual([8, 2])
  // Numbers for larger and smaller ones, one after the other.
  for (const count of [3, 50, 7]) {
    const some = numbered(count)
    expect([...gatherRays(some, takeSample(some, all, 100)).sample.index]).toEqual(
      Array.from({ length: count }, (_, k) => k),
    )
  }
})

describe('thinned rays', () => {
  test('are all of them where they are few enough', () => {
    const rays = numbered(40)
    expect(thinRays(rays, 40)).toBe(rays)
    expect(thinRays(rays, Number.POSITIVE_INFINITY)).toBe(rays)
  })
  test('else each is worth more', () => {
    const thin = thinRays(numbered(40), 39)
    // ⌈40/39⌉ = 2, so every third: 14 rays for 40.
    expect(thin.count).toBe(14)
    expectWithin(thin.watts[1]!, (4 * 40) / 14, { rel: 1e-6, because: 'ray 3 has 4 W' })
    expectWithin(thin.lumens[1]!, (1200 * 40) / 14, { rel: 1e-6, because: 'and 1200 lm' })
    expectWithin(thin.wattsOfOne, 40 / 14, { rel: 1e-12, because })
    expect([thin.xMm[1], thin.slopeY[1]]).toEqual([3, 9])
  })
})

/** Of one disc among two others, so that what belongs to one isn't another's. */
function measureDisc(
  rays: RayColumns,
  sample: Sample,
  distanceMm: number,
  place: Spot2,
  discMm: number,
  enough: number,
) {
  const others = [0, 1].map((k) => ({ distanceMm: 20 * k, xMm: 3 - k, yMm: 2 }))
  const places = [others[0]!, { ...place, distanceMm }, others[1]!]
  return runToEnd(measureDiscs(gatherRays(rays, sample), places, discMm, enough))[1]!
}

const whole = (rays: RayColumns, factor = 1): Sample => ({
  index: Uint32Array.from({ length: rays.count }, (_, k) => k),
  factor,
  batches: 16,
})
/** kW/m² of so many watts on a disc of this diameter. */
const onDisc = (watts: number, discMm: number) => (watts * 1000) / (Math.PI * (discMm / 2) ** 2)

describe('a disc on a plane', () => {
  /** One ray of so many watts in each batch, on the axis. */
  const batches = (watts: (b: number) => number, wattsOfOne = 0) =>
    listedColumns(
      Array.from({ length: 16 }, (_, b) => ({ at: [0, 0], watts: watts(b) })),
      { wattsOfOne },
    )
  test('rays are carried to its distance; its edge belongs to it', () => {
    // At 80 mm: (3, 4).
    const rays = listedColumns([{ at: [-7, 24], slope: [0.125, -0.25] }])
    const at = (place: [number, number], discMm: number, distanceMm = 80) =>
      measureDisc(rays, whole(rays), distanceMm, { xMm: place[0], yMm: place[1] }, discMm, 0).rays
    expect(at([3, 4], 0.01)).toBe(1)
    expect(at([3, 8], 8)).toBe(1)
    expect(at([3, 8], 7.999)).toBe(0)
    expect(at([-1, 4], 8.0001)).toBe(1)
    expect(at([-1, 4], 7.999)).toBe(0)
    expect(at([0, 0], 10.00001)).toBe(1)
    expect(at([0, 0], 9.999)).toBe(0)
    expect(at([3, 4], 1, 79)).toBe(1)
    expect(at([3, 4], 1, 74)).toBe(0)
    const edge = listedColumns([{ at: [5, 0] }, { at: [0, -5] }, { at: [3, 4] }, { at: [-5, 0] }])
    expect(measureDisc(edge, whole(edge), 0, { xMm: 0, yMm: 0 }, 10, 0).rays).toBe(4)
  })
  test('all batches: sum and √(16/15 Σ (s − s̄)²), as the sample stands for the whole', () => {
    // Batch b holds b W: 120 W, Σ (b − 7.5)² = 340.
    const rays = batches((b) => b)
    const { kWm2, se, discMm, rays: count } = measureDisc(rays, whole(rays, 3), 50, { xMm: 1, yMm: -1 }, 10, 0)
    expectWithin(kWm2, onDisc(360, 10), { rel: 1e-12, because })
    expectWithin(se, onDisc(3 * Math.sqrt((16 / 15) * 340), 10), { rel: 1e-12, because })
    expect([discMm, count]).toEqual([10, 16])
  })
  test('a part of them: √(n/(n − 1) Σ (s − s̄)²)', () => {
    // Odd batches hold 1, 3 … 15 W: 64 W, mean 8, Σ = 168; each stands for two.
    const rays = batches((b) => b)
    const sample = takeSample(rays, (b) => b % 2 === 1, 100)
    const { kWm2, se, rays: count } = measureDisc(rays, sample, 0, { xMm: 0, yMm: 0 }, 10, 0)
    expectWithin(kWm2, onDisc(128, 10), { rel: 1e-12, because })
    expectWithin(se, onDisc(2 * Math.sqrt((8 / 7) * 168), 10), { rel: 1e-12, because })
    expect(count).toBe(8)
    // Equal ones: no scatter, and never the root of less than nothing.
    const equal = batches(() => 0.1)
    expect(
      measureDisc(
        equal,
        takeSample(equal, (b) => b % 3 === 1, 100),
        0,
        { xMm: 0, yMm: 0 },
        10,
        0,
      ).se,
    ).toBeLessThan(1e-6)
  })
  test('at least one ray’s watts', () => {
    const rays = batches(() => 1, 5)
    expectWithin(measureDisc(rays, whole(rays, 3), 0, { xMm: 0, yMm: 0 }, 10, 0).se, onDisc(15, 10), {
      rel: 1e-12,
      because,
    })
    expectWithin(measureDisc(rays, whole(rays, 3), 0, { xMm: 90, yMm: 0 }, 10, 0).se, onDisc(15, 10), {
      rel: 1e-12,
      because: 'also where there is none',
    })
  })
  test('± is wider by what the hottest disc a sixteenth of the radius aside holds more', () => {
    // R = 8: of discs 0.25 and 0.5 mm aside, that at 0.5 mm along x takes in the three rays at 8.4 mm and loses that at −7.9.
    const list = [...Array.from({ length: 32 }, () => [0, 0]), [8.4, 0], [8.4, 0.1], [8.4, -0.1], [-7.9, 0]] as const
    const rays = listedColumns(
      list.map(([x = 0, y = 0], i) => ({ at: [x, y] as const, batch: i % 16 })),
      { wattsOfOne: 1 },
    )
    const at = (enough: number) => measureDisc(rays, whole(rays), 0, { xMm: 0, yMm: 0 }, 16, enough)
    const { kWm2, se } = at(33)
    expectWithin(kWm2, onDisc(33, 16), { rel: 1e-12, because })
    // Batches hold 2 W, one 3 W: 16/15 · 15/16 = 1 W.
    expectWithin(T95 * se, onDisc(T95 + 2, 16), { rel: 1e-9, because })
    expectWithin(at(0).se, se, { rel: 1e-12, because: 'it stays' })
    // Grown to 24 mm it holds all; whatever lies beside that isn't asked.
    expectWithin(at(34).kWm2, onDisc(36, 24), { rel: 1e-12, because })
    expectWithin(at(34).se, onDisc(Math.sqrt((16 / 15) * (4 - 16 / 16)), 24), { rel: 1e-9, because })
  })
  describe('grows by half until it holds enough', () => {
    // Rays at 1, 7, 11, 16, 24, 30 mm of the axis; radii 5, 7.5, 11.25, 16.875, 25 (five times, not 25.3).
    const rays = listedColumns([1, 7, 11, 16, 24, 30].map((x) => ({ at: [x, 0] })))
    const grown = (enough: number, distanceMm = 0) => {
      const { discMm, rays: count, kWm2 } = measureDisc(rays, whole(rays), distanceMm, { xMm: 0, yMm: 0 }, 10, enough)
      expectWithin(kWm2, onDisc(count, discMm), { rel: 1e-12, because: '1 W each' })
      return [discMm, count]
    }
    test.each([
      [0, 10, 1],
      [1, 10, 1],
      [2, 15, 2],
      [3, 22.5, 3],
      [4, 33.75, 4],
      [5, 50, 5],
      [6, 50, 5],
    ])('%i: %d mm', (enough, discMm, count) => expect(grown(enough)).toEqual([discMm, count]))
    test('far out to 0.004 rad', () => {
      // At 16 m 64 mm: 6.4 times; the ray at 30 mm is within. At 12.5 m five times are as much.
      expect(grown(6, 16_000)).toEqual([64, 6])
      expect(grown(6, 12_000)).toEqual([50, 5])
      // 15.1 m: 60.4 mm.
      expectWithin(grown(6, 15_100)[0]!, 60.4, { rel: 1e-12, because })
    })
    test('with errors of its own rays alone', () => {
      // The second disc holds two of 16 batches with 1 W: Σ (s − 1/8)² = 2 − 4/16.
      expectWithin(
        measureDisc({ ...rays, wattsOfOne: 0 }, whole(rays), 0, { xMm: 0, yMm: 0 }, 10, 2).se,
        onDisc(Math.sqrt((16 / 15) * 1.75), 15),
        { rel: 1e-12, because },
      )
    })
  })
})

/** Beside one of another size. */
function climbOne(rays: RayColumns, start: Parameters<typeof climbPlanes>[1][number]) {
  const places = runToEnd(climbPlanes(rays, [{ ...start, xMm: start.xMm + 4, discMm: 3 }, start]))
  const { distanceMm, ...place } = places[1]!
  expect(distanceMm).toBe(start.distanceMm)
  return place
}

describe('the climb on a plane, steps of 2.5, 1.25, 0.625 and 0.3125 mm for 10 mm', () => {
  const climb = (list: readonly ListedRay[], start: [number, number] = [0, 0], distanceMm = 0) =>
    climbOne(listedColumns(list), { distanceMm, xMm: start[0], yMm: start[1], discMm: 10 })
  test('to where the disc holds more', () => {
    // Rays 6 mm apart: the first step has both.
    for (const [dx, dy] of [
      [1, 0],
      [-1, 0],
      [0, 1],
      [0, -1],
    ] as const) {
      const { xMm, yMm, watts, cos } = climb([{ at: [20, 30] }, { at: [20 + 6 * dx, 30 + 6 * dy], watts: 2 }], [20, 30])
      expect([xMm, yMm, watts, cos]).toEqual([20 + 2.5 * dx, 30 + 2.5 * dy, 3, 1])
    }
    // 5.2 mm: that has both too; at 9.2 mm only 4.375 would, and no single step leads there.
    expect(climb([{ at: [0, 0] }, { at: [9.2, 0], watts: 2 }])).toMatchObject({ xMm: 0, watts: 1 })
  })
  test('smaller steps where larger ones fall short', () => {
    // 1 W 4.5 mm to the left and 1 W 5.6 mm to the right: both within 5 mm from 0.6 to 0.5 only … 0.625 loses the first by 0.125.
    expect(climb([{ at: [-4.5, 0] }, { at: [5.6, 0] }])).toMatchObject({ xMm: 0, watts: 1 })
    // 4.3 and 5.6: from 0.6 to 0.7; 0.625.
    expect(climb([{ at: [-4.3, 0] }, { at: [5.6, 0] }])).toMatchObject({ xMm: 0.625, watts: 2 })
    // 4.65 and 5.3: from 0.3 to 0.35; 0.3125.
    expect(climb([{ at: [-4.65, 0] }, { at: [5.3, 0] }])).toMatchObject({ xMm: 0.3125, watts: 2 })
    expect(climb([{ at: [0, 4.65] }, { at: [0, -5.3] }])).toMatchObject({ yMm: -0.3125, watts: 2 })
    // 4.8 and 5.15: 0.15 to 0.2 has both, which no step meets.
    expect(climb([{ at: [-4.8, 0] }, { at: [5.15, 0] }])).toMatchObject({ xMm: 0, watts: 1 })
  })
  test('no further than a disc from its start', () => {
    // Ever stronger to the right, 2 mm apart: 10 mm; rays 15 mm off its start count, later ones don't.
    const row = Array.from({ length: 20 }, (_, k): ListedRay => ({ at: [2 * k, 0], watts: 1.5 ** k }))
    expect(climb(row).xMm).toBe(10)
    const column = Array.from({ length: 20 }, (_, k): ListedRay => ({ at: [0, -2 * k], watts: 1.5 ** k }))
    expect(climb(column)).toMatchObject({ xMm: 0, yMm: -10 })
    const left = row.map(({ at: [x], watts = 1 }): ListedRay => ({ at: [-x, 0], watts }))
    expect(climb(left).xMm).toBe(-10)
    const up = row.map(({ at: [x], watts = 1 }): ListedRay => ({ at: [0, x], watts }))
    expect(climb(up).yMm).toBe(10)
  })
  test('of places that hold the same the first stays; the disc’s edge belongs to it', () => {
    expect(climb([{ at: [5, 0] }, { at: [0, -5] }, { at: [-3, 4] }])).toMatchObject({ xMm: 0, yMm: 0, watts: 3 })
    expect(climb([])).toEqual({ xMm: 0, yMm: 0, watts: 0, cos: 1 })
  })
  test('rays are carried to the plane', () => {
    // At 100 mm: (0, 0) and (6, 0).
    const { xMm, watts } = climb(
      [
        { at: [-10, 20], slope: [0.1, -0.2] },
        { at: [-14, 10], slope: [0.2, -0.1] },
      ],
      [0, 0],
      100,
    )
    expect([xMm, watts]).toEqual([2.5, 2])
  })
  test('the cosine of the mean direction of what is in the disc, by watts', () => {
    // Slopes (0.75, 0): direction (0.6, 0, 0.8), 1 W; (0, −0.75), 2 W; a third is outside. Sum (0.6, −1.2, 2.4): 2.4/√7.56.
    const list: ListedRay[] = [
      { at: [0, 0], slope: [0.75, 0] },
      { at: [1, 1], slope: [0, -0.75], watts: 2 },
      { at: [12, 0], slope: [3, 0], watts: 0.5 },
    ]
    expectWithin(climb(list).cos, 2.4 / Math.sqrt(7.56), { rel: 1e-12, because })
    // 0.2 at least: slope 10 has 1/√101.
    expect(climb([{ at: [0, 0], slope: [10, 0] }]).cos).toBe(0.2)
    expectWithin(climb([{ at: [0, 0], slope: [0, 4] }]).cos, 1 / Math.sqrt(17), { rel: 1e-12, because })
    // At the edge it belongs to it, as to its watts.
    expectWithin(climb([{ at: [5, 0], slope: [0.75, 0] }]).cos, 0.8, { rel: 1e-7, because })
  })
  test('thinned to 3000 of those near by, which stand for all', () => {
    // 6200 rays near by in two spots: every third; and some far off that don't count.
    const list = [
      ...Array.from({ length: 6200 }, (_, k): ListedRay => ({ at: [k % 2 === 0 ? 0 : 6, 0], slope: [0.75, 0] })),
      ...[
        [16, 0],
        [-16, 0],
        [0, 16],
        [0, -16],
      ].map((at): ListedRay => ({ at: at as [number, number] })),
    ]
    const { xMm, watts, cos } = climb(list)
    expect(xMm).toBe(2.5)
    expectWithin(watts, 6200, { rel: 1e-12, because: 'all of them' })
    expectWithin(cos, 0.8, { rel: 1e-7, because })
  })
})
