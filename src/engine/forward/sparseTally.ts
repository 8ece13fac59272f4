// The tally of a chunk of few rays, which leave most cells of the maps empty: only the others are kept, all in one buffer, which costs little to
// move to another thread.

import type { TallyLayout } from '../../run/layout.ts'

export interface SparseTally {
  sums: Float64Array
  /** Values of the cells that hold something. */
  maps: Float32Array
  /** Their places in the maps, rising. */
  cells: Uint32Array
  exits: Float32Array
}

interface Buffers {
  sums: Float64Array
  maps: Float32Array
}

/** Last used first; the maps are zeros. */
const buffers: Buffers[] = []
const BUFFERS_MOST = 4

/** Zeros for a chunk of few rays, used again by the next of such a size, whatever its scene: `takeSparse` leaves them so. */
export function buffersOf({ windowLm, size }: Pick<TallyLayout, 'windowLm' | 'size'>): Buffers {
  const length = size - windowLm
  const at = buffers.findIndex(({ sums, maps }) => sums.length === windowLm && maps.length === length)
  const [found = { sums: new Float64Array(windowLm), maps: new Float32Array(length) }] =
    at < 0 ? [] : buffers.splice(at, 1)
  found.sums.fill(0)
  buffers.unshift(found)
  buffers.length = Math.min(buffers.length, BUFFERS_MOST)
  return found
}

/** Grows with the most cells that a chunk has met. */
let found = new Uint32Array(4096)

/** Takes what the maps hold and leaves zeros behind; sums and exits are copied. `maps` begins at a multiple of 8 bytes of its buffer. */
export function takeSparse(sums: Float64Array, maps: Float32Array, exits: Float32Array): SparseTally {
  const count = findCells(maps)
  const valuesAt = sums.byteLength
  const cellsAt = valuesAt + 4 * count
  const exitsAt = cellsAt + 4 * count
  const buffer = new ArrayBuffer(exitsAt + exits.byteLength)
  const tally = {
    sums: new Float64Array(buffer, 0, sums.length),
    maps: new Float32Array(buffer, valuesAt, count),
    cells: new Uint32Array(buffer, cellsAt, count),
    exits: new Float32Array(buffer, exitsAt, exits.length),
  }
  tally.sums.set(sums)
  tally.exits.set(exits)
  tally.cells.set(found.subarray(0, count))
  for (const [n, at] of tally.cells.entries()) {
    tally.maps[n] = maps[at]!
    maps[at] = 0
  }
  return tally
}

/** Puts the numbers of the cells that aren't zero into `found` and gives how many they are. Cells are looked at eight at a time, as doubles: two of them are zero together. */
function findCells(maps: Float32Array): number {
  const pairs = new Float64Array(maps.buffer, maps.byteOffset, maps.length >> 1)
  const whole = pairs.length & ~3
  let count = 0
  const collect = (from: number, to: number) => {
    if (count + to - from > found.length) found = grown(found, count + to - from)
    for (let i = from; i < to; i++) if (maps[i] !== 0) found[count++] = i
  }
  for (let p = 0; p < whole; p += 4) {
    if (pairs[p] === 0 && pairs[p + 1] === 0 && pairs[p + 2] === 0 && pairs[p + 3] === 0) continue
    collect(2 * p, 2 * p + 8)
  }
  collect(2 * whole, maps.length)
  return count
}

function grown(from: Uint32Array, least: number): Uint32Array<ArrayBuffer> {
  const more = new Uint32Array(Math.max(least, 2 * from.length))
  more.set(from)
  return more
}
