// The points of the sparse grid that are found: exactly those that hold enough, by plain sums over all segments.
import { describe, expect, test } from 'vitest'
import type { DenseOptions } from '../../../src/hazard/air/blocks.ts'
import { findDensePoints, part } from '../../../src/hazard/air/grid.ts'
import { seededRandom } from '../../../src/num/rng.ts'
import { joinSegments, makeSegments, type Segments } from '../../../src/run/segments.ts'
import { expectWithin, seeds } from '../../kit/expect.ts'
import { type ListedSegment, listedSegments, type V3 } from '../../kit/handSegments.ts'
import { slowBallW, slowFluence } from '../../kit/slowBalls.ts'

const R = 5
/** B of 1 W, kW/m²: 1000/(25 π). */
const ONE = 1000 / (25 * Math.PI)
/** Two discs. */
const CELL = 20

const options = (over: Partial<DenseOptions> = {}): DenseOptions => ({
  discMm: 2 * R,
  floorKWm2: 1e-6,
  share: 0,
  zoneOf: () => 0,
  zones: 1,
  most: Number.POSITIVE_INFINITY,
  partMm: 0,
  ...over,
})

/** Dark segments at two corners: the region is the box between them, whatever the others are. */
const region = (low: V3, high: V3) =>
  listedSegments([low, high].map((from) => ({ from, towards: [1, 0, 0], lengthMm: 0, watts: 0 })))

const keyOf = (p: { xMm: number; yMm: number; zMm: number }) =>
  [p.xMm, p.yMm, p.zMm].map((x) => Math.round(x * 1e4) / 1e4 + 0).join()

/** Every point of the lattice about the box, by plain sums; cells begin one before the box. */
function expectedPoints(segments: Segments, low: V3, high: V3, o: DenseOptions): Map<string, [number, number]> {
  const n = high.map((h, k) => Math.ceil((h - low[k]!) / CELL) + 2)
  const greatest = new Array(o.zones).fill(0)
  for (let x = 0; x < n[0]!; x++)
    for (let y = 0; y < n[1]!; y++)
      for (let z = 0; z < n[2]!; z++) {
        const corner = [x, y, z].map((c, k) => low[k]! + (c - 1) * CELL) as unknown as V3
        const zone = o.zoneOf(corner[0] + CELL / 2, corner[1] + CELL / 2, corner[2] + CELL / 2)
        // W mm over mm³: 1000 kW/m².
        if (zone >= 0)
          greatest[zone] = Math.max(greatest[zone], (1000 * slowFluence(segments, corner, CELL)) / CELL ** 3)
      }
  const out = new Map<string, [number, number]>()
  const from = low.map((l) => l - CELL - CELL / 2 + R / 2)
  for (let x = 4; x < 4 * n[0]!; x++)
    for (let y = 4; y < 4 * n[1]!; y++)
      for (let z = 4; z < 4 * n[2]!; z++) {
        const at: V3 = [from[0]! + x * R, from[1]! + y * R, from[2]! + z * R]
        const zone = o.zoneOf(...at)
        if (zone < 0) continue
        const kWm2 = slowBallW(segments, at, R) * ONE
        if (kWm2 >= Math.max(o.floorKWm2, o.share * greatest[zone]))
          out.set(keyOf({ xMm: at[0], yMm: at[1], zMm: at[2] }), [zone, kWm2])
      }
  return out
}

function compare(segments: Segments, low: V3, high: V3, over: Partial<DenseOptions>): number {
  const o = options(over)
  const found = findDensePoints(joinSegments(region(low, high), segments), o)
  const expected = expectedPoints(segments, low, high, o)
  expect(found.map(keyOf).sort()).toEqual([...expected.keys()].sort())
  for (const p of found) {
    const [zone, kWm2] = expected.get(keyOf(p))!
    expect(p.zone).toBe(zone)
    expectWithin(p.kWm2, kWm2, { rel: 1e-5, because: 'single precision' })
  }
  // Zone by zone, hottest first.
  for (let i = 1; i < found.length; i++)
    if (found[i]!.zone === found[i - 1]!.zone) expect(found[i]!.kWm2).toBeLessThanOrEqual(found[i - 1]!.kWm2)
    else expect(found[i]!.zone).toBeGreaterThan(found[i - 1]!.zone)
  return found.length
}

