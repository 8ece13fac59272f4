// The lattice on planes across the axis: its hottest point and the points that stand out, against plain sums.
import { describe, expect, test } from 'vitest'
import { makePlaneFinder, type PlaneFinderOptions } from '../../../src/hazard/air/planes.ts'
import { seededRandom } from '../../../src/num/rng.ts'
import { expectWithin } from '../../kit/expect.ts'
import { type ListedRay, listedColumns } from '../../kit/handSegments.ts'

const options = (over: Partial<PlaneFinderOptions> = {}): PlaneFinderOptions => ({
  discMm: 10,
  floorKWm2: 0,
  mostAcross: 64,
  factor: 1,
  ...over,
})
/** kW/m² of 1 W on a disc of radius 5 mm. */
const ONE = 1000 / (25 * Math.PI)

const find = (
  list: readonly ListedRay[],
  over: Partial<PlaneFinderOptions> = {},
  distanceMm = 0,
  reachMm = 50,
  one = 1e-3,
) => makePlaneFinder(listedColumns(list, { wattsOfOne: one }), options(over))(distanceMm, reachMm)

describe('the lattice: R from point to point, one more than the reach needs', () => {
  // ± 50 mm by 5 mm: ⌈100/5⌉ + 2 = 22 points from −52.5 to 52.5; −2.5 and 2.5 are the middle ones.
  test('a ray counts at the points within R', () => {
    // At (0, 0) from all four about it: 3.54 mm. The first of them in rows.
    const { top } = find([{ at: [0, 0] }])
    expect(top).toMatchObject({ xMm: -2.5, yMm: -2.5 })
    expectWithin(top!.kWm2, ONE, { rel: 1e-6, because: '1 W on R = 5 mm' })
    // On a point: at that one first; it and those that follow it, at R exactly, count it.
    expect(find([{ at: [2.5, 7.5] }]).top).toMatchObject({ xMm: 2.5, yMm: 7.5 })
  })
  test.each([1, 2, 3])('against plain sums, seed %i', (seed) => {
    const random = seededRandom(seed * 37)
    const list = Array.from(
      { length: 60 },
      (): ListedRay => ({
        at: [90 * (random() - 0.5), 90 * (random() - 0.5)],
        slope: [0.2 * (random() - 0.5), 0.2 * (random() - 0.5)],
        watts: 0.5 + random(),
      }),
    )
    const [distanceMm, reachMm] = [70, 60]
    const n = 26
    let best = { xMm: 0, yMm: 0, watts: 0 }
    for (let r = 0; r < n; r++)
      for (let c = 0; c < n; c++) {
        const [xMm, yMm] = [(c - 12.5) * 5, (r - 12.5) * 5]
        let watts = 0
        for (const { at, slope, watts: w } of list) {
          const [x, y] = [at[0] + slope![0] * distanceMm, at[1] + slope![1] * distanceMm]
          // What crosses beyond the lattice's last points is left out.
          if (Math.abs(x) < 62.5 && Math.abs(y) < 62.5 && Math.hypot(x - xMm, y - yMm) <= 5) watts += w!
        }
        if (watts > best.watts) best = { xMm, yMm, watts }
      }
    const { top } = find(list, { factor: 3 }, distanceMm, reachMm)
    expect(top).toMatchObject({ xMm: best.xMm, yMm: best.yMm })
    expectWithin(top!.kWm2, 3 * best.watts * ONE, { rel: 1e-5, because: 'the whole is three samples' })
  })
  test('up to its last points, and not beyond', () => {
    // From −52.5 to 52.5, edges left out.
    for (const [at, lit] of [
      [[52.4, 0], true],
      [[52.5, 0], false],
      [[60, 0], false],
      [[-52.4, 0], true],
      [[-52.5, 0], false],
      [[0, 52.4], true],
      [[0, 52.5], false],
      [[0, -52.4], true],
      [[0, -52.5], false],
    ] as const)
      expect(find([{ at }]).top !== null, at.join()).toBe(lit)
    // The outermost point itself may be the nearest.
    expect(find([{ at: [52.4, 52.4] }]).top).toMatchObject({ xMm: 52.5, yMm: 47.5 })
    expect(find([{ at: [-52.4, -52.4] }]).top).toMatchObject({ xMm: -52.5, yMm: -52.5 })
  })
  test('at least eight across; wider from point to point where the reach needs more than it has', () => {
    // ± 3 mm: eight points from −17.5 to 17.5.
    expect(find([{ at: [17.4, 0] }], {}, 0, 3).top).toMatchObject({ xMm: 17.5 })
    expect(find([{ at: [17.6, 0] }], {}, 0, 3).top).toBeNull()
    // ± 310 mm over 64 − 2 steps: 10 mm apart, discs of radius 10 mm; from −315 to 315.
    const { top } = find([{ at: [314, 1] }], {}, 0, 310)
    expect(top).toMatchObject({ xMm: 315, yMm: -5 })
    expectWithin(top!.kWm2, ONE / 4, { rel: 1e-6, because: '1 W on R = 10 mm' })
    expect(find([{ at: [316, 1] }], {}, 0, 310).top).toBeNull()
  })
  test('one search leaves nothing for the next', () => {
    const plane = makePlaneFinder(listedColumns([{ at: [0, 0], slope: [0.1, 0] }]), options())
    plane(0, 50)
    expectWithin(plane(0, 50).top!.kWm2, ONE, { rel: 1e-6, because: 'as the first time' })
    expect(plane(200, 50).top).toMatchObject({ xMm: 17.5, yMm: -2.5 })
    expect(plane(2000, 50).top).toBeNull()
    expect(plane(0, 50).top).toMatchObject({ xMm: -2.5, yMm: -2.5 })
  })
  test('no light, no place', () => {
    expect(find([])).toEqual({ top: null, maxima: [] })
  })
})

