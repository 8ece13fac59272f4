// Where segments, cells and sums of the sparse grid lie in memory.

/** The box about all light, low and high by axis: written by boxOf, doubles. */
export const BOX: usize = 1024

/** The box about all blocks that have a number: lowest x, y, z, highest x, y, z, in blocks. */
export const NUMBERED: usize = 1280
/** By wide cell, so many blocks wide: 1 where one of its blocks has a number. */
export const WIDES: usize = 2048
export const WIDE: i32 = 3

/** A segment's start, direction, length (mm) and watts: single precision, one column after another, padded to whole twos. */
export let xAt: usize = 0
export let yAt: usize = 0
export let zAt: usize = 0
export let dxAt: usize = 0
export let dyAt: usize = 0
export let dzAt: usize = 0
export let lengthAt: usize = 0
export let wattsAt: usize = 0
/** Cells. */
export let nx: i32 = 0
export let ny: i32 = 0
export let nz: i32 = 0
/** By cell: watts (single precision), watts times path (single), and numbers of blocks by corner, from 1 on (0: none); then the cells that light crosses. */
export let powerAt: usize = 0
export let fluenceAt: usize = 0
export let numbersAt: usize = 0
export let crossedAt: usize = 0
/** By block and point, single precision. */
export let sumsAt: usize = 0

export function placeSegments(columns: usize, padded: usize): void {
  const bytes = padded << 2
  xAt = columns
  yAt = xAt + bytes
  zAt = yAt + bytes
  dxAt = zAt + bytes
  dyAt = dxAt + bytes
  dzAt = dyAt + bytes
  lengthAt = dzAt + bytes
  wattsAt = lengthAt + bytes
}

/** Of as many cells as there is room for come `power`, `fluence`, `numbers` and `crossed`. */
export function placeCells(cells: usize, room: usize, acrossX: i32, acrossY: i32, acrossZ: i32, sums: usize): void {
  const bytes = room << 2
  powerAt = cells
  fluenceAt = powerAt + bytes
  numbersAt = fluenceAt + bytes
  crossedAt = numbersAt + bytes
  nx = acrossX
  ny = acrossY
  nz = acrossZ
  sumsAt = sums
}
