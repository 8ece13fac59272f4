// One instance of the WebAssembly module in each thread. Its memory holds the columns of the segments that are searched, the cells of their grid, and the
// sums on the points of the blocks that were asked for last.
import type { Segments } from '../../../run/segments.ts'
import { type Blocks, type Grid, type KnownBlocks, type Lattice, WIDE } from '../balls.ts'
import { GRID } from './gridText.ts'

/** Addresses of grid.as. */
const BOX_AT = 1024
const NUMBERED_AT = 1280
const WIDES_AT = 2048
const FREE_AT = 16_384
const PAGE = 65_536
const COLUMNS = 8
/** Arrays by cell, four bytes each. */
const CELL_ARRAYS = 4
/** Rows of four points may reach beyond the last one. */
const SPARE = 4
/** On more points, or more along a block's edge, the plain loops sum. */
export const MOST_SUMS = 1 << 22
export const MOST_ACROSS = 16

interface Exports {
  placeSegments(columns: number, padded: number): void
  placeCells(cells: number, room: number, nx: number, ny: number, nz: number, sums: number): void
  boxOf(count: number): void
  sumCells(count: number, fromX: number, fromY: number, fromZ: number, cellMm: number): number
  clearCells(count: number): void
  sumHalves(count: number, fromX: number, fromY: number, fromZ: number, cellMm: number): void
  sumBalls(count: number, x: number, y: number, z: number, spacing: number, m: number, square: number): void
  scaleSums(count: number, factor: number): void
}

export interface CellSums {
  power: Float32Array
  fluence: Float32Array
  crossed: Int32Array
}

/** All that it gives is written anew by its next call. */
export interface GridMachine {
  /** The next calls are about these. Of one segment at least: its lowest and highest x, y, z, mm. */
  use(segments: Segments): { low: Float64Array; high: Float64Array }
  /** As `sumCells` of grid.ts. */
  sumCells(grid: Grid): CellSums
  /** As `sumHalves` of tighten.ts: of the marked cells, in their order, their eight halves. `wide`: as `markCells` gives it. */
  sumHalves(grid: Grid, marked: Int32Array, wide: Uint8Array): Float32Array
  /** As `sumBalls`, of a lattice with these points; `toKWm2`: kW/m² for a watt. */
  sumBalls(
    grid: Grid,
    blocks: Blocks,
    lattice: Omit<Lattice, 'kWm2'>,
    of: { square: number; toKWm2: number; known: KnownBlocks },
  ): Float32Array
}

let made: GridMachine | null | undefined

/** Null where the thread has no WebAssembly with SIMD. */
export function gridMachine(): GridMachine | null {
  if (made === undefined) made = makeGridMachine()
  return made
}