/** So many watts on the lattice point (c, r) from the middle one at (2.5, 2.5): there and, since R is met exactly, on its four neighbours. */
const spot = (c: number, r: number, watts: number): ListedRay => ({
  at: [2.5 + 5 * c + 0.01, 2.5 + 5 * r + 0.02],
  watts,
})
const places = (list: readonly ListedRay[], over: Partial<PlaneFinderOptions> = {}, one = 1e-3) =>
  find(list, over, 0, 50, one).maxima.map((p) => [Math.round((p.xMm - 2.5) / 5), Math.round((p.yMm - 2.5) / 5)])

describe('points that stand out', () => {
  // A ray at (0.01, 0.02) from a point is within 5 mm of it and of its neighbours to the right and above.
  test('one spot is one; of equal points the first', () => {
    expect(places([spot(0, 0, 1)])).toEqual([[0, 0]])
    expect(places([spot(2, -3, 1)])).toEqual([[2, -3]])
    expectWithin(find([spot(0, 0, 2)]).maxima[0]!.kWm2, 2 * ONE, { rel: 1e-6, because: '2 W' })
  })
  test('over the floor, and at it', () => {
    expect(places([spot(0, 0, 1)], { floorKWm2: 0.999 * ONE })).toEqual([[0, 0]])
    expect(places([spot(0, 0, 1)], { floorKWm2: 1.001 * ONE })).toEqual([])
    // The whole is four samples.
    expect(places([spot(0, 0, 1)], { floorKWm2: 3.999 * ONE, factor: 4 })).toEqual([[0, 0]])
    expect(places([spot(0, 0, 1)], { floorKWm2: 4.001 * ONE, factor: 4 })).toEqual([])
  })
  test('three points from the edge at least', () => {
    // Points run from −11 to 10: from −8 to 7.
    for (const [c, r, listed] of [
      [7, 0, true],
      [8, 0, false],
      [-8, 0, true],
      [-9, 0, false],
      [0, 7, true],
      [0, 8, false],
      [0, -8, true],
      [0, -9, false],
    ] as const)
      expect(places([spot(c, r, 1)]), `${c}, ${r}`).toEqual(listed ? [[c, r]] : [])
  })
  test('greatest of five by five', () => {
    // A stronger one two points off hides it, a stronger one four off doesn't: its own light reaches one further.
    for (const [c, r] of [
      [2, 0],
      [-2, 0],
      [0, 2],
      [0, -2],
      [2, 2],
      [-2, 2],
      [2, -2],
      [-2, -2],
    ] as const)
      expect(places([spot(0, 0, 1), spot(c, r, 1.2)]), `${c}, ${r}`).toEqual([[c, r]])
    expect(places([spot(0, 0, 1), spot(6, 0, 1.2)])).toEqual([
      [6, 0],
      [0, 0],
    ])
  })
  /**
   * The ring of three points, 16 at round(3 cos), round(3 sin), lit evenly with s about a middle of 1. Each ray lights its point and the
   * neighbours that it is nearer to: those of the four on the axes are lit from beside.
   */
  const ringed = (s: number) => {
    const ring: [number, number, number, number][] = [
      [3, -1, 1, 1],
      [3, 1, 1, 1],
      [-3, -1, -1, 1],
      [-3, 1, -1, 1],
      [-1, 3, 1, 1],
      [1, 3, 1, 1],
      [-1, -3, 1, -1],
      [1, -3, 1, -1],
      [2, 2, 1, 1],
      [-2, 2, -1, 1],
      [2, -2, 1, -1],
      [-2, -2, -1, -1],
    ]
    const beside = ring.map(
      ([c, r, dx, dy]): ListedRay => ({
        at: [2.5 + 5 * c + 0.01 * dx, 2.5 + 5 * r + 0.02 * dy],
        watts: s,
      }),
    )
    return [...beside, spot(0, 0, 1)]
  }
  const hasMiddle = (list: readonly ListedRay[], one = 1e-4) =>
    places(list, {}, one).some(([c, r]) => c === 0 && r === 0)
  test('over the mean of a ring of three points by a quarter', () => {
    expect(hasMiddle(ringed(0.799))).toBe(true)
    expect(hasMiddle(ringed(0.801))).toBe(false)
  })
  test('over the most of that ring by a twentieth', () => {
    for (const [c, r] of [
      [3, 0],
      [-3, 0],
      [0, 3],
      [0, -3],
      [2, 2],
      [-2, -2],
    ] as const) {
      const outside = Math.abs(c) === 3 || Math.abs(r) === 3
      expect(hasMiddle([spot(0, 0, 1), spot(c, r, 0.95)]), `${c}, ${r}`).toBe(true)
      if (outside) expect(hasMiddle([spot(0, 0, 1), spot(c, r, 0.954)]), `${c}, ${r}`).toBe(false)
    }
  })
  test('over the mean of the ring by six standard deviations of counts', () => {
    // (1 − 0.5)/√(1 · one) ≥ 6: one ≤ 0.00694.
    expect(hasMiddle(ringed(0.5), 0.0069)).toBe(true)
    expect(hasMiddle(ringed(0.5), 0.007)).toBe(false)
  })
  test('so alone by 36 rays', () => {
    // Alone: w/√(w · one) ≥ 6, w ≥ 36 one; the sample's watts stand for two.
    expect(places([spot(0, 0, 1)], {}, 1 / 36.1)).toEqual([[0, 0]])
    expect(places([spot(0, 0, 1)], {}, 1 / 35.9)).toEqual([])
    expect(places([spot(0, 0, 1)], { factor: 2 }, 1 / 72.2)).toEqual([[0, 0]])
    expect(places([spot(0, 0, 1)], { factor: 2 }, 1 / 71.8)).toEqual([])
  })
  test('those first that stand out most, by their surplus in standard deviations; at most 60', () => {
    const list = Array.from({ length: 81 }, (_, k) => spot(6 * (k % 9) - 24, 6 * Math.floor(k / 9) - 24, 1 + k))
    const found = find(list, { mostAcross: 128 }, 0, 180).maxima
    expect(found.length).toBe(60)
    for (let k = 1; k < 60; k++) expect(found[k]!.kWm2).toBeLessThan(found[k - 1]!.kWm2)
    expectWithin(found[0]!.kWm2, 81 * ONE, { rel: 1e-6, because: 'the strongest' })
  })
})
