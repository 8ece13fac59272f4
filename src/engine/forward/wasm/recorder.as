// Twin of src/engine/forward/recorder.ts: the same bits. Records follow each other to the end of the memory.
import * as C from './constants'
import { ray, segmentAt, setSegmentAt } from './memory'

const STRAIGHT: f64 = 1 - 1e-6
const SHORTEST_MM: f64 = 1e-3
export const BYTES: usize = 4 * C.SEGMENT_STRIDE

let begun = false
let fresh = false
let px: f64 = 0
let py: f64 = 0
let pz: f64 = 0
let pw: f64 = 0
let pBack = 0

function keep(dx: f64, dy: f64, dz: f64, length: f64, weight: f64, flags: i32): void {
  const at = segmentAt
  store<f32>(at, <f32>px)
  store<f32>(at, <f32>py, 4)
  store<f32>(at, <f32>pz, 8)
  store<f32>(at, <f32>dx, 12)
  store<f32>(at, <f32>dy, 16)
  store<f32>(at, <f32>dz, 20)
  store<f32>(at, <f32>length, 24)
  store<f32>(at, <f32>weight, 28)
  store<f32>(at, <f32>ray(C.WAVELENGTH), 32)
  store<f32>(at, <f32>flags, 36)
  setSegmentAt(at + BYTES)
}

function isStraightOn(): bool {
  const at = segmentAt - BYTES
  const along =
    <f64>load<f32>(at, 12) * ray(C.DX) + <f64>load<f32>(at, 16) * ray(C.DY) + <f64>load<f32>(at, 20) * ray(C.DZ)
  return along > STRAIGHT
}

function begin(): void {
  px = ray(C.X)
  py = ray(C.Y)
  pz = ray(C.Z)
  pw = ray(C.W)
  pBack = ray(C.RETURNED) > 0 || ray(C.ENTERED) > 0 ? C.RETURNED_SEGMENT : 0
}

export function startPath(): void {
  begun = false
  fresh = false
}

/** A corner of the path, where the ray stands. */
export function corner(inLens: bool): void {
  if (begun) {
    const ax = ray(C.X) - px
    const ay = ray(C.Y) - py
    const az = ray(C.Z) - pz
    const length = Math.sqrt(ax * ax + ay * ay + az * az)
    fresh = length > SHORTEST_MM
    if (fresh) keep(ax / length, ay / length, az / length, length, pw, pBack)
  }
  begin()
  begun = !inLens
  if (inLens) fresh = false
}

/** The path has ended where it stands; light of this weight goes on. */
export function goOn(weight: f64, leaked: bool): void {
  const mark = leaked ? C.LEAKED_SEGMENT : 0
  if (fresh && isStraightOn()) {
    const at = segmentAt - BYTES
    store<f32>(at, <f32>Infinity, 24)
    store<f32>(at, <f32>(<i32>load<f32>(at, 36) | mark), 36)
    return
  }
  begin()
  keep(ray(C.DX), ray(C.DY), ray(C.DZ), Infinity, weight, pBack | mark)
}