const LOW: V3 = [-31, 12, 203]
const HIGH: V3 = [26, 51, 262]
const inBox = (random: () => number, margin = 0): V3 =>
  LOW.map((l, k) => l + margin + (HIGH[k]! - l - 2 * margin) * random()) as unknown as V3

/** Segments between any two points of the box. */
const crossing = (random: () => number, count: number, watts: () => number) =>
  listedSegments(
    Array.from({ length: count }, (): ListedSegment => {
      const [a, b] = [inBox(random), inBox(random)]
      const towards = b.map((x, k) => x - a[k]!) as unknown as V3
      return { from: a, towards, lengthMm: 0.999 * Math.hypot(...towards), watts: watts() }
    }),
  )

describe('crossing segments', () => {
  test.each(seeds(4))('all that they light, seed %i', (seed) => {
    const random = seededRandom(seed * 211)
    expect(
      compare(
        crossing(random, 12, () => 0.5 + random()),
        LOW,
        HIGH,
        {},
      ),
    ).toBeGreaterThan(200)
  })
  test.each(seeds(6))('over a share of the greatest fluence rate, in two zones, seed %i', (seed) => {
    const random = seededRandom(seed * 223)
    // Watts over three decades, so that a threshold parts them finely.
    const segments = crossing(random, 40, () => 10 ** (-2.5 * random()))
    const zoneOf = (x: number, y: number) => (y > 45 ? -1 : x < -8 ? 0 : 1)
    expect(compare(segments, LOW, HIGH, { share: 0.9, zoneOf, zones: 2, floorKWm2: 0.01 })).toBeGreaterThan(10)
  })
  test('over a floor that is higher than the share', () => {
    const random = seededRandom(77)
    const segments = crossing(random, 30, () => random())
    const all = compare(segments, LOW, HIGH, { floorKWm2: 0.9 * ONE, share: 0.01 })
    expect(all).toBeGreaterThan(10)
    expect(compare(segments, LOW, HIGH, { floorKWm2: 1.2 * ONE, share: 0.01 })).toBeLessThan(all)
  })
})

/** 1 W each, 5.5 mm long along an axis: they cross at least one plane of points. */
const short = (random: () => number, count: number) =>
  listedSegments(
    Array.from({ length: count }, (): ListedSegment => {
      const towards: [number, number, number] = [0, 0, 0]
      towards[Math.floor(3 * random())] = random() < 0.5 ? -1 : 1
      return { from: inBox(random, 6), towards, lengthMm: 5.5 }
    }),
  )

test.each(seeds(8))('a block is looked into when any of its eight cells holds just enough, seed %i', (seed) => {
  expect(compare(short(seededRandom(seed * 227), 8), LOW, HIGH, { floorKWm2: 0.999 * ONE })).toBeGreaterThan(5)
})

test('light along the sides and edges of the region is found too', () => {
  // 1 W each, along the axes, on the low and high faces of the box and on its edges.
  const ends = LOW.map((l, k) => [l, HIGH[k]!] as const)
  const rays: ListedSegment[] = []
  for (let axis = 0; axis < 3; axis++) {
    const [u, v] = [(axis + 1) % 3, (axis + 2) % 3]
    for (const [a, b] of [
      [0, null],
      [1, null],
      [null, 0],
      [null, 1],
      [0, 0],
      [1, 1],
      [0, 1],
    ] as const) {
      const from: [number, number, number] = [0, 0, 0]
      const towards: [number, number, number] = [0, 0, 0]
      from[axis] = LOW[axis]!
      towards[axis] = 1
      from[u] = a === null ? (LOW[u]! + HIGH[u]!) / 2 + 3 : ends[u]![a]
      from[v] = b === null ? (LOW[v]! + HIGH[v]!) / 2 - 4 : ends[v]![b]
      rays.push({ from, towards, lengthMm: HIGH[axis]! - LOW[axis]! })
    }
  }
  // Each alone, so that none is found by the power of others.
  for (const ray of rays)
    expect(compare(listedSegments([ray]), LOW, HIGH, { floorKWm2: 0.999 * ONE }), JSON.stringify(ray)).toBeGreaterThan(
      10,
    )
})

