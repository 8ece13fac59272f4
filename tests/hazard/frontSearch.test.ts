// The search of the worst place in front on pencils and cones of light, whose strength at every distance is known.
import { describe, expect, test } from 'vitest'
import { FIRST_SHEET_OPTIONS, type FrontOptions, readFront, searchFront } from '../../src/hazard/front.ts'
import { chooseDistances, readSpread, type ScanOptions, scanPlanes } from '../../src/hazard/scan.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { runToEnd } from '../../src/num/scheduler.ts'
import { T95 } from '../../src/num/stats.ts'
import { expectWithin, seeds } from '../kit/expect.ts'
import { exitRays, filledRun, smallShape } from '../kit/handRun.ts'
import { evenDisc, type ListedRay, listedColumns } from '../kit/handSegments.ts'

const because = 'by hand'
const Z = 500
/** kW/m² of so many watts on a disc of this diameter, mm. */
const onDisc = (watts: number, discMm = 10) => (watts * 1000) / (Math.PI * (discMm / 2) ** 2)

describe('distances', () => {
  const all = (spread: { radiusMm: number; slope: number }, over: Partial<ScanOptions> = {}) => [
    ...chooseDistances(spread, { discMm: 10, ...over }),
  ]
  const expectList = (found: number[], expected: number[]) => {
    expect(found.length).toBe(expected.length)
    for (const [k, d] of expected.entries()) expectWithin(found[k]!, d, { rel: 1e-12, because })
  }
  test.each([
    // A cone is no wider than the slopes, nor than the aperture over the distance; 0.001 at least. Nor are steps longer than a tenth.
    [100, 0.2, 10, 60_000],
    [100, 0.0001, 10, 60_000],
    [20, 0.5, 3, 60_000],
    [2000, 0.1, 10, 120_000],
    [999, 0.1, 10, 60_000],
  ])('steps for a radius of %d mm and a slope of %d', (radiusMm, slope, discMm, end) => {
    const expected = [1]
    for (let d = 1; d < end; ) {
      const within = (0.6 * discMm) / Math.min(Math.max(0.001, slope), radiusMm / d)
      d += Math.min(within, 0.1 * (d + radiusMm + discMm))
      expected.push(d)
    }
    expectList(all({ radiusMm, slope }, { discMm }), expected)
  })
  test('no cone is wider than what all light comes from, twice as wide where it slants', () => {
    // Slope 5 over a radius of 1 m; a ball of 100 mm whose middle lies 90 mm behind: at d its light runs together by 200/(d + 90) at most.
    const expected = [1]
    for (let d = 1; d < 60_000; ) {
      const cone = Math.min(5, 1000 / d, 200 / (d + 90))
      d += Math.min(6 / cone, 0.1 * (d + 1010))
      expected.push(d)
    }
    const source = { radiusMm: 100, behindMm: 90 }
    expectList(all({ radiusMm: 1000, slope: 5 }, { source }), expected)
    expect(all({ radiusMm: 1000, slope: 5 }).length).toBeGreaterThan(4 * expected.length)
  })
  test('as far as asked', () => {
    const near = all({ radiusMm: 100, slope: 0.2 }, { farMm: 200 })
    expect(near.at(-1)).toBeGreaterThanOrEqual(200)
    expect(near.at(-2)).toBeLessThan(200)
    expect(all({ radiusMm: 100, slope: 0.2 }, { farMm: 1 })).toEqual([1])
  })
  test('growing by a ratio for a rough update, from 5 mm or a fifth of the radius', () => {
    // 5 (1.5 − 1) = 2.5, 5 (2.25 − 1) = 6.25, …
    expectList(all({ radiusMm: 10, slope: 0.2 }, { ratio: 1.5, farMm: 30 }), [1, 2.5, 6.25, 11.875, 20.3125])
    expectList(all({ radiusMm: 100, slope: 0.2 }, { ratio: 2, farMm: 140.1 }), [1, 20, 60, 140])
    expectList(all({ radiusMm: 100, slope: 0.2 }, { ratio: 2, farMm: 140 }), [1, 20, 60])
  })
})

