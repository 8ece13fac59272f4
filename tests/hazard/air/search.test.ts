// The search in air on pencils of light, whose places and strengths are known.
import { describe, expect, test } from 'vitest'
import { type AirOptions, readByDisc, searchAir, takeHalf } from '../../../src/hazard/air/search.ts'
import { makeSampler } from '../../../src/num/rng.ts'
import { runToEnd } from '../../../src/num/scheduler.ts'
import { T95 } from '../../../src/num/stats.ts'
import { expectWithin } from '../../kit/expect.ts'
import { type ListedSegment, listedSegments, type V3 } from '../../kit/handSegments.ts'

const ONE = 1000 / (25 * Math.PI)

describe('one half of the batches', () => {
  const segments = listedSegments(
    Array.from({ length: 640 }, (_, i) => ({ from: [i, 0, 0], towards: [0, 0, 1], watts: 3, batch: i % 16 })),
    0.5,
  )
  const numbers = (parity: number) => Array.from({ length: 640 }, (_, i) => i).filter((i) => i % 2 === parity)
  test('whole: its watts stand for all', () => {
    for (const parity of [0, 1] as const) {
      const half = takeHalf(segments, parity, 320)
      expect([...half.xMm]).toEqual(numbers(parity))
      expect([...half.watts]).toEqual(new Array(320).fill(6))
      expect(half.wattsOfOne).toBe(1)
    }
    expect([...segments.watts.subarray(0, 3)]).toEqual([3, 3, 3])
  })
  test('thinned by the sampler of the wanted share', () => {
    const taken = makeSampler(80 / 320)
    const expected = numbers(1).filter(taken)
    const half = takeHalf(segments, 1, 80)
    expect([...half.xMm]).toEqual(expected)
    for (const w of half.watts) expectWithin(w, (3 * 640) / expected.length, { rel: 1e-6, because: 'all of 1920 W' })
    expectWithin(half.wattsOfOne, (0.5 * 640) / expected.length, { rel: 1e-12, because: 'a ray stands for as many' })
  })
  test('of nothing', () => {
    expect(takeHalf(listedSegments([], 0.5), 0, 100)).toMatchObject({ count: 0, wattsOfOne: 0 })
    const odd = listedSegments([{ from: [0, 0, 0], towards: [0, 0, 1], batch: 1 }], 0.5)
    expect(takeHalf(odd, 0, 100)).toMatchObject({ count: 0, wattsOfOne: 0 })
    expect(takeHalf(odd, 1, 100)).toMatchObject({ count: 1, wattsOfOne: 1 })
  })
})

/** 160 rays through a place from a ring of directions with this slope about z, `half` mm long before and behind it. */
const cone = (place: V3, watts: number, slope = 0.2, half = 40): ListedSegment[] =>
  Array.from({ length: 160 }, (_, i) => {
    // Ten directions, sixteen batches each.
    const turn = (2 * Math.PI * Math.floor(i / 16)) / 10
    const d: V3 = [slope * Math.cos(turn), slope * Math.sin(turn), 1]
    const length = Math.hypot(...d)
    return {
      from: [0, 1, 2].map((k) => place[k]! - (half * d[k]!) / length) as unknown as V3,
      towards: d,
      lengthMm: 2 * half,
      watts: watts / 160,
      batch: i % 16,
    }
  })

const options = (over: Partial<AirOptions> = {}): AirOptions => ({
  discMm: 10,
  floorKWm2: 0.1,
  zoneOf: () => 0,
  ...over,
})
const search = (list: readonly ListedSegment[], over: Partial<AirOptions> = {}, one = 0) =>
  runToEnd(searchAir(listedSegments(list, one), options(over)))

