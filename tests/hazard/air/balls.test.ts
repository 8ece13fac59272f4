// B on the points of chosen blocks: each against its own sum over all segments.
import { describe, expect, test } from 'vitest'
import { type Blocks, type Grid, sumBalls } from '../../../src/hazard/air/balls.ts'
import { seededRandom } from '../../../src/num/rng.ts'
import type { Segments } from '../../../src/run/segments.ts'
import { expectWithin, seeds } from '../../kit/expect.ts'
import { type ListedSegment, listedSegments, type V3 } from '../../kit/handSegments.ts'
import { slowBallW } from '../../kit/slowBalls.ts'

/** Blocks about these corners, each (ix, iy, iz). */
function blocksAt({ n }: Grid, corners: readonly V3[]): Blocks {
  const corner = Int32Array.from(corners, ([x, y, z]) => (z * n[1] + y) * n[0] + x)
  const of = new Int32Array(n[0] * n[1] * n[2]).fill(-1)
  for (const [b, k] of corner.entries()) of[k] = b
  return {
    count: corner.length,
    of,
    corner,
    power: new Float32Array(corner.length),
    zone: new Int8Array(corner.length),
    met: new Uint16Array(corner.length),
    least: new Float32Array(corner.length),
  }
}

/** Every point of every block; B = 1000 W/πR² in kW/m². How many are lit. */
function compare(segments: Segments, grid: Grid, corners: readonly V3[], radius: number): number {
  const lattice = sumBalls(segments, grid, blocksAt(grid, corners), radius)
  const { m, spacingMm, from, kWm2 } = lattice
  expect(kWm2.length).toBe(corners.length * m ** 3)
  let lit = 0
  for (const [b, corner] of corners.entries())
    for (let j = 0; j < m ** 3; j++) {
      const local = [j % m, Math.floor(j / m) % m, Math.floor(j / (m * m))]
      const at = corner.map((c, k) => from[k]! + (c * m + local[k]!) * spacingMm) as unknown as V3
      const expected = (1000 * slowBallW(segments, at, radius)) / (Math.PI * radius ** 2)
      if (expected > 0) lit++
      expectWithin(kWm2[b * m ** 3 + j]!, expected, { abs: 1e-5 * (expected + 1e-3), because: 'single precision' })
    }
  return lit
}

const grid: Grid = { from: [-3, 5, 2], n: [11, 10, 9], cellMm: 20 }

test('points of a lattice of at most R, the first half a cell and half a step before the first cell’s middle', () => {
  const lattice = (radius: number) => sumBalls(listedSegments([]), grid, blocksAt(grid, [[1, 1, 1]]), radius)
  // 20/5 = 4 points an edge, 5 mm apart; −3 − 10 + 2.5.
  expect(lattice(5)).toMatchObject({ m: 4, spacingMm: 5, from: [-10.5, -2.5, -5.5] })
  // 20/6.3 = 3.2: 4 points too; 20/4.9: 5, 4 mm apart, −3 − 10 + 2.
  expect(lattice(6.3)).toMatchObject({ m: 4, spacingMm: 5 })
  expect(lattice(4.9)).toMatchObject({ m: 5, spacingMm: 4, from: [-11, -3, -6] })
})

describe('rays between any two points', () => {
  test.each(seeds(4))('seed %i', (seed) => {
    const random = seededRandom(seed * 101)
    const within = (axis: number) => grid.from[axis]! + grid.cellMm * (1 + (grid.n[axis]! - 2) * random())
    const rays = Array.from({ length: 60 }, (): ListedSegment => {
      const a: V3 = [within(0), within(1), within(2)]
      const b: V3 = [within(0), within(1), within(2)]
      const towards = b.map((x, k) => x - a[k]!) as unknown as V3
      return { from: a, towards, lengthMm: Math.hypot(...towards) * 0.999, watts: 0.5 + random() }
    })
    const corners = Array.from({ length: 24 }, (): V3 => {
      const pick = (axis: number) => 1 + Math.floor((grid.n[axis]! - 1) * random())
      return [pick(0), pick(1), pick(2)]
    })
    const unlike = corners.filter((c, k) => corners.findIndex((o) => o.join() === c.join()) === k)
    const radius = [5, 6.3, 10, 4.1][seed - 1]!
    expect(compare(listedSegments(rays), grid, unlike, radius)).toBeGreaterThan(20)
  })
})

