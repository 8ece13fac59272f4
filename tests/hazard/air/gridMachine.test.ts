// Cells, half cells and balls of the sparse grid in WebAssembly against plain loops: the same bits.
import { describe, expect, test } from 'vitest'
import { type Blocks, type Grid, type KnownBlocks, markCells, sumBalls } from '../../../src/hazard/air/balls.ts'
import type { DenseOptions } from '../../../src/hazard/air/blocks.ts'
import { sumBallsFast } from '../../../src/hazard/air/fastBalls.ts'
import { findDensePoints } from '../../../src/hazard/air/grid.ts'
import { reachingBlocks } from '../../../src/hazard/air/tighten.ts'
import { type GridMachine, gridMachine, makeGridMachine } from '../../../src/hazard/air/wasm/instance.ts'
import { seededRandom } from '../../../src/num/rng.ts'
import type { Segments } from '../../../src/run/segments.ts'
import { seeds } from '../../kit/expect.ts'
import { type ListedSegment, listedSegments, type V3 } from '../../kit/handSegments.ts'

const LOW: V3 = [-120, 12, 203]
const HIGH: V3 = [110, 251, 402]

test('this thread has WebAssembly with SIMD, else the rest would compare plain loops with themselves', () => {
  expect(gridMachine()).not.toBeNull()
})

/** Between any two points of the box, a third of them through one place, a tenth without light. */
function crossing(random: () => number, count: number): Segments {
  const within = (): V3 => LOW.map((low, k) => low + (HIGH[k]! - low) * random()) as unknown as V3
  const focus = within()
  return listedSegments(
    Array.from({ length: count }, (): ListedSegment => {
      const [from, to] = [within(), random() < 0.3 ? focus : within()]
      const towards = to.map((x, k) => x - from[k]!) as unknown as V3
      return { from, towards, lengthMm: Math.hypot(...towards), watts: random() < 0.1 ? 0 : random() }
    }),
  )
}

/** A cell wider than the box on every side. */
function gridAbout(cellMm: number): Grid {
  const n = LOW.map((low, k) => Math.ceil((HIGH[k]! - low) / cellMm) + 2) as [number, number, number]
  return { from: LOW.map((low) => low - cellMm) as [number, number, number], n, cellMm }
}

/** About every so manieth inner corner. */
function blocksOf({ n: [nx, ny, nz] }: Grid, every: number): Blocks {
  const of = new Int32Array(nx * ny * nz).fill(-1)
  const corners: number[] = []
  for (let k = 0; k < of.length; k++) {
    const [x, y, z] = [k % nx, Math.floor(k / nx) % ny, Math.floor(k / (nx * ny))]
    if (x > 0 && y > 0 && z > 0 && (7 * k) % every === 0) corners.push(k)
  }
  for (const [b, k] of corners.entries()) of[k] = b
  const count = corners.length
  return {
    ...{ count, of, corner: Int32Array.from(corners), power: new Float32Array(count), zone: new Int8Array(count) },
    ...{ met: new Uint16Array(count).fill(1), least: new Float32Array(count) },
  }
}

const fresh = (segments: Segments): GridMachine => {
  const machine = makeGridMachine()!
  machine.use(segments)
  return machine
}

/** How many points are lit. */
function compareBalls(
  segments: Segments,
  cellMm: number,
  radiusMm: number,
  every: number,
  known?: KnownBlocks,
): number {
  const grid = gridAbout(cellMm)
  const blocks = blocksOf(grid, every)
  const plain = sumBalls(segments, grid, blocks, radiusMm, known)
  const fast = sumBallsFast(fresh(segments), grid, blocks, radiusMm, known)
  expect({ ...fast, kWm2: [] }).toEqual({ ...plain, kWm2: [] })
  expect(Buffer.compare(bytesOf(fast.kWm2), bytesOf(plain.kWm2))).toBe(0)
  return plain.kWm2.filter((v) => v > 0).length
}

const bytesOf = ({ buffer, byteOffset, byteLength }: Float32Array) => Buffer.from(buffer, byteOffset, byteLength)