describe('the hottest places', () => {
  test('a focus: where, how hot, how sure, which way, how wide', () => {
    const [place, ...more] = search(cone([12, -7, 33], 8), { most: 1 })
    expect(more).toEqual([])
    const { xMm, yMm, zMm, kWm2, se, discMm, zone, dx, dy, dz, spreadRad } = place!
    expectWithin(Math.hypot(xMm - 12, yMm + 7, zMm - 33), 0, { abs: 0.01, because: 'its waist' })
    expectWithin(kWm2, 8 * ONE, { rel: 1e-6, because: '8 W on 10 mm' })
    // Equal batches: the counts' error, √(160 (8/160)²).
    expectWithin(se, (8 / Math.sqrt(160)) * ONE, { rel: 1e-6, because: 'by hand' })
    expect([discMm, zone]).toEqual([10, 'front'])
    expectWithin(Math.hypot(dx, dy), 0, { abs: 1e-6, because: 'even about z' })
    expectWithin(dz, 1, { abs: 1e-6, because: 'along z' })
    expectWithin(spreadRad, Math.sqrt(2 * (1 - 1 / Math.sqrt(1.04))), { rel: 1e-4, because: 'all at one angle' })
    expect(Object.keys(place!).sort()).toEqual(
      ['discMm', 'dx', 'dy', 'dz', 'kWm2', 'se', 'spreadRad', 'xMm', 'yMm', 'zMm', 'zone'].sort(),
    )
  })
  test('zone by zone, hottest first in each, as many as asked', () => {
    const list = [
      ...cone([0, 0, 0], 5),
      ...cone([100, 0, 0], 8),
      ...cone([0, 100, 0], 6),
      ...cone([100, 100, 0], 7),
      ...cone([200, 0, 0], 9),
    ]
    // Inside beyond y = 50, outside beyond x = 150.
    const zoneOf = (x: number, y: number) => (x > 150 ? 2 : y > 50 ? 1 : 0)
    const at = (found: ReturnType<typeof search>) =>
      found.map((p) => [p.zone, Math.round(p.xMm / 50) * 50 + 0, Math.round(p.yMm / 50) * 50 + 0])
    expect(at(search(list, { zoneOf, most: 1 }))).toEqual([
      ['front', 100, 0],
      ['inside', 100, 100],
      ['outside', 200, 0],
    ])
    const all = search(list, { zoneOf, most: 60 })
    const tops = all.filter((p, i) => all.findIndex((q) => Math.hypot(q.xMm - p.xMm, q.yMm - p.yMm) < 25) === i)
    expect(at(tops)).toEqual([
      ['front', 100, 0],
      ['front', 0, 0],
      ['inside', 100, 100],
      ['inside', 0, 100],
      ['outside', 200, 0],
    ])
    for (const [i, p] of all.entries())
      for (const q of all.slice(0, i)) {
        if (q.zone === p.zone) expect(q.kWm2).toBeGreaterThanOrEqual(p.kWm2)
        const apart = Math.hypot(q.xMm - p.xMm, q.yMm - p.yMm, q.zMm - p.zMm)
        if (q.zone === p.zone) expect(apart).toBeGreaterThanOrEqual(15)
      }
  })
  test('one and a half discs apart they are two', () => {
    const two = (x: number) => {
      const found = search([...cone([0, 0, 0], 8, 0.6, 20), ...cone([x, 0, 0], 8, 0.6, 20)], { most: 20 })
      return found.filter((p) => p.kWm2 > 7.9 * ONE).length
    }
    expect(two(17)).toBe(2)
    expect(two(13)).toBe(1)
  })
  test('a place keeps to its zone, also on the way to its waist', () => {
    const zoneOf = (_x: number, _y: number, z: number) => (z < 25 ? 0 : -1)
    const [place] = search(cone([0, 0, 33], 8), { most: 1, zoneOf })
    expect(place!.zMm).toBeLessThan(25)
    // From 25 mm before the focus on the whole cone of slope 0.2 is in the disc.
    expect(place!.zMm).toBeGreaterThan(8)
  })
  test('listed up to an upper end of ± at the floor', () => {
    const upper = (8 + (T95 * 8) / Math.sqrt(160)) * ONE
    expect(search(cone([0, 0, 0], 8), { floorKWm2: upper * 0.999, most: 1 }).length).toBe(1)
    expect(search(cone([0, 0, 0], 8), { floorKWm2: upper * 1.001, most: 1 })).toEqual([])
  })
  test('a weaker one in the zone counts from 0.45 of the greatest fluence rate on', () => {
    // Strong pencil: 1 W over 20 mm of a cell of (20 mm)³, 2.5 kW/m²; 0.45 of it is B of 0.0884 W.
    const pencil = (x: number, watts: number): ListedSegment[] =>
      Array.from({ length: 32 }, (_, i) => ({
        from: [x, 10, 0],
        towards: [0, 0, 1],
        lengthMm: 60,
        watts: watts / 32,
        batch: i % 16,
      }))
    const weak = (watts: number) =>
      search([...pencil(10, 1), ...pencil(110, watts)], { most: 60, floorKWm2: 1e-3 }).some((p) => p.xMm > 90)
    expect(weak(0.092)).toBe(true)
    expect(weak(0.085)).toBe(false)
  })
  test('searched on few segments it is measured with all', () => {
    const [place] = search(cone([12, -7, 33], 8), { most: 1, searchSegments: 40 })
    expectWithin(place!.kWm2, 8 * ONE, { rel: 1e-6, because: 'all rays meet there' })
    expectWithin(place!.se, (8 / Math.sqrt(160)) * ONE, { rel: 1e-6, because: 'of all rays' })
  })
  test('a point of the grid whose rays end before every disc about it is passed over', () => {
    // As in besidePencils.test.ts: the first point's ball alone meets the rays.
    const list = Array.from({ length: 16 }, () => ({
      from: [1.8, 0, -2.4] as V3,
      towards: [-0.6, 0, 0.8] as V3,
      lengthMm: 3.05,
    }))
    const low = { from: [-28.1, -28.5, -27.5] as V3, towards: [1, 0, 0] as V3, lengthMm: 1, watts: 0 }
    const [place] = search([...list, low])
    expectWithin(place!.kWm2, 16 * ONE, { rel: 1e-6, because: 'from another point' })
  })
  test('none without light', () => {
    expect(search([])).toEqual([])
    expect(search(cone([0, 0, 0], 8), { zoneOf: () => -1 })).toEqual([])
  })
})

