// The volume before the lamp from a handful of rays: planes, cells, rings and whether it is round, by hand.
import { describe, expect, test } from 'vitest'
import { hottestByPlane, readVolume, type VolumeOptions } from '../../src/hazard/volume.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { runToEnd } from '../../src/num/scheduler.ts'
import { T95 } from '../../src/num/stats.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin, seeds } from '../kit/expect.ts'
import { exitRays, filledRun, smallShape } from '../kit/handRun.ts'

const FRONT = 50
const because = 'by hand'

interface Ray {
  at: readonly [number, number]
  slope?: readonly [number, number]
  watts?: number
}

/** 16 W from 16 rays: a weight of 1 is 1 W. */
function runOf(rays: readonly Ray[]) {
  const run = filledRun(smallShape(), () => {})
  run.exits = exitRays(
    rays.map(({ at, slope = [0, 0], watts = 1 }) => {
      const length = Math.hypot(slope[0], slope[1], 1)
      return [at[0], at[1], FRONT, slope[0] / length, slope[1] / length, 1 / length, watts, 300 * watts]
    }),
    16,
  )
  return run
}
const read = (rays: readonly Ray[], options: VolumeOptions) => runToEnd(readVolume(runOf(rays), FRONT, options))
/** One plane only, 1 mm before the front: the next would be at 0.75 mm or more. */
const NEAR = { farMm: 0.5 }

describe('planes', () => {
  test('at 1 mm, then growing by 15 %, from 5 mm or a fifth of the radius', () => {
    const at = (rays: Ray[], farMm: number) => read(rays, { discMm: 10, farMm }).planes.map((p) => p.distanceMm)
    const growing = (first: number, farMm: number) => {
      const out = [1]
      for (let k = 1; first * (1.15 ** k - 1) < farMm; k++) out.push(first * (1.15 ** k - 1))
      return out
    }
    for (const [rays, first] of [
      [[], 5],
      [[{ at: [20, 0] }], 5],
      [Array.from({ length: 200 }, () => ({ at: [60, 80] as const })), 20],
    ] as [Ray[], number][]) {
      const found = at(rays, 1000)
      const expected = growing(first, 1000)
      expect(found.length).toBe(expected.length)
      for (const [k, d] of expected.entries()) expectWithin(found[k]!, d, { rel: 1e-6, because })
    }
    // 5 (1.15 − 1) = 0.75 exactly reached or not.
    expect(at([], 0.74)).toEqual([1])
    expect(at([], 0.76).length).toBe(2)
    expect(at([], 20_000)).toEqual(
      runToEnd(readVolume(runOf([]), FRONT, { discMm: 10 })).planes.map((p) => p.distanceMm),
    )
  })
  test('reach as far as 99 of 100 rays, by radius and by slope', () => {
    // Radii 1 … 100 and slopes 0.01 … 1, and the least, 1 and 0.001: the second largest of 101.
    const rays = Array.from(
      { length: 100 },
      (_, k): Ray => ({
        at: [0.6 * (k + 1), -0.8 * (k + 1)],
        slope: [0.008 * (k + 1), 0.006 * (k + 1)],
      }),
    )
    const { planes, ringMap, frontZMm } = read(rays, { discMm: 1, farMm: 300, n: 64 })
    expect(frontZMm).toBe(FRONT)
    for (const [k, { distanceMm, halfMm, n }] of planes.entries()) {
      expectWithin(halfMm, 99 + 0.99 * distanceMm, { rel: 1e-6, because })
      expect(n).toBe(64)
      expectWithin(ringMap.ringMm[k]!, halfMm / 48, { rel: 1e-6, because: '48 rings' })
    }
    expect(ringMap.rings).toBe(48)
    expect(ringMap.kWm2.length).toBe(48 * planes.length)
    // No slope beyond 2.
    const steep = read(
      Array.from({ length: 100 }, (): Ray => ({ at: [40, 30], slope: [3, 4] })),
      { discMm: 1, ...NEAR },
    )
    expectWithin(steep.planes[0]!.halfMm, 50 + 2, { rel: 1e-6, because })
    // No light: 1 mm and 0.001.
    expectWithin(read([], { discMm: 0.01, ...NEAR }).planes[0]!.halfMm, 1.001, { rel: 1e-9, because })
  })
  test('of many rays every so many are asked', () => {
    // 8100 rays: every second; the odd ones lie far out.
    const rays = Array.from({ length: 8100 }, (_, k): Ray => ({ at: [k % 2 === 0 ? 70 : 500, 0] }))
    expectWithin(read(rays, { discMm: 1, ...NEAR }).planes[0]!.halfMm, 70, { rel: 1e-6, because })
  })
  test('at least a quarter of n discs of half width; cells no narrower than the disc, at most n, at least 4', () => {
    const of = (radius: number, discMm: number, n?: number) => {
      const { planes } = read(
        Array.from({ length: 100 }, () => ({ at: [radius, 0] as const })),
        { discMm, ...NEAR, ...(n === undefined ? {} : { n }) },
      )
      return [Math.round(planes[0]!.halfMm * 100) / 100, planes[0]!.n]
    }
    // 20 · 6/8 = 15; 30/6 = 5 cells.
    expect(of(10, 6, 20)).toEqual([15, 5])
    expect(of(31, 6, 20)).toEqual([31, 10])
    expect(of(100, 6, 20)).toEqual([100, 20])
    expect(of(1, 6, 8)).toEqual([6, 4])
    // 64 unless told.
    expect(of(500, 6)).toEqual([500, 64])
    expect(of(1, 6)).toEqual([48, 16])
  })
})