describe('at the floor itself', () => {
  const at = (watts: number, floorKWm2: number) =>
    findDensePoints(
      joinSegments(
        region([0, 0, 0], [60, 60, 60]),
        listedSegments([{ from: [27, 28, 22], towards: [0, 0, 1], lengthMm: 6, watts }]),
      ),
      options({ floorKWm2 }),
    ).length
  test('a block whose power is just enough is looked into', () => {
    // B is kept in single precision: of 1, 1.25 … W those whose B is rounded up.
    let tried = 0
    for (let watts = 1; watts < 20; watts += 0.25) {
      const floor = watts * ONE
      if (Math.fround(floor) < floor || floor / ONE > watts) continue
      expect(at(watts, floor)).toBeGreaterThan(0)
      tried++
    }
    expect(tried).toBeGreaterThan(5)
  })
  test('and a point that holds just that is found', () => {
    let tried = 0
    for (let watts = 1; watts < 20; watts += 0.25) {
      const floor = Math.fround(watts * ONE)
      if (floor > watts * ONE) continue
      expect(at(watts, floor)).toBeGreaterThan(0)
      tried++
    }
    expect(tried).toBeGreaterThan(5)
  })
})

test('a zone that fills only an octant of a block, or its middle, is looked into by its own threshold', () => {
  // The block about (40, 40, 40) of a box from 0 to 80: its corners at 30 and 50. 9 W make zone 0's threshold.
  const strong: ListedSegment = { from: [11, 11, 5], towards: [0, 0, 1], lengthMm: 12, watts: 9 }
  const cases: { zone: (p: V3) => boolean; at: V3 }[] = [0, 1, 2, 3, 4, 5, 6, 7].map((k) => {
    const s = [k & 1 ? 1 : -1, k & 2 ? 1 : -1, k & 4 ? 1 : -1]
    return {
      zone: (p) => p.every((x, i) => s[i]! * (x - 40) > 3 && s[i]! * (x - 40) < 12),
      at: [40 + 6 * s[0]!, 40 + 6 * s[1]!, 40 + 6 * s[2]!],
    }
  })
  cases.push({ zone: (p) => Math.hypot(p[0] - 40, p[1] - 40, p[2] - 40) < 7, at: [40, 40, 40] })
  for (const { zone, at } of cases) {
    const weak: ListedSegment = { from: [at[0], at[1], at[2] - 3], towards: [0, 0, 1], lengthMm: 6, watts: 0.02 }
    const zoneOf = (x: number, y: number, z: number) => (zone([x, y, z]) ? 1 : 0)
    const segments = joinSegments(region([0, 0, 0], [80, 80, 80]), listedSegments([strong, weak]))
    const found = findDensePoints(segments, options({ zoneOf, zones: 2, share: 0.5, floorKWm2: 0.015 * ONE }))
    expect(found.filter((p) => p.zone === 1).length, at.join()).toBeGreaterThan(0)
    for (const p of found) expectWithin(p.kWm2, (p.zone === 1 ? 0.02 : 9) * ONE, { rel: 1e-6, because: 'alone' })
  }
})

