// What the backward kernel has in memory beside what every kernel has (src/optics/wasm/memory.as): numbers, sums and counts at fixed addresses
// (slots.ts has the same), tables where the host places them.
import { placeOptics } from '../../../optics/wasm/memory'

export * from '../../../optics/wasm/memory'

/** Doubles of aim, opening and spectra, in the host's order; the sums of the rays; 32-bit integers. */
const NUMBERS: usize = 1920
const SUMS: usize = 2304
const COUNTS: usize = 2368

// @ts-ignore: decorator
@inline export function own(slot: i32): f64 {
  return load<f64>(NUMBERS + ((<usize>slot) << 3))
}
// @ts-ignore: decorator
@inline export function count(slot: i32): i32 {
  return load<i32>(COUNTS + ((<usize>slot) << 2))
}
// @ts-ignore: decorator
@inline export function addSum(at: i32, more: f64): void {
  const to = SUMS + ((<usize>at) << 3)
  store<f64>(to, load<f64>(to) + more)
}

/** Of each emitter: radiance (doubles) and number of its spectrum (32-bit integers). */
export let radiance: usize = 0
export let spectrumOf: usize = 0
/** Density of each spectrum over the drawn density (doubles). */
export let ratio: usize = 0
/** Rows of the planes of patches, and the integers of their grids. */
export let planes: usize = 0
export let grid: usize = 0
/** Rows of the cells that wavelengths are drawn from, and their index table. */
export let cells: usize = 0
export let guide: usize = 0

export function place(
  emittersAt: usize,
  kindsAt: usize,
  profilesAt: usize,
  lensIndexAt: usize,
  lumPerWattAt: usize,
  ringsAt: usize,
  faceCornersAt: usize,
  numbersAt: usize,
  radianceAt: usize,
  spectrumOfAt: usize,
  ratioAt: usize,
  planesAt: usize,
  gridAt: usize,
  cellsAt: usize,
  guideAt: usize,
): void {
  placeOptics(emittersAt, kindsAt, profilesAt, lensIndexAt, lumPerWattAt, ringsAt, faceCornersAt, numbersAt)
  radiance = radianceAt
  spectrumOf = spectrumOfAt
  ratio = ratioAt
  planes = planesAt
  grid = gridAt
  cells = cellsAt
  guide = guideAt
}

// @ts-ignore: decorator
@inline export function integer(base: usize, at: i32): i32 {
  return load<i32>(base + ((<usize>at) << 2))
}
// @ts-ignore: decorator
@inline export function double(base: usize, at: i32): f64 {
  return load<f64>(base + ((<usize>at) << 3))
}