describe('cells and rings', () => {
  // ± 20 mm in four cells of 10 mm; rings of 20/48 mm.
  const options = { discMm: 40, n: 4, ...NEAR }
  const upper = (...watts: number[]) =>
    1000 * (watts.reduce((a, b) => a + b, 0) + T95 * Math.sqrt(watts.reduce((a, b) => a + b * b, 0)))
  test('each holds its rays, carried to its plane: sum and 2.131 √Σ w² over its area', () => {
    const { planes, ringMap } = read(
      [
        // At 1 mm (−15, 5): first column, third row; its ring 15.81/(20/48) = 37.9.
        { at: [-15.5, 4.75], slope: [0.5, 0.25], watts: 2 },
        { at: [-14, 6], watts: 3 },
        { at: [19, -19], watts: 4 },
        { at: [0.1, 0], watts: 5 },
        { at: [300, 0], watts: 6 },
      ],
      options,
    )
    const [{ halfMm, n, kWm2 }] = planes as [(typeof planes)[number]]
    expect(n).toBe(4)
    const cell = (2 * halfMm) / 4
    expect(halfMm).toBeGreaterThan(20)
    const expected = new Float32Array(16)
    const put = (x: number, y: number, ...watts: number[]) => {
      expected[Math.floor((y + halfMm) / cell) * 4 + Math.floor((x + halfMm) / cell)] = upper(...watts) / cell ** 2
    }
    put(-15, 5, 2, 3)
    put(19, -19, 4)
    put(0.1, 0, 5)
    for (const [i, v] of expected.entries()) expectWithin(kWm2[i]!, v, { rel: 1e-5, because })
    const width = halfMm / 48
    const rings = new Float32Array(48)
    for (const [r, ...watts] of [
      [Math.hypot(15, 5), 2],
      [Math.hypot(14, 6), 3],
      [Math.hypot(19, 19), 4],
      [0.1, 5],
    ] as [number, ...number[]][]) {
      const k = Math.floor(r / width)
      rings[k] = upper(...watts) / (Math.PI * width ** 2 * ((k + 1) ** 2 - k ** 2))
    }
    for (const [k, v] of rings.entries()) expectWithin(ringMap.kWm2[k]!, v, { rel: 1e-5, because })
  })
  test('its edges: low ones belong to a cell, high ones to the next; beyond the last there is none', () => {
    // Dark rays put the reach at 20 mm: 20 · 40/8 is that already for n = 4.
    const cellOf = (x: number, y: number) => {
      const { planes } = read([{ at: [x, y] }], options)
      const { kWm2, halfMm } = planes[0]!
      expect(halfMm).toBe(20)
      return [...kWm2].flatMap((v, i) => (v > 0 ? [i] : []))
    }
    const only = (x: number, y: number) => cellOf(x, y)
    expect(only(0, 0)).toEqual([10])
    expect(only(-0.01, 0)).toEqual([9])
    expect(only(0, -0.01)).toEqual([6])
    expect(only(-10, -10)).toEqual([5])
    expect(only(9.99, 9.99)).toEqual([10])
    expect(only(10, 9.99)).toEqual([11])
  })
  test('light beyond a side is in no cell, in whatever row', () => {
    const far = (x: number, y: number) => {
      const dark = Array.from({ length: 400 }, (): Ray => ({ at: [0, 0], watts: 0 }))
      const { planes, ringMap } = read([...dark, { at: [x, y] }], options)
      expect(planes[0]!.halfMm).toBe(20)
      return [planes[0]!.kWm2, ringMap.kWm2].map((values) => values.some((v) => v > 0))
    }
    for (const [x, y] of [
      [20, 5],
      [-20.01, 5],
      [5, 20],
      [5, -20.01],
      [35, 5],
      [-35, 5],
    ] as const)
      expect(far(x, y), `${x}, ${y}`).toEqual([false, false])
    // In a corner there is a cell, but no ring; just within, both.
    expect(far(19.9, -20)).toEqual([true, false])
    expect(far(-20, 19.9)).toEqual([true, false])
    expect(far(19.9, 0)).toEqual([true, true])
  })
})