describe('many blocks', () => {
  /** A strong ray along x through the middle of a row of cells; a weak one 10 mm beside it, in the same row. */
  const row = (cells: number, weakW: number, more: readonly ListedSegment[] = []) =>
    joinSegments(
      region([0, 0, 0], [CELL * cells, 40, 40]),
      listedSegments([
        { from: [0, 5, 7], towards: [1, 0, 0], lengthMm: CELL * cells },
        { from: [100, 15, 7], towards: [1, 0, 0], lengthMm: 12, watts: weakW },
        ...more,
      ]),
    )
  const foundWeak = (segments: Segments, over: Partial<DenseOptions> = {}) =>
    findDensePoints(segments, options({ share: 0.5, most: 1e6, ...over })).filter((p) => p.yMm > 10.1 && p.yMm < 19.9)
      .length > 0
  test('up to 256 of them the threshold is a share of the fluence rate alone', () => {
    // 63 cells have 64 · 4 blocks. 1 W along 20 mm of (20 mm)³: 2.5 kW/m², half of it is 0.098 of B of 1 W; and the weak ray adds 12 mm of
    // its own: w = 0.098 (1 + 0.6 w).
    const half = (0.5 * 1000) / CELL ** 2 / ONE
    const least = half / (1 - 0.6 * half)
    expect(foundWeak(row(63, 1.01 * least))).toBe(true)
    expect(foundWeak(row(63, 0.99 * least))).toBe(false)
  })
  test('from 257 on it is that share of the hottest point in the strongest blocks', () => {
    expect(foundWeak(row(64, 0.51))).toBe(true)
    expect(foundWeak(row(64, 0.49))).toBe(false)
  })
  test('of each zone apart', () => {
    // Zone 1 lies beyond x = 1200: a ray of 0.1 W there, and weaker ones beside it.
    const zoneOf = (x: number) => (x < 1200 ? 0 : 1)
    const more = (weakW: number): ListedSegment[] => [
      { from: [1210, 31, 32], towards: [1, 0, 0], lengthMm: 60, watts: 0.1 },
      { from: [1210, 25, 21], towards: [1, 0, 0], lengthMm: 60, watts: weakW },
    ]
    const rays = (weakW: number) =>
      joinSegments(
        region([0, 0, 0], [1300, 40, 40]),
        listedSegments([{ from: [0, 5, 7], towards: [1, 0, 0], lengthMm: 1180 }, ...more(weakW)]),
      )
    const zone1 = (weakW: number) =>
      findDensePoints(rays(weakW), options({ share: 0.5, zoneOf, zones: 2, most: 1e6 })).filter((p) => p.zone === 1)
    expect(zone1(0.051).some((p) => p.kWm2 < 0.06 * ONE)).toBe(true)
    expect(zone1(0.049).some((p) => p.kWm2 < 0.06 * ONE)).toBe(false)
    expect(zone1(0.049).length).toBeGreaterThan(0)
  })
  test('the strongest 64 blocks alone raise it', () => {
    // 1.5 W within one cell: its block is crossed by less than those of the long ray, 2 W in two cells.
    const hot: ListedSegment = { from: [203, 31, 33], towards: [1, 0, 0], lengthMm: 12, watts: 1.5 }
    expect(foundWeak(row(70, 0.6, [hot]))).toBe(true)
    expect(foundWeak(row(70, 0.49, [hot]))).toBe(false)
    // 3 W there are among them.
    expect(foundWeak(row(70, 1.4, [{ ...hot, watts: 3 }]))).toBe(false)
    expect(foundWeak(row(70, 1.6, [{ ...hot, watts: 3 }]))).toBe(true)
  })
  test('a threshold is never lowered by them', () => {
    // The floor stands above half of the strongest.
    expect(foundWeak(row(70, 0.74), { floorKWm2: 0.75 * ONE })).toBe(false)
    expect(foundWeak(row(70, 0.76), { floorKWm2: 0.75 * ONE })).toBe(true)
  })
})

test('a region wider than 150 cells has larger ones, of whole radii', () => {
  // 5607 mm: 37.38 mm and more are 40 mm, eight points 5 mm apart along each edge; the first at 0 − 40 − 20 + 2.5.
  const segments = joinSegments(
    region([0, -100, -100], [5607, 100, 100]),
    listedSegments([{ from: [3000, 3, -7], towards: [0.6, 0, 0.8], lengthMm: 60 }]),
  )
  const found = findDensePoints(segments, options({ floorKWm2: 0.5 * ONE }))
  const step = 5
  const first = -1.5 * 40 + step / 2
  const expected = new Set<string>()
  const low = [0, -100, -100]
  const [i0, i1] = [Math.floor((2990 - first) / step), Math.ceil((3050 - first) / step)]
  const span = (k: number): [number, number] => [
    Math.floor(-30 / step + (-low[k]! - first) / step),
    Math.ceil(60 / step + (-low[k]! - first) / step),
  ]
  for (let x = i0; x <= i1; x++)
    for (let y = span(1)[0]; y <= span(1)[1]; y++)
      for (let z = span(2)[0]; z <= span(2)[1]; z++) {
        const at: V3 = [first + x * step, low[1]! + first + y * step, low[2]! + first + z * step]
        if (slowBallW(segments, at, R) > 0.5) expected.add(keyOf({ xMm: at[0], yMm: at[1], zMm: at[2] }))
      }
  expect(expected.size).toBeGreaterThan(30)
  expect(found.map(keyOf).sort()).toEqual([...expected].sort())
})

describe('nothing', () => {
  test('without light, under the floor, or where nothing is looked at', () => {
    const one = joinSegments(region(LOW, HIGH), short(seededRandom(3), 1))
    expect(findDensePoints(makeSegments(0, 1), options())).toEqual([])
    expect(findDensePoints(one, options({ floorKWm2: 1.01 * ONE }))).toEqual([])
    expect(findDensePoints(one, options({ zoneOf: () => -1 }))).toEqual([])
    expect(findDensePoints(one, options()).length).toBeGreaterThan(0)
  })
})