describe('the spread that all but two in a hundred keep to', () => {
  const rays = (count: number) =>
    listedColumns(
      Array.from({ length: count }, (_, k) => ({
        at: [0.6 * (k + 1), -0.8 * (k + 1)],
        slope: [0.008 * (count - k), 0.006 * (count - k)],
      })),
    )
  test('by radius and by slope, each for itself', () => {
    // 1 … 100: number ⌊0.98 · 99⌋ = 97 from 0 on.
    const { radiusMm, slope } = readSpread(rays(100), 1000)
    expectWithin(radiusMm, 98, { rel: 1e-6, because })
    expectWithin(slope, 0.98, { rel: 1e-6, because })
  })
  test('of so many rays, evenly chosen', () => {
    // Every second: 1, 3 … 99 and, of 101, 101: number ⌊0.98 · 49⌋ = 48 and ⌊0.98 · 50⌋ = 49.
    expectWithin(readSpread(rays(100), 50).radiusMm, 97, { rel: 1e-6, because })
    expectWithin(readSpread(rays(101), 50).radiusMm, 99, { rel: 1e-6, because })
    expectWithin(readSpread(rays(100), 51).radiusMm, 98, { rel: 1e-6, because })
  })
  test('1 mm at least', () => {
    expect(readSpread(listedColumns([{ at: [0.1, 0] }]), 10)).toEqual({ radiusMm: 1, slope: 0 })
  })
})

/** 320 rays of together so many watts, by parity of the batch. */
const pencil = (x: number, y: number, even: number, odd = even, slope: [number, number] = [0, 0]): ListedRay[] =>
  Array.from({ length: 320 }, (_, i) => ({
    at: [x, y],
    slope,
    watts: (i % 2 === 0 ? even : odd) / 320,
    batch: i % 16,
  }))
/** The same from a ring of 80 mm to a focus, in ten directions. */
const cone = (x: number, y: number, d: number, even: number, odd = even): ListedRay[] =>
  Array.from({ length: 320 }, (_, i) => {
    const turn = (2 * Math.PI * Math.floor(i / 32)) / 10
    const [rx, ry] = [80 * Math.cos(turn), 80 * Math.sin(turn)]
    return { at: [x + rx, y + ry], slope: [-rx / d, -ry / d], watts: (i % 2 === 0 ? even : odd) / 320, batch: i % 16 }
  })
const search = (list: readonly ListedRay[], over: Partial<FrontOptions> = {}, wattsOfOne = 0.1) =>
  runToEnd(searchFront(listedColumns(list, { zMm: Z, wattsOfOne }), { discMm: 10, ...over }))