describe('round', () => {
  // ± 30 mm in eight cells of 7.5 mm, by dark rays that stand there.
  const options = { discMm: 4, n: 8, ...NEAR }
  const dark = Array.from({ length: 60 }, (): Ray => ({ at: [30, 0], watts: 0 }))
  const [HALF, SIZE, WIDTH] = [30, 7.5, 30 / 48]
  /** Cells that are off their ring by more than 4 √Σ w² and a fifth, of those that are bright or should be. */
  function countApart(rays: readonly Ray[], n = 8): { apart: number; compared: number } {
    const size = 60 / n
    const grid = new Float64Array(n * n)
    const squares = new Float64Array(n * n)
    const rings = new Float64Array(48)
    for (const { at, watts = 1 } of rays) {
      const i = Math.floor((at[1] + HALF) / size) * n + Math.floor((at[0] + HALF) / size)
      grid[i]! += watts
      squares[i]! += watts ** 2
      const ring = Math.floor(Math.hypot(...at) / WIDTH)
      if (ring < 48) rings[ring]! += watts
    }
    const bright = 0.2 * Math.max(...grid)
    let [apart, compared] = [0, 0]
    for (let i = 0; i < n * n; i++) {
      const r = Math.hypot(((i % n) + 0.5 - n / 2) * size, (Math.floor(i / n) + 0.5 - n / 2) * size)
      const first = Math.max(0, Math.floor((r - size / 2) / WIDTH))
      const last = Math.min(47, Math.floor((r + size / 2) / WIDTH))
      const watts = rings.slice(first, last + 1).reduce((a, b) => a + b, 0)
      const area = Math.PI * WIDTH ** 2 * ((last + 1) ** 2 - first ** 2)
      const expected = area > 0 ? (watts * size ** 2) / area : 0
      if (grid[i]! < bright && expected < bright) continue
      compared++
      const off = Math.abs(grid[i]! - expected)
      if (off > 4 * Math.sqrt(squares[i]!) && off > 0.2 * expected) apart++
    }
    return { apart, compared }
  }
  /** A Gaussian of so many mm, within 29 mm, and more light in a cell somewhere. */
  function lit(seed: number, rays: number, more: number): Ray[] {
    const random = seededRandom(seed * 89)
    const watts = 2 ** -6
    const out: Ray[] = []
    while (out.length < rays) {
      const [r, turn] = [9 * Math.sqrt(-2 * Math.log(1 - random())), 2 * Math.PI * random()]
      const at = [r * Math.cos(turn), r * Math.sin(turn)].map(Math.fround) as [number, number]
      if (r < 29) out.push({ at, watts })
    }
    const [c, row] = [(seed % 5) - 2, (seed % 3) - 1]
    for (let k = 0; k < more; k++)
      out.push({ at: [SIZE * (c + random()), SIZE * (row + random())].map(Math.fround) as [number, number], watts })
    return out
  }
  test.each(seeds(amount(4, 12)))('under one in fifty cells is off its ring, seed %i', (seed) => {
    const found: boolean[] = []
    for (const more of [0, 20, 30, 40, 50, 60, 80, 120]) {
      const rays = lit(seed, 1500, more)
      const volume = read([...rays, ...dark], options)
      expect([volume.planes[0]!.halfMm, volume.planes[0]!.n]).toEqual([30, 8])
      const { apart, compared } = countApart(rays)
      expect(volume.round, `${more} more: ${apart} of ${compared}`).toBe(apart / compared < 0.02)
      found.push(volume.round)
    }
    expect(found.at(-1)).toBe(false)
  })
  test.each(seeds(amount(2, 4)))('with a cell about the axis, seed %i', (seed) => {
    for (const more of [0, 80, 110, 140, 200, 260]) {
      const rays = lit(3 * seed + 7, 1500, more)
      const { apart, compared } = countApart(rays, 7)
      expect(read([...rays, ...dark], { ...options, n: 7 }).round, `${more} more`).toBe(apart / compared < 0.02)
    }
  })
  test('bright on one half, dark on the other isn’t; no light is', () => {
    const disc = lit(1, 3000, 0)
    expect(read([...disc, ...dark], options).round).toBe(true)
    expect(read([...disc.filter((r) => r.at[0] < 0), ...dark], options).round).toBe(false)
    expect(read([...disc.filter((r) => r.at[1] < 0), ...dark], options).round).toBe(false)
    expect(read([], options).round).toBe(true)
    expect(read(dark, options).round).toBe(true)
  })
})

test('the hottest cell of each plane', () => {
  const volume = read([{ at: [0, 0] }, { at: [15, 5], watts: 3 }], { discMm: 40, n: 4, farMm: 1 })
  const found = hottestByPlane(volume)
  expect(found.map((p) => p.distanceMm)).toEqual(volume.planes.map((p) => p.distanceMm))
  for (const [k, { kWm2 }] of found.entries())
    expectWithin(kWm2, (1000 * (3 + 3 * T95)) / ((2 * volume.planes[k]!.halfMm) / 4) ** 2, { rel: 1e-6, because })
})
