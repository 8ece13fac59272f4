// One instance of the WebAssembly module in each thread. Its memory holds the columns of the two sets of rays that were asked for last (those that
// search and those that measure), and the points of a lattice.
import type { RayColumns } from '../../run/exits.ts'
import { PLANES } from './planesText.ts'

/** Rays of one call, and windows. */
export const CALL_RAYS = 4096
export const CALL_WINDOWS = 16

/** Addresses of planes.as; its own table lies at 1024. */
const WINDOWS_AT = 2048
const COUNTS_AT = 2560
const TOP_AT = 2624
const FOUND_AT = 4096
const FREE_AT = FOUND_AT + 4 * CALL_RAYS * CALL_WINDOWS
const PAGE = 65_536
const COLUMNS = 5

interface Exports {
  place(columns: number, padded: number): void
  findNear(from: number, to: number, windows: number): void
  addRays(
    count: number,
    distanceMm: number,
    half: number,
    per: number,
    n: number,
    grid: number,
    touched: number,
  ): number
  topOf(touched: number, used: number, grid: number): number
}

interface Slot {
  rays: RayColumns | null
  at: number
  bytes: number
}

export interface PlanesMachine extends Exports {
  /** The columns are in memory, and the next calls are about them. Gives the lattice. */
  use(rays: RayColumns, wanted?: LatticeSize): Lattice
  /** Of findNear: four numbers for each window, single precision. */
  windows: Float32Array
  counts: Int32Array
  /** CALL_RAYS for each window. */
  found: Int32Array
  /** Of topOf. */
  topWatts: Float32Array
}

/** Points, and how many of them may be touched. */
interface LatticeSize {
  points: number
  touched: number
}

/** All of the grid is 0: whoever writes into it clears it. */
export interface Lattice {
  grid: Float32Array
  touched: Uint32Array
}

let made: PlanesMachine | null | undefined

/** Null where the thread has no WebAssembly with SIMD. */
export function planesMachine(): PlanesMachine | null {
  if (made === undefined) made = makePlanesMachine()
  return made
}

/** With a memory of its own. */
export function makePlanesMachine(): PlanesMachine | null {
  if (typeof WebAssembly === 'undefined') return null
  const bytes = Uint8Array.from(atob(PLANES), (c) => c.charCodeAt(0))
  if (!WebAssembly.validate(bytes)) return null
  const memory = new WebAssembly.Memory({ initial: Math.ceil(FREE_AT / PAGE) })
  const { exports } = new WebAssembly.Instance(new WebAssembly.Module(bytes), { env: { memory } })
  const own = exports as unknown as Exports
  const slots: [Slot, Slot] = [
    { rays: null, at: FREE_AT, bytes: 0 },
    { rays: null, at: FREE_AT, bytes: 0 },
  ]
  let [gridBytes, touchedBytes] = [0, 0]
  let lattice: Lattice = { grid: new Float32Array(0), touched: new Uint32Array(0) }

  /** One after another: both sets of columns, the grid, the numbers of its points. Whatever was there is gone. */
  function layOut(): void {
    slots[0].at = FREE_AT
    slots[1].at = FREE_AT + slots[0].bytes
    const gridAt = slots[1].at + slots[1].bytes
    const end = gridAt + gridBytes + touchedBytes
    const missing = end - memory.buffer.byteLength
    if (missing > 0) memory.grow(Math.ceil(missing / PAGE))
    for (const slot of slots) slot.rays = null
    lattice = {
      grid: new Float32Array(memory.buffer, gridAt, gridBytes / 4).fill(0),
      touched: new Uint32Array(memory.buffer, gridAt + gridBytes, touchedBytes / 4),
    }
    machine.windows = new Float32Array(memory.buffer, WINDOWS_AT, 4 * CALL_WINDOWS)
    machine.counts = new Int32Array(memory.buffer, COUNTS_AT, CALL_WINDOWS)
    machine.topWatts = new Float32Array(memory.buffer, TOP_AT, 1)
    machine.found = new Int32Array(memory.buffer, FOUND_AT, CALL_RAYS * CALL_WINDOWS)
  }

  const machine: PlanesMachine = {
    ...own,
    windows: new Float32Array(0),
    counts: new Int32Array(0),
    found: new Int32Array(0),
    topWatts: new Float32Array(0),
    use(rays, { points, touched } = { points: 0, touched: 0 }) {
      // The set that was asked for last is the first.
      if (slots[0].rays !== rays) slots.reverse()
      const [slot] = slots
      const padded = 4 * Math.ceil(rays.count / 4)
      const columnBytes = 4 * padded
      if (COLUMNS * columnBytes > slot.bytes || 4 * points > gridBytes || 4 * touched > touchedBytes) {
        slot.bytes = Math.max(slot.bytes, COLUMNS * columnBytes)
        gridBytes = Math.max(gridBytes, 4 * points)
        touchedBytes = Math.max(touchedBytes, 4 * touched)
        layOut()
      }
      if (slot.rays !== rays) {
        for (const [k, column] of [rays.xMm, rays.yMm, rays.slopeX, rays.slopeY, rays.watts].entries())
          new Float32Array(memory.buffer, slot.at + k * columnBytes, padded)
            .fill(Number.NaN)
            .set(column.subarray(0, rays.count))
        slot.rays = rays
      }
      own.place(slot.at, padded)
      return lattice
    },
  }
  layOut()
  return machine
}