describe('rays along the axes and the diagonals, to the very ends', () => {
  const ways: V3[] = []
  for (const x of [-1, 0, 1])
    for (const y of [-1, 0, 1]) for (const z of [-1, 0, 1]) if (x || y || z) ways.push([x, y, z])
  test.each(ways)('%i %i %i', (...towards) => {
    // About (95, 95, 92), near the grid's middle; it ends 20 mm either side of it.
    const length = Math.hypot(...towards)
    const from = [95, 95, 92].map((c, k) => c - (20 * towards[k]!) / length) as unknown as V3
    const corners: V3[] = []
    for (const x of [3, 4, 5, 6]) for (const y of [3, 4, 5, 6]) for (const z of [3, 4, 5, 6]) corners.push([x, y, z])
    const segments = listedSegments([{ from, towards, lengthMm: 40 }])
    expect(compare(segments, grid, corners, 5)).toBeGreaterThan(8)
  })
})

describe('a ray along a row of points', () => {
  // Points at −7.5 + 5 k; the ray runs through those with y = 32.5 (8), z = 27.5 (7), from x = 22.5 (6) to 52.5 (12).
  const even: Grid = { from: [0, 0, 0], n: [6, 6, 6], cellMm: 20 }
  const all: V3[] = []
  for (const x of [1, 2, 3, 4, 5]) for (const y of [1, 2, 3, 4, 5]) for (const z of [1, 2, 3, 4, 5]) all.push([x, y, z])
  const lit = (axis: number, sign: number, lengthMm = 30) => {
    const start = [22.5, 32.5, 27.5]
    const turned = [0, 1, 2].map((k) => start[(k + 3 - axis) % 3]!)
    const towards = [0, 0, 0]
    towards[axis] = sign
    if (sign < 0) turned[axis]! += lengthMm
    const segments = listedSegments([{ from: turned as unknown as V3, towards: towards as unknown as V3, lengthMm }])
    return sumBalls(segments, even, blocksAt(even, all), 5).kWm2
  }
  test.each([0, 1, 2])('meets those at R too, and those at its ends: 7 planes of 5, along axis %i', (axis) => {
    for (const sign of [1, -1]) {
      const values = [...lit(axis, sign)].filter((v) => v > 0)
      expect(values.length).toBe(35)
      for (const v of values) expectWithin(v, 1000 / (25 * Math.PI), { rel: 1e-6, because: '1 W over π 5²' })
    }
    // 29.9 mm long it falls short of the last one.
    expect([...lit(axis, 1, 29.9)].filter((v) => v > 0).length).toBe(30)
  })
})

test('a ray that slants but little to a plane of points is met over the whole ellipse', () => {
  // Through (50, 50, 50) along (0.7, 0.7, √0.02): across its main axis the ellipse is R/0.7 long.
  for (const towards of [
    [0.7, 0.7, Math.sqrt(0.02)],
    [0.71, -0.69, Math.sqrt(0.0198)],
    [Math.sqrt(0.02), 0.69, 0.71],
    [0.69, Math.sqrt(0.02), 0.71],
  ] as V3[]) {
    const from = [95, 95, 92].map((c, k) => c - 40 * towards[k]!) as unknown as V3
    const corners: V3[] = []
    for (const x of [3, 4, 5, 6, 7]) for (const y of [3, 4, 5, 6]) for (const z of [3, 4, 5, 6]) corners.push([x, y, z])
    expect(compare(listedSegments([{ from, towards, lengthMm: 80 }]), grid, corners, 7)).toBeGreaterThan(30)
  }
})
