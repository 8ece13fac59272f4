// Where things lie. The first 64 KiB hold the ray and what every ray needs, at fixed addresses; the tables follow, placed by the host
// (memory.ts, which shares these numbers). Slots have the names and the order of src/optics.
import * as R from './constants'

/** Doubles: the ray. */
const RAY: usize = 1024
/** 32-bit integers: key, step, next draw; then the point of the sequence; then the host's orders. */
const STREAM: usize = 1280
const POINT: usize = 1312
/** Single precision: the scene's parameters. */
const PARAMS: usize = 1408
/** Doubles and integers of the tally's bins, in the host's order. */
const BINS: usize = 1920
const COUNTS: usize = 2080

// @ts-ignore: decorator
@inline export function ray(slot: i32): f64 {
  return load<f64>(RAY + ((<usize>slot) << 3))
}
// @ts-ignore: decorator
@inline export function set(slot: i32, value: f64): void {
  store<f64>(RAY + ((<usize>slot) << 3), value)
}
// @ts-ignore: decorator
@inline export function param(slot: i32): f64 {
  return <f64>load<f32>(PARAMS + ((<usize>slot) << 2))
}
// @ts-ignore: decorator
@inline export function single(base: usize, at: i32): f64 {
  return <f64>load<f32>(base + ((<usize>at) << 2))
}
// @ts-ignore: decorator
@inline export function bin(slot: i32): f64 {
  return load<f64>(BINS + ((<usize>slot) << 3))
}
// @ts-ignore: decorator
@inline export function count(slot: i32): i32 {
  return load<i32>(COUNTS + ((<usize>slot) << 2))
}
// @ts-ignore: decorator
@inline export function stream(slot: i32): i32 {
  return load<i32>(STREAM + ((<usize>slot) << 2))
}
// @ts-ignore: decorator
@inline export function setStream(slot: i32, value: i32): void {
  store<i32>(STREAM + ((<usize>slot) << 2), value)
}
// @ts-ignore: decorator
@inline export function point(slot: i32): i32 {
  return load<i32>(POINT + ((<usize>slot) << 2))
}
// @ts-ignore: decorator
@inline export function setPoint(slot: i32, value: i32): void {
  store<i32>(POINT + ((<usize>slot) << 2), value)
}

/** Tables, placed by the host. */
export let emitters: usize = 0
export let kinds: usize = 0
export let profiles: usize = 0
export let quantiles: usize = 0
export let lensIndex: usize = 0
export let lumPerWatt: usize = 0
export let rings: usize = 0
export let faceCorners: usize = 0
/** The tally up to its maps (doubles), the maps (single precision), the exit records, the numbers of the sequence. */
export let sums: usize = 0
export let maps: usize = 0
export let exits: usize = 0
export let numbers: usize = 0
/** Where the next exit record goes. */
export let exitAt: usize = 0

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
): void {
  emitters = emittersAt
  kinds = kindsAt
  profiles = profilesAt
  quantiles = quantilesAt
  lensIndex = lensIndexAt
  lumPerWatt = lumPerWattAt
  rings = ringsAt
  faceCorners = faceCornersAt
  sums = sumsAt
  maps = mapsAt
  exits = exitsAt
  numbers = numbersAt
}

export function startExits(): void {
  exitAt = exits
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
}