describe('over smaller discs', () => {
  /** So many watts in four pencils at a distance from a place, or in one there; sixteen batches each. */
  const ring = (x: number, r: number, watts: number): ListedSegment[] =>
    Array.from({ length: 64 }, (_, i) => {
      const turn = (Math.PI / 2) * Math.floor(i / 16)
      return {
        from: [x + r * Math.cos(turn), r * Math.sin(turn), -50],
        towards: [0, 0, 1],
        watts: watts / 64,
        batch: i % 16,
      }
    })
  const place = { xMm: 0, yMm: 0, zMm: 0, kWm2: 42, se: 3, discMm: 10 }
  const kWm2 = (watts: number, discMm: number) => (watts * 1000) / (Math.PI * (discMm / 2) ** 2)
  test('each the hottest near the larger one, its own last', () => {
    const list = [...ring(0, 0, 8), ...ring(0, 1.5, 4), ...ring(0, 3, 2), ...ring(0, 4.5, 1)]
    const found = readByDisc(listedSegments(list), place)
    expect(found.map((d) => d.discMm)).toEqual([1, 3.5, 7, 10])
    for (const [k, watts] of [8, 12, 14].entries()) {
      const { discMm, kWm2: value, se } = found[k]!
      expectWithin(value, kWm2(watts, discMm), { rel: 1e-6, because: 'what lies within its radius' })
      const counts = [[8], [8, 4], [8, 4, 2]][k]!.reduce((sum, w) => sum + w ** 2 / 64, 0)
      expectWithin(se, kWm2(Math.sqrt(counts), discMm), { rel: 1e-6, because: 'equal batches: the counts' })
    }
    expect(found[3]).toEqual({ discMm: 10, kWm2: 42, se: 3 })
  })
  test('only smaller ones', () => {
    const list = ring(0, 0, 8)
    expect(readByDisc(listedSegments(list), { ...place, discMm: 7 }).map((d) => d.discMm)).toEqual([1, 3.5, 7])
    expect(readByDisc(listedSegments(list), { ...place, discMm: 1 })).toEqual([{ discMm: 1, kWm2: 42, se: 3 }])
  })
  test('from where the larger one came to lie', () => {
    // 1 W where it begins and 3 W 5 mm beside: 7 mm hold both, from between them; smaller discs the stronger.
    const found = readByDisc(listedSegments([...ring(0, 0, 1), ...ring(5, 0, 3)]), place)
    for (const [k, watts] of [3, 3, 4].entries())
      expectWithin(found[k]!.kWm2, kWm2(watts, found[k]!.discMm), { rel: 1e-6, because: 'the stronger, or both' })
  })
  test('0 where a smaller one meets no light', () => {
    const found = readByDisc(listedSegments(ring(0, 2.9, 4)), place)
    expect(found.slice(0, 2)).toEqual([
      { discMm: 1, kWm2: 0, se: 0 },
      { discMm: 3.5, kWm2: 0, se: 0 },
    ])
    expectWithin(found[2]!.kWm2, kWm2(4, 7), { rel: 1e-6, because: 'all of it' })
  })
  test('measured with the batches that did not find it', () => {
    // Even batches 2 W each in 64 rays, odd ones 1 W: the odd ones count; of smaller discs, which both halves find, the hotter.
    const list = Array.from({ length: 16 * 64 }, (_, i) => ({
      from: [0, 0, -50] as V3,
      towards: [0, 0, 1] as V3,
      watts: (i % 2 === 0 ? 2 : 1) / 64,
      batch: i % 16,
    }))
    for (const d of readByDisc(listedSegments(list), place).slice(0, 3))
      expectWithin(d.kWm2, kWm2(32, d.discMm), { rel: 1e-6, because: 'even batches, doubled' })
    const [found] = runToEnd(searchAir(listedSegments(list.map((s) => ({ ...s, lengthMm: 100 }))), options()))
    expectWithin(found!.kWm2, 16 * ONE, { rel: 1e-6, because: 'odd batches, doubled' })
  })
})
