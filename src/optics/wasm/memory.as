// Where things lie that every kernel needs: the ray, its stream, the point of its sequence and the scene's parameters at fixed addresses
// (slots.ts has the same), tables where the host places them. Slots have the names and the order of src/optics.
import * as C from './constants'
import { cosHost, sinHost } from './host'

/** Doubles: the ray. */
const RAY: usize = 1024
/** 32-bit integers: key, step, next draw; then the point of the sequence. */
const STREAM: usize = 1280
const POINT: usize = 1312
/** Single precision: the scene's parameters. */
const PARAMS: usize = 1408
/** Doubles: cosine and sine of each side of a tunnel that is a polygon. */
const SIDES: usize = 4096
const TURN: f64 = 6.283185307179586

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
// @ts-ignore: decorator
@inline export function sideCos(side: i32): f64 {
  return load<f64>(SIDES + ((<usize>side) << 4))
}
// @ts-ignore: decorator
@inline export function sideSin(side: i32): f64 {
  return load<f64>(SIDES + ((<usize>side) << 4), 8)
}

/** Tables, placed by the host. */
export let emitters: usize = 0
export let kinds: usize = 0
export let profiles: usize = 0
export let lensIndex: usize = 0
export let lumPerWatt: usize = 0
export let rings: usize = 0
export let faceCorners: usize = 0
/** The numbers of the sequence. */
export let numbers: usize = 0
/** Worked out once a scene: 1 over the pitch of the grooves; of a unit normal of the wall the part across the axis. */
export let perPitch: f64 = 0
export let wallScale: f64 = 0

/** Once the parameters are in their place. */
export function placeOptics(
  emittersAt: usize,
  kindsAt: usize,
  profilesAt: usize,
  lensIndexAt: usize,
  lumPerWattAt: usize,
  ringsAt: usize,
  faceCornersAt: usize,
  numbersAt: usize,
): void {
  emitters = emittersAt
  kinds = kindsAt
  profiles = profilesAt
  lensIndex = lensIndexAt
  lumPerWatt = lumPerWattAt
  rings = ringsAt
  faceCorners = faceCornersAt
  numbers = numbersAt
  perPitch = 1 / param(C.P_lensPitch)
  const tan = param(C.P_tanFlare)
  wallScale = 1 / Math.sqrt(1 + tan * tan)
  const sides = param(C.P_sides)
  for (let i = 0; i < <i32>sides; i++) {
    const phi = (TURN * <f64>i) / sides
    store<f64>(SIDES + ((<usize>i) << 4), cosHost(phi))
    store<f64>(SIDES + ((<usize>i) << 4), sinHost(phi), 8)
  }
}