describe('a parallel pencil', () => {
  test('is as strong at every distance', () => {
    const { worst, curve } = search(pencil(30, -20, 8))
    const distances = [...chooseDistances({ radiusMm: Math.fround(Math.hypot(30, 20)), slope: 0 }, { discMm: 10 })]
    // Of equal places the nearest is the worst: a second point at 1 mm.
    expect(curve.length).toBe(distances.length + 1)
    expect(curve[0]!.distanceMm).toBe(1)
    for (const [k, d] of distances.slice(1).entries()) expectWithin(curve[k + 2]!.distanceMm, d, { rel: 1e-6, because })
    for (const [k, p] of curve.entries()) {
      expectWithin(p.kWm2, onDisc(8), { rel: 1e-6, because: 'all of it' })
      expect(p.discMm).toBe(10)
      // Odd batches alone: one ray is worth 0.2 W. The worst by all of them, counts: 8 W/√320.
      expectWithin(p.se, onDisc(k === 1 ? 8 / Math.sqrt(320) : 0.2), { rel: 1e-6, because })
    }
    const { xMm, yMm, zMm, ...rest } = worst!
    expectWithin(Math.hypot(xMm - 30, yMm + 20), 0, { abs: 1e-4, because: 'onto its middle' })
    expect(zMm).toBe(Z + 1)
    expect(rest).toEqual({ kWm2: curve[1]!.kWm2, se: curve[1]!.se, discMm: 10 })
  })
  test('slanting, the disc that faces it meets more than the plane’s by 1/cos', () => {
    // Slope 0.75: cos 0.8. On the plane's disc lies all of it, as seen from it.
    const { worst, curve } = search(pencil(30, -20, 8, 8, [0.75, 0]), { farMm: 1000 })
    expectWithin(worst!.kWm2, onDisc(8), { rel: 1e-6, because: 'all of it' })
    const planes = curve.filter((p) => p.distanceMm !== worst!.zMm - Z)
    for (const p of planes) {
      expectWithin(p.kWm2, onDisc(8) / 0.8, { rel: 1e-6, because: 'a small spot in a wider disc: the hot side' })
      expectWithin(p.se, onDisc(0.2) / 0.8, { rel: 1e-6, because })
    }
  })
  test('far off the axis it is found all the same', () => {
    const { worst } = search(pencil(1013, 0, 8), { farMm: 100 })
    expectWithin(worst!.xMm, 1013, { abs: 1e-3, because: 'the lattice is as fine as the disc' })
  })
  test('of few rays the disc grows', () => {
    // 64 of 320 rays, each worth five; 32 of odd batches are less than 48: five discs.
    const { worst, curve } = search(pencil(30, -20, 8), { mostRays: 64, farMm: 100 })
    const planes = curve.filter((p) => p.discMm !== 10)
    expect(planes.length).toBe(curve.length - 1)
    for (const p of planes) {
      expect(p.discMm).toBe(50)
      expectWithin(p.kWm2, onDisc(8, 50), { rel: 1e-6, because })
      expectWithin(p.se, onDisc(0.1 * 5 * 2, 50), { rel: 1e-6, because })
    }
    expectWithin(worst!.kWm2, onDisc(8), { rel: 1e-6, because })
    // The place is measured with all rays there are.
    expectWithin(worst!.se, onDisc(8 / Math.sqrt(320)), { rel: 1e-6, because })
  })
  test('lookRays and measureRays thin each half, which then stands for all', () => {
    const { worst, curve } = search(pencil(30, -20, 8), { lookRays: 40, measureRays: 60, farMm: 100 })
    expectWithin(worst!.kWm2, onDisc(8), { rel: 1e-6, because })
    // ⌈160/60⌉ = 3: 54 rays of 160, twice.
    expect(curve.length).toBeGreaterThan(10)
    for (const p of curve) {
      expect(p.discMm).toBe(10)
      expectWithin(p.kWm2, onDisc(8), { rel: 1e-6, because: 'all of it' })
    }
    // With 47 rays or fewer the disc grows: ⌈160/40⌉ = 4, so every fifth.
    const few = search(pencil(30, -20, 8), { measureRays: 40, farMm: 100 }).curve
    expect(few.filter((p) => p.discMm === 50).length).toBe(few.length - 1)
  })
  test('between the points of a rough update’s lattice, wider apart than the disc climbs, it is found all the same', () => {
    // ± 1013 mm: 2026/62 = 32.7 mm from point to point of 64 across, so that the pencil is 16.3 mm from the nearest; the climb begins 15 mm away at the most.
    const rough = search(pencil(1013, 0, 8), { mostRays: 64, farMm: 100, about: listedColumns(pencil(1013, 0, 1)) })
    expectWithin(rough.worst!.kWm2, onDisc(8), { rel: 1e-6, because: 'all of it' })
    const many = Array.from({ length: 8192 }, (_, i): ListedRay => ({ at: [1005.5, 8.5], watts: 1e-3, batch: i % 16 }))
    const about = listedColumns(pencil(1013, 0, 1))
    for (const mostRays of [8192, 2048])
      expectWithin(search(many, { mostRays, farMm: 100, about }).worst!.kWm2, onDisc(8.192), {
        rel: 1e-5,
        because: 'all',
      })
  })
  test('the reach is read off an eighth of the rays of a rough update', () => {
    // Every eighth ray lies at 36 mm; the others at 500 mm are then out of reach.
    const list = pencil(30, -20, 8).map(
      (ray, i): ListedRay => (i % 8 === 0 ? { ...ray, batch: (i / 8) % 16 } : { ...ray, at: [500, 0] }),
    )
    const { worst } = search(list, { mostRays: 320, farMm: 100 })
    expectWithin(worst!.xMm, 30, { abs: 1e-3, because })
    expectWithin(search(list, { farMm: 100 }).worst!.xMm, 500, { abs: 1e-3, because: 'else off 4000 of them' })
  })
  test('other rays may say how wide it goes', () => {
    const about = listedColumns([{ at: [0, 0] }])
    expect(search(pencil(30, -20, 8), { about, farMm: 100 })).toEqual({ worst: null, curve: [] })
    expect(search(pencil(10, -10, 8), { about, farMm: 100 }).worst).not.toBeNull()
  })
})