describe('balls', () => {
  // R over the lattice's spacing: 1, 1.26, 1.0 and 1.04; 4, 4, 6 and 7 points along a block's edge.
  test.each([
    [20, 5],
    [20.4, 5.1],
    [30, 5],
    [34, 5],
    [20, 4.2],
  ])('of cells of %f mm and a radius of %f mm', (cellMm, radiusMm) => {
    for (const seed of seeds(3)) {
      const segments = crossing(seededRandom(97 * seed), 500)
      for (const every of [1, 5, 61]) expect(compareBalls(segments, cellMm, radiusMm, every)).toBeGreaterThan(100)
    }
  })
  test('rims that go through points, along axes and diagonals: single precision cannot tell', () => {
    // Points lie at whole and half radii of the box's corner; so do these rays.
    const rays: ListedSegment[] = []
    for (const towards of [
      ...([
        [1, 0, 0],
        [0, -1, 0],
        [0, 0, 1],
        [1, 1, 0],
        [0, 1, -1],
        [-1, 0, 1],
        [1, 1, 1],
        [1, 1, 0.5],
      ] as V3[]),
      ...([
        [1, 1e-7, 0],
        [1e-7, 1, -1e-7],
        [0.999999, 1, 1e-6],
      ] as V3[]),
    ])
      for (let k = 0; k < 24; k++)
        rays.push({ from: [0 + 2.5 * k, 132 - 2.5 * k, 303 + 2.5 * (k % 5)], towards, lengthMm: 30 + 0.75 * k })
    const segments = listedSegments(rays)
    for (const every of [1, 3]) expect(compareBalls(segments, 20, 5, every)).toBeGreaterThan(300)
  })
  test('blocks that are known are taken over', () => {
    const segments = crossing(seededRandom(5), 300)
    const grid = gridAbout(20)
    const corner = blocksOf(grid, 1).corner.filter((_, k) => k % 4 === 0)
    const kWm2 = new Float32Array(64 * corner.length).map((_, k) => k)
    expect(compareBalls(segments, 20, 5, 2, { corner, kWm2 })).toBeGreaterThan(1000)
  })
})

test('half cells: the same blocks reach their thresholds, by the same bounds', () => {
  for (const seed of seeds(4)) {
    const segments = crossing(seededRandom(31 * seed), 400)
    const grid = gridAbout(20)
    const [plain, fast] = [null, fresh(segments)].map((machine) => {
      const blocks = blocksOf(grid, 3)
      blocks.least.fill(30)
      return { reaching: reachingBlocks(segments, grid, blocks, 5, machine), power: blocks.power }
    })
    expect(fast).toEqual(plain)
    expect(plain!.reaching.length).toBeGreaterThan(10)
    expect(plain!.reaching.length).toBeLessThan(plain!.power.length)
  }
  expect(markCells(gridAbout(20), blocksOf(gridAbout(20), 3)).marked.length).toBeGreaterThan(100)
})

describe('dense points', () => {
  const options: DenseOptions = {
    ...{ discMm: 10, floorKWm2: 1, share: 0.2, zones: 2, most: 20, partMm: 5 },
    zoneOf: (x, y) => (y > 200 ? -1 : x < 0 ? 0 : 1),
  }
  test('the same, search after search in one memory that grows on the way, cleared each time', () => {
    const machine = makeGridMachine()
    for (const [seed, count] of [
      [1, 40],
      [2, 3000],
      [3, 7],
      [4, 900],
      [5, 5000],
      [6, 900],
    ] as const) {
      const segments = crossing(seededRandom(seed), count)
      const plain = findDensePoints(segments, options, null)
      expect(plain.length).toBeGreaterThan(1)
      expect(findDensePoints(segments, options, machine)).toEqual(plain)
    }
  })
  test('of a disc so small that plain loops sum its points', () => {
    const segments = crossing(seededRandom(9), 200)
    const small = { ...options, discMm: 0.15, partMm: 0.1, mostPoints: 1 << 20 }
    expect(findDensePoints(segments, small)).toEqual(findDensePoints(segments, small, null))
  })
  test('none without light', () => {
    expect(findDensePoints(listedSegments([]), options)).toEqual([])
  })
})