describe('parted places', () => {
  const p = (xMm: number, yMm: number, zMm: number, kWm2: number) => ({ xMm, yMm, zMm, kWm2 })
  const values = (points: ReturnType<typeof p>[], most: number, partMm: number) =>
    part(points, most, partMm).map((q) => q.kWm2)
  test('the hottest first, none nearer than asked to a hotter one, by all three axes', () => {
    expect(values([p(0, 0, 0, 1), p(0, 0, 0, 3), p(0, 0, 0, 2)], 9, 0)).toEqual([3, 2, 1])
    expect(values([p(1, 2, 3, 3), p(1 + 2, 2 + 3, 3 + 6, 2)], 9, 7)).toEqual([3, 2])
    expect(values([p(1, 2, 3, 3), p(1 + 2, 2 + 3, 3 + 6, 2)], 9, 7.001)).toEqual([3])
    expect(values([p(1, 2, 3, 3), p(1 - 2, 2 - 3, 3 - 6, 2)], 9, 6.999)).toEqual([3, 2])
    expect(values([p(5, 0, 0, 3), p(-2, 0, 0, 2), p(12, 0, 0, 1)], 9, 7)).toEqual([3, 2, 1])
    expect(values([p(5, 0, 0, 3), p(5, -2, 0, 2), p(5, 0, 8, 1)], 9, 7)).toEqual([3, 1])
  })
  test('no more than asked', () => {
    const line = [p(0, 0, 0, 3), p(20, 0, 0, 2), p(40, 0, 0, 1)]
    expect(values(line, 2, 5)).toEqual([3, 2])
    expect(values(line, 3, 5)).toEqual([3, 2, 1])
    expect(values(line, 0, 5)).toEqual([])
  })
})

test('a disc of 1 mm over 10 m of air: the hottest place is found in bounded memory', () => {
  // Cells of 67 mm, 134 points an edge: all blocks that these rays pass would hold some 10¹¹ points.
  const random = seededRandom(5)
  const within = (): V3 => [10_000 * random(), 10_000 * random(), 10_000 * random()]
  const hot: V3 = [4321, 5432, 6543]
  const rays = Array.from({ length: 120 }, (_, i): ListedSegment => {
    const from = within()
    const to = i < 20 ? hot : within()
    const towards = to.map((x, k) => x - from[k]!) as unknown as V3
    const length = Math.hypot(...towards)
    return { from, towards, lengthMm: i < 20 ? length + 5 : length, watts: 1 }
  })
  // A share of 0: no block is left out because it holds too little.
  for (const share of [0.45, 0]) {
    const [first] = findDensePoints(listedSegments(rays), options({ discMm: 1, share, most: 3, partMm: 1 }))
    expect(Math.hypot(first!.xMm - hot[0], first!.yMm - hot[1], first!.zMm - hot[2])).toBeLessThan(1)
  }
})

test('what is left out is reported, and no point left out holds more', () => {
  // Two pencils of parallel light 600 mm apart: of two blocks only the one that more light crosses is looked into.
  const pencil = (xMm: number, count: number): ListedSegment[] =>
    Array.from({ length: count }, (_, k) => ({
      from: [xMm + 0.01 * k, 0, 0],
      towards: [0, 0, 1],
      lengthMm: 40,
      watts: 0.01,
    }))
  const segments = listedSegments([...pencil(0, 40), ...pencil(600, 20)])
  const leftOut: [number, number][] = []
  const options = {
    discMm: 1,
    floorKWm2: 1,
    share: 0.1,
    zoneOf: () => 0,
    zones: 1,
    most: Number.POSITIVE_INFINITY,
    partMm: 0,
    onLeftOut: (zone: number, upToKWm2: number) => leftOut.push([zone, upToKWm2]),
  }
  expect(findDensePoints(segments, options).some((p) => p.xMm > 300)).toBe(true)
  expect(leftOut).toEqual([])
  const points = findDensePoints(segments, { ...options, mostPoints: 1000 })
  expect(points.every((p) => p.xMm < 300)).toBe(true)
  expect(leftOut).toHaveLength(1)
  // By hand: 20 rays of 0.01 W within the disc, over its area π · 0.25 mm².
  const weaker = (20 * 0.01 * 1000) / (Math.PI * 0.25)
  expect(leftOut[0]![0]).toBe(0)
  expect(leftOut[0]![1]).toBeGreaterThanOrEqual(weaker * (1 - 1e-5))
})