test('in even light with fewer and heavier rays about it the ± holds the light of its middle', () => {
  // Parallel: 1000 kW/m² on a disc of 140 mm, half of that about it to 260 mm by rays of four times the watts. A disc of 10 mm takes ten light
  // rays, or one heavy one and a quarter: noise puts the hottest of them anywhere.
  const one = (1000 * Math.PI * 5 ** 2) / 1e3 / 10
  const found = seeds(20).map((seed) => {
    const u = seededRandom(seed * 7907)
    const inner = Array.from({ length: 1960 }, () => ({ at: evenDisc(u, 70), watts: one }))
    const outer = Array.from({ length: 845 }, () => ({ at: evenDisc(u, 130), watts: 4 * one }))
    const list = [...inner, ...outer.filter(({ at: [x, y] }) => Math.hypot(x, y) > 70)]
    const { curve } = search(
      list.map((ray, i) => ({ ...ray, batch: i % 16 })),
      { farMm: 1 },
      4 * one,
    )
    return curve[0] ?? { kWm2: 0, se: 0 }
  })
  const beside = (sign: number) => found.filter(({ kWm2, se }) => sign * (1000 - kWm2) > T95 * se).length
  // At 95 % one of 20, on either side; five of them by chance: 0.3 % (binomial).
  expect(beside(1) + beside(-1)).toBeLessThan(5)
  // No more than half of these are on the cold side.
  expect(beside(1)).toBeLessThan(3)
})

test('of an even exit as wide as the disc the upper end holds all of its power, wherever noise has put the disc', () => {
  // Closed form: 8 W on a disc of 10 mm, three of them side by side, 12 mm apart. Every batch holds as many rays of each, so that batches don't scatter; a disc
  // that lies 0.3 mm aside loses 4 % (two circles: 2 d/(π R) of their area for small d).
  const short = seeds(20).filter((seed) => {
    const u = seededRandom(seed * 104_729)
    const list = Array.from({ length: 6144 }, (_, i): ListedRay => {
      const [x, y] = evenDisc(u, 5)
      return { at: [12 * ((i % 3) - 1) + x + 0.31, y - 0.17], watts: 24 / 6144, batch: Math.floor(i / 3) % 16 }
    })
    const { curve } = search(list, { farMm: 1 }, 24 / 6144)
    const [first] = curve
    return !first || first.kWm2 + T95 * first.se < onDisc(8)
  })
  expect(short).toEqual([])
})

describe('foci', () => {
  test('the worst place is the focus; it is a point of the curve', () => {
    const { worst, curve } = search(cone(12, -7, 400, 20))
    const { xMm, yMm, zMm, kWm2, se, discMm } = worst!
    expectWithin(Math.hypot(xMm - 12, yMm + 7, zMm - Z - 400), 0, { abs: 0.05, because: 'its waist' })
    expectWithin(kWm2, onDisc(20), { rel: 1e-6, because: 'all of it' })
    expectWithin(se, onDisc(20 / Math.sqrt(320)), { rel: 1e-6, because: 'counts' })
    expect(discMm).toBe(10)
    const at = curve.findIndex((p) => p.distanceMm === zMm - Z)
    expect(curve[at]).toEqual({ distanceMm: zMm - Z, kWm2, se, discMm: 10 })
    for (let k = 1; k < curve.length; k++) expect(curve[k]!.distanceMm).toBeGreaterThan(curve[k - 1]!.distanceMm)
  })
  test('one beyond the last plane ends the curve', () => {
    // Planes up to 100 mm or little more; the focus at 118 mm is climbed to from there.
    const { worst, curve } = search(cone(0, 0, 118, 20), { farMm: 101 })
    expectWithin(worst!.zMm - Z, 118, { abs: 0.1, because: 'its waist' })
    expect(curve.at(-1)!.distanceMm).toBe(worst!.zMm - Z)
    expect(curve.at(-2)!.distanceMm).toBeLessThan(118)
  })
  test('nowhere nearer than 1 mm before the front', () => {
    // It runs apart from a focus 30 mm behind the front.
    const apart = cone(0, 0, -30, 20).map(
      (r): ListedRay => ({
        ...r,
        at: [-r.slope![0] * -30, -r.slope![1] * -30],
        slope: [r.slope![0] / 20, r.slope![1] / 20],
      }),
    )
    const near = apart.map((r): ListedRay => ({ ...r, at: [r.at[0] / 20, r.at[1] / 20] }))
    const { worst } = search(near, { farMm: 200 })
    expectWithin(worst!.kWm2, onDisc(20), { rel: 1e-6, because })
    expect(worst!.zMm).toBeGreaterThanOrEqual(Z + 1)
  })
  test('what even batches alone see is ranked by what the odd ones do', () => {
    const list = [...cone(60, 0, 300, 30, 0), ...cone(-60, 0, 900, 10, 10)]
    const { worst } = search(list, { refined: 1, farMm: 2000 })
    expectWithin(Math.hypot(worst!.xMm + 60, worst!.yMm), 0, { abs: 0.1, because: 'the one that is there' })
    expectWithin(worst!.kWm2, onDisc(10), { rel: 1e-6, because })
  })
  test('and what odd ones see by the even; refined, planes that are no neighbours', () => {
    // 8 W by the even and 12 W by the odd ones, against 10 W: ranked second. The even ones find the 10 W, which the odd ones measure; the odd ones
    // the other, of which the even ones measure 8 W. All have 10 W in either: a sixth of the way from 9.
    const list = [...cone(60, 0, 300, 8, 12), ...cone(-60, 0, 900, 10, 10)]
    const first = search(list, { refined: 1, farMm: 2000 }).worst!
    expectWithin(first.xMm, -60, { abs: 0.1, because: 'the first of the ranking' })
    expectWithin(first.kWm2, onDisc(10), { rel: 1e-6, because })
    const all = search(list, { farMm: 2000 }).worst!
    expectWithin(Math.abs(all.xMm), 60, { abs: 0.1, because: 'either' })
    expectWithin(all.kWm2, onDisc(9 + 1 / 6), { rel: 1e-6, because })
  })
})

