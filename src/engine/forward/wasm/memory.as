// What the forward kernel has in memory beside what every kernel has (src/optics/wasm/memory.as): bins and counts at fixed addresses, tables where the
// host places them.
import * as R from './constants'
import { numbers, placeOptics, ray } from '../../../optics/wasm/memory'

export * from '../../../optics/wasm/memory'

/** Doubles and integers of the tally's bins, in the host's order. */
const BINS: usize = 1920
const COUNTS: usize = 2080

// @ts-ignore: decorator
@inline export function bin(slot: i32): f64 {
  return load<f64>(BINS + ((<usize>slot) << 3))
}
// @ts-ignore: decorator
@inline export function count(slot: i32): i32 {
  return load<i32>(COUNTS + ((<usize>slot) << 2))
}

/** Bytes from the sequence's numbers to the bits of the cells that were added to (sparseTally.ts); slots.ts has the same. */
const TOUCHED: usize = 1024

/** Tables, placed by the host. */
export let quantiles: usize = 0
/** The tally up to its maps (doubles), the maps (single precision), the exit records. */
export let sums: usize = 0
export let maps: usize = 0
export let exits: usize = 0
/** Where the next exit record goes. */
export let exitAt: usize = 0
/** Where the next segment goes: from `segments` to the end of the memory. */
export let segments: usize = 0
export let segmentAt: usize = 0

export function place(
  emittersAt: usize,
  kindsAt: usize,
  profilesAt: usize,
  quantilesAt: usize,
  lensIndexAt: usize,
  lumPerWattAt: usize,
  ringsAt: usize,
  faceCornersAt: usize,
  sumsAt: usize,
  mapsAt: usize,
  exitsAt: usize,
  numbersAt: usize,
  segmentsAt: usize,
): void {
  placeOptics(emittersAt, kindsAt, profilesAt, lensIndexAt, lumPerWattAt, ringsAt, faceCornersAt, numbersAt)
  quantiles = quantilesAt
  sums = sumsAt
  maps = mapsAt
  exits = exitsAt
  segments = segmentsAt
}

export function startExits(): void {
  exitAt = exits
}

// @ts-ignore: decorator
@inline export function setSegmentAt(at: usize): void {
  segmentAt = at
}

/** The ray as it leaves: EXIT_STRIDE numbers. */
export function keepExit(): void {
  store<f32>(exitAt, <f32>ray(R.X))
  store<f32>(exitAt, <f32>ray(R.Y), 4)
  store<f32>(exitAt, <f32>ray(R.Z), 8)
  store<f32>(exitAt, <f32>ray(R.DX), 12)
  store<f32>(exitAt, <f32>ray(R.DY), 16)
  store<f32>(exitAt, <f32>ray(R.DZ), 20)
  store<f32>(exitAt, <f32>ray(R.W), 24)
  store<f32>(exitAt, <f32>(ray(R.W) * ray(R.LUM)), 28)
  store<f32>(exitAt, <f32>ray(R.WAVELENGTH), 32)
  exitAt += 36
}

// @ts-ignore: decorator
@inline export function addSum(at: i32, more: f64): void {
  const to = sums + ((<usize>at) << 3)
  store<f64>(to, load<f64>(to) + more)
}
// @ts-ignore: decorator
@inline export function addMap(at: i32, more: f64): void {
  const to = maps + ((<usize>at) << 2)
  store<f32>(to, <f32>(<f64>load<f32>(to) + more))
  const word = numbers + ((<usize>at >> 5) << 2)
  store<u32>(word, load<u32>(word, TOUCHED) | (1 << (at & 31)), TOUCHED)
}