/** With a memory of its own. */
export function makeGridMachine(): GridMachine | null {
  if (typeof WebAssembly === 'undefined') return null
  const bytes = Uint8Array.from(atob(GRID), (c) => c.charCodeAt(0))
  if (!WebAssembly.validate(bytes)) return null
  const memory = new WebAssembly.Memory({ initial: 1 })
  const { exports } = new WebAssembly.Instance(new WebAssembly.Module(bytes), { env: { memory } })
  const own = exports as unknown as Exports
  // Room for so many of each; what lies where follows from it.
  let room = { segments: 0, cells: 0, sums: 0 }
  let [count, crossed] = [0, 0]
  const cellsAt = () => FREE_AT + 4 * COLUMNS * room.segments
  const sumsAt = () => cellsAt() + 4 * CELL_ARRAYS * room.cells
  const floats = (at: number, length: number) => new Float32Array(memory.buffer, at, length)

  function reserve(wanted: Partial<typeof room>): void {
    const before = room
    room = {
      segments: Math.max(room.segments, 4 * Math.ceil((wanted.segments ?? 0) / 4)),
      cells: Math.max(room.cells, 4 * Math.ceil((wanted.cells ?? 0) / 4)),
      sums: Math.max(room.sums, 4 * Math.ceil((wanted.sums ?? 0) / 4) + SPARE),
    }
    const missing = sumsAt() + 4 * room.sums - memory.buffer.byteLength
    if (missing > 0) memory.grow(Math.ceil(missing / PAGE))
    if (room.segments === before.segments && room.cells === before.cells) return
    floats(cellsAt(), CELL_ARRAYS * room.cells).fill(0)
    crossed = 0
  }

  /** The box about the corners that have a number, and their wide cells. */
  function markCorners({ n: [nx, ny, nz] }: Grid, corner: Int32Array, numbers: Int32Array): void {
    const wideY = Math.ceil(nx / WIDE)
    const wideZ = wideY * Math.ceil(ny / WIDE)
    const wides = new Uint8Array(memory.buffer, WIDES_AT, wideZ * Math.ceil(nz / WIDE)).fill(0)
    let [x0, y0, z0, x1, y1, z1] = [nx, ny, nz, -1, -1, -1]
    for (const k of corner) {
      if (numbers[k] === 0) continue
      const [x, y, z] = [k % nx, Math.floor(k / nx) % ny, Math.floor(k / (nx * ny))]
      wides[Math.floor(x / WIDE) + Math.floor(y / WIDE) * wideY + Math.floor(z / WIDE) * wideZ] = 1
      ;[x0, y0, z0] = [Math.min(x0, x), Math.min(y0, y), Math.min(z0, z)]
      ;[x1, y1, z1] = [Math.max(x1, x), Math.max(y1, y), Math.max(z1, z)]
    }
    new Int32Array(memory.buffer, NUMBERED_AT, 6).set([x0, y0, z0, x1, y1, z1])
  }

  const numbersOf = () => new Int32Array(memory.buffer, cellsAt() + 8 * room.cells, room.cells)
  function place({ n }: Grid, sums = 0): void {
    // One number more may be written than there are cells.
    reserve({ cells: n[0] * n[1] * n[2] + 1, sums })
    own.placeCells(cellsAt(), room.cells, ...n, sumsAt())
  }

  return {
    use(segments) {
      count = segments.count
      reserve({ segments: count })
      const { xMm, yMm, zMm, dx, dy, dz, lengthMm, watts } = segments
      for (const [k, column] of [xMm, yMm, zMm, dx, dy, dz, lengthMm, watts].entries())
        floats(FREE_AT + 4 * k * room.segments, count).set(column.subarray(0, count))
      own.placeSegments(FREE_AT, room.segments)
      own.boxOf(count)
      const box = new Float64Array(memory.buffer, BOX_AT, 6)
      return { low: box.slice(0, 3), high: box.slice(3) }
    },
    sumCells(grid) {
      const cells = grid.n[0] * grid.n[1] * grid.n[2]
      place(grid)
      own.clearCells(crossed)
      crossed = own.sumCells(count, ...grid.from, grid.cellMm)
      const array = (k: number) => cellsAt() + 4 * k * room.cells
      return {
        power: floats(array(0), cells),
        fluence: floats(array(1), cells),
        crossed: new Int32Array(memory.buffer, array(3), crossed),
      }
    },
    sumHalves(grid, marked, wide) {
      place(grid, 8 * marked.length)
      const numbers = numbersOf()
      for (const [number, k] of marked.entries()) numbers[k] = number + 1
      new Uint8Array(memory.buffer, WIDES_AT, wide.length).set(wide)
      const sums = floats(sumsAt(), 8 * marked.length).fill(0)
      own.sumHalves(count, ...grid.from, grid.cellMm)
      for (const k of marked) numbers[k] = 0
      return sums
    },
    sumBalls(grid, { count: blocks, corner }, { m, spacingMm, from }, { square, toKWm2, known }) {
      const perBlock = m * m * m
      place(grid, blocks * perBlock)
      const numbers = numbersOf()
      const corners = corner.subarray(0, blocks)
      for (const [b, k] of corners.entries()) numbers[k] = b + 1
      const taken = known.corner.map((k) => numbers[k] ?? 0)
      for (const k of known.corner) numbers[k] = 0
      markCorners(grid, corners, numbers)
      const sums = floats(sumsAt(), blocks * perBlock).fill(0)
      own.sumBalls(count, ...from, spacingMm, m, square)
      own.scaleSums(blocks * perBlock, toKWm2)
      for (const k of corners) numbers[k] = 0
      for (const [b, number] of taken.entries())
        if (number > 0) sums.set(known.kWm2.subarray(b * perBlock, (b + 1) * perBlock), (number - 1) * perBlock)
      return sums
    },
  }
}