test('of a run: exit rays carried to the front; none, no place', () => {
  const run = filledRun(smallShape(), () => {})
  // 16 W of 320 rays, 20 mm behind the front, slope 0.05.
  const length = Math.hypot(0.05, 1)
  const rays = Array.from({ length: 320 }, () => [29, -20, Z - 20, 0.05 / length, 0, 1 / length, 1, 300])
  const lit = { ...run, exits: exitRays(rays, 320) }
  const { worst } = readFront(lit, Z, { discMm: 10, farMm: 100 })
  expectWithin(worst!.kWm2, onDisc(16), { rel: 1e-5, because })
  expectWithin(worst!.xMm, 30 + 0.05 * (worst!.zMm - Z), { abs: 5, because: 'within its radius' })
  expect(worst!.zMm).toBeGreaterThanOrEqual(Z + 1)
  expect(readFront(run, Z, { discMm: 10 })).toEqual({ worst: null, curve: [] })
})

test('a first sheet finds the focus as hot as it is', () => {
  const { worst, curve } = search(cone(12, -7, 400, 20), FIRST_SHEET_OPTIONS)
  expectWithin(worst!.kWm2, onDisc(20), { rel: 1e-6, because: 'all of it' })
  expectWithin(worst!.zMm - Z, 400, { abs: 0.1, because: 'its waist' })
  expect(curve.length).toBeGreaterThan(20)
})

test('a first sheet finds a focus in light that runs wide, where its lattice is many discs from point to point', () => {
  // An eighth of the light meets at 1.2 m; the rest runs apart with slopes up to 3, so that the lattice reaches 3.7 m: 120 mm from point to point.
  const u = seededRandom(11)
  const wide = Array.from({ length: 7000 }, (_, i): ListedRay => {
    const [x, y] = evenDisc(u, 80)
    const [sx, sy] = evenDisc(u, 3)
    return { at: [x, y], slope: [sx, sy], watts: 1e-3, batch: i % 16 }
  })
  const focus = Array.from({ length: 1000 }, (_, i): ListedRay => {
    const [x, y] = evenDisc(u, 80)
    return { at: [x, y], slope: [(110 - x) / 1200, (-40 - y) / 1200], watts: 1e-3, batch: (7 * i) % 16 }
  })
  const mixed = wide.flatMap((ray, i) => (i % 7 === 0 ? [ray, focus[i / 7] ?? ray] : [ray]))
  const { worst } = search(mixed, FIRST_SHEET_OPTIONS, 1e-3)
  expectWithin(worst!.zMm - Z, 1200, {
    abs: 60,
    because: 'a tenth of its light lies outside of 10 mm so far from its waist',
  })
  // 1 W, and at 1.2 m some 7000 · (5/3600)² = 0.01 rays more.
  expectWithin(worst!.kWm2, onDisc(1), { rel: 0.1, because: 'all of it' })
})

test('with planes that were scanned before: the same front', () => {
  const columns = listedColumns(cone(12, -7, 400, 20), { zMm: Z, wattsOfOne: 0.1 })
  const scan = runToEnd(scanPlanes(columns, { discMm: 10, lookRays: 16_384 }))
  const front = runToEnd(searchFront(columns, { discMm: 10 }))
  expect(runToEnd(searchFront(columns, { discMm: 10, scan }))).toEqual(front)
  // No planes, no place.
  expect(runToEnd(searchFront(columns, { discMm: 10, scan: { ...scan, planes: [] } }))).toEqual({
    worst: null,
    curve: [],
  })
})
