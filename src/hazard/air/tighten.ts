// A second, closer bound of what a block of the grid can hold: by the power that crosses its cells halved.
import type { Segments } from '../../run/segments.ts'
import { type Blocks, type Grid, KW_M2, markCells, WIDE } from './balls.ts'
import type { GridMachine } from './wasm/instance.ts'

/** Number of the cell's halves among all that are summed, by cell, −1 elsewhere; used again from search to search. */
let slots = new Int32Array(0)

/**
 * Numbers of the blocks in which some ball can still reach the block's least threshold. A ball about a point less than half a half cell from
 * a corner of half cells along each axis (a quarter of a cell; R is as much at most) lies in the 8 half cells about that corner: the power
 * that crosses these bounds it, with a quarter of the area that the 8 whole cells have. A block has 27 such corners; their most becomes its
 * power. `machine`: was given these segments; null: plain loops.
 */
export function reachingBlocks(
  segments: Segments,
  grid: Grid,
  blocks: Blocks,
  radiusMm: number,
  machine: GridMachine | null,
): Uint32Array {
  const marks = markCells(grid, blocks)
  const { marked } = marks
  const [nx, ny, nz] = grid.n
  if (slots.length < nx * ny * nz) slots = new Int32Array(nx * ny * nz).fill(-1)
  for (let k = 0; k < marked.length; k++) slots[marked[k]!] = k
  const watts = machine ? machine.sumHalves(grid, marked, marks.wide) : sumHalves(segments, grid, marks)
  const toKWm2 = KW_M2 / (Math.PI * radiusMm * radiusMm)
  const aside = [-1 - nx - nx * ny, -nx - nx * ny, -1 - nx * ny, -nx * ny, -1 - nx, -nx, -1, 0]
  const reaching = new Uint32Array(blocks.count)
  let count = 0
  const own = new Float32Array(64)
  for (let b = 0; b < blocks.count; b++) {
    const corner = blocks.corner[b]!
    // The 4 by 4 by 4 half cells about the corner.
    for (let cell = 0; cell < 8; cell++) {
      const from = slots[corner + aside[cell]!]! * 8
      const to = 32 * (cell >> 2) + 8 * ((cell >> 1) & 1) + 2 * (cell & 1)
      for (let half = 0; half < 8; half++)
        own[to + 16 * (half >> 2) + 4 * ((half >> 1) & 1) + (half & 1)] = watts[from + half]!
    }
    blocks.power[b] = mostAbout(own) * (1 + 1e-5)
    if (blocks.power[b]! * toKWm2 >= blocks.least[b]!) reaching[count++] = b
  }
  for (const k of marked) slots[k] = -1
  return reaching.slice(0, count)
}

/** The greatest sum of 2 by 2 by 2 of 4 by 4 by 4 values, which it writes over. */
function mostAbout(own: Float32Array): number {
  for (const stride of [1, 4]) for (let k = 0; k < 64 - stride; k++) own[k] = own[k]! + own[k + stride]!
  let most = 0
  for (let k = 0; k < 48; k++) {
    // Sums over the end of a row run into the next one.
    if ((k & 3) === 3 || (k & 12) === 12) continue
    const sum = own[k]! + own[k + 16]!
    if (sum > most) most = sum
  }
  return most
}

type Marks = ReturnType<typeof markCells>

/** Watts that cross each half cell of the cells about the blocks. */
function sumHalves(segments: Segments, grid: Grid, marks: Marks): Float32Array {
  const sums = new Float32Array(8 * marks.marked.length)
  for (let i = 0; i < segments.count; i++) addSegment(sums, segments, i, grid, marks)
  return sums
}

/**
 * Adds a segment's watts to each half cell that it crosses and that has a number. Along a line by Amanatides and Woo (Eurographics 1987):
 * from wide cell to wide cell, and by half cells in those near a block.
 */
function addSegment(sums: Float32Array, segments: Segments, i: number, grid: Grid, marks: Marks): void {
  const { wide, wideStrides } = marks
  const { from, n, cellMm } = grid
  const [nx, ny, nz] = n
  const wideMm = WIDE * cellMm
  const halfMm = cellMm / 2
  const { watts, end, x, y, z, dx, dy, dz, perX, perY, perZ, stepX, stepY, stepZ } = lineOf(segments, i, from)
  let wx = Math.floor(x / wideMm)
  let wy = Math.floor(y / wideMm)
  let wz = Math.floor(z / wideMm)
  let atX = (dx > 0 ? (wx + 1) * wideMm - x : x - wx * wideMm) * perX
  let atY = (dy > 0 ? (wy + 1) * wideMm - y : y - wy * wideMm) * perY
  let atZ = (dz > 0 ? (wz + 1) * wideMm - z : z - wz * wideMm) * perZ
  let at = 0
  for (;;) {
    const leave = Math.min(atX, atY, atZ, end)
    if (wide[wx + wy * wideStrides[1] + wz * wideStrides[2]] === 1) {
      let hx = Math.min(2 * nx - 1, Math.max(0, Math.floor((x + at * dx) / halfMm)))
      let hy = Math.min(2 * ny - 1, Math.max(0, Math.floor((y + at * dy) / halfMm)))
      let hz = Math.min(2 * nz - 1, Math.max(0, Math.floor((z + at * dz) / halfMm)))
      let toX = (dx > 0 ? (hx + 1) * halfMm - x : x - hx * halfMm) * perX
      let toY = (dy > 0 ? (hy + 1) * halfMm - y : y - hy * halfMm) * perY
      let toZ = (dz > 0 ? (hz + 1) * halfMm - z : z - hz * halfMm) * perZ
      for (;;) {
        const slot = slots[(hx >> 1) + nx * ((hy >> 1) + ny * (hz >> 1))]!
        if (slot >= 0) {
          const half = 8 * slot + (hx & 1) + 2 * (hy & 1) + 4 * (hz & 1)
          sums[half] = sums[half]! + watts
        }
        if (toX < toY && toX < toZ) {
          if (!(toX < leave)) break
          hx += stepX
          toX += halfMm * perX
        } else if (toY < toZ) {
          if (!(toY < leave)) break
          hy += stepY
          toY += halfMm * perY
        } else {
          if (!(toZ < leave)) break
          hz += stepZ
          toZ += halfMm * perZ
        }
      }
    }
    if (!(leave < end)) break
    at = leave
    if (atX === leave) {
      wx += stepX
      atX += wideMm * perX
    } else if (atY === leave) {
      wy += stepY
      atY += wideMm * perY
    } else {
      wz += stepZ
      atZ += wideMm * perZ
    }
  }
}

/** A segment's watts and length; where it starts, from the grid's corner; its direction; the way along it for 1 mm along each axis. */
function lineOf(segments: Segments, i: number, from: Grid['from']) {
  const dx = segments.dx[i]!
  const dy = segments.dy[i]!
  const dz = segments.dz[i]!
  return {
    watts: segments.watts[i]!,
    end: segments.lengthMm[i]!,
    x: segments.xMm[i]! - from[0],
    y: segments.yMm[i]! - from[1],
    z: segments.zMm[i]! - from[2],
    dx,
    dy,
    dz,
    perX: 1 / Math.max(1e-9, Math.abs(dx)),
    perY: 1 / Math.max(1e-9, Math.abs(dy)),
    perZ: 1 / Math.max(1e-9, Math.abs(dz)),
    stepX: dx > 0 ? 1 : -1,
    stepY: dy > 0 ? 1 : -1,
    stepZ: dz > 0 ? 1 : -1,
  }
}
