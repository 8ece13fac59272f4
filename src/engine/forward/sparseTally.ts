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

/** Where a chunk is added up. */
export interface ChunkBuffers {
  sums: Float64Array
  maps: Float32Array
  /** A bit for each cell of the maps, set where something was added: cell i is bit i mod 32 of word ⌊i/32⌋. */
  touched: Uint32Array
}

const CELLS_A_WORD = 32

export const wordsFor = (cells: number): number => Math.ceil(cells / CELLS_A_WORD)

/** Last used first; maps and bits are zeros. */
const buffers: ChunkBuffers[] = []
const BUFFERS_MOST = 4

/** Zeros for a chunk of few rays, used again by the next of such a size, whatever its scene: `takeSparse` leaves them so. */
export function buffersOf({ windowLm, size }: Pick<TallyLayout, 'windowLm' | 'size'>): ChunkBuffers {
  const length = size - windowLm
  const at = buffers.findIndex(({ sums, maps }) => sums.length === windowLm && maps.length === length)
  const [found = newBuffers(windowLm, length)] = at < 0 ? [] : buffers.splice(at, 1)
  found.sums.fill(0)
  buffers.unshift(found)
  buffers.length = Math.min(buffers.length, BUFFERS_MOST)
  return found
}

const newBuffers = (sums: number, maps: number): ChunkBuffers => ({
  sums: new Float64Array(sums),
  maps: new Float32Array(maps),
  touched: new Uint32Array(wordsFor(maps)),
})

/** Grow with the most cells that a chunk has met. */
let foundCells = new Uint32Array(4096)
let foundValues = new Float32Array(4096)

/** New buffers have room for an eighth more, in whole steps: mostly they have it for the next chunk too. */
const ROOM_STEP = 16_384
const roomFor = (bytes: number): number => Math.ceil((bytes * 1.125) / ROOM_STEP) * ROOM_STEP

/**
 * Takes what the buffers hold and leaves zeros behind in maps and bits; sums and exits are copied. `room`: a buffer to put all of it into, where it is
 * large enough.
 */
export function takeSparse(
  { sums, maps, touched }: ChunkBuffers,
  exits: Float32Array,
  room: ArrayBuffer | null = null,
): SparseTally {
  const count = takeCells(maps, touched)
  const valuesAt = sums.byteLength
  const cellsAt = valuesAt + 4 * count
  const exitsAt = cellsAt + 4 * count
  const bytes = exitsAt + exits.byteLength
  const buffer = room && room.byteLength >= bytes ? room : new ArrayBuffer(roomFor(bytes))
  const tally = {
    sums: new Float64Array(buffer, 0, sums.length),
    maps: new Float32Array(buffer, valuesAt, count),
    cells: new Uint32Array(buffer, cellsAt, count),
    exits: new Float32Array(buffer, exitsAt, exits.length),
  }
  tally.sums.set(sums)
  tally.maps.set(foundValues.subarray(0, count))
  tally.cells.set(foundCells.subarray(0, count))
  tally.exits.set(exits)
  return tally
}

/** Moves the cells that aren't zero into `foundCells` and `foundValues`, rising; gives how many they are. A cell to which zeros were added has its bit, and is left out. */
function takeCells(maps: Float32Array, touched: Uint32Array): number {
  let count = 0
  for (let word = 0; word < touched.length; word++) {
    let bits = touched[word]! | 0
    if (bits === 0) continue
    touched[word] = 0
    if (count + CELLS_A_WORD > foundCells.length) growFound()
    while (bits !== 0) {
      const lowest = bits & -bits
      bits ^= lowest
      const cell = word * CELLS_A_WORD + 31 - Math.clz32(lowest)
      const value = maps[cell]!
      if (value === 0) continue
      maps[cell] = 0
      foundCells[count] = cell
      foundValues[count++] = value
    }
  }
  return count
}

function growFound(): void {
  const cells = new Uint32Array(2 * foundCells.length)
  cells.set(foundCells)
  foundCells = cells
  const values = new Float32Array(cells.length)
  values.set(foundValues)
  foundValues = values
}
