// Twin of src/optics/draws.ts and turn.ts: the same bits. References stand there.
import * as R from './constants'
import { set, ray, setStream, stream } from './memory'

const UNIT: f64 = 5.9604644775390625e-8

// @ts-ignore: decorator
@inline export function mix(from: i32): i32 {
  let x = from
  x = (x ^ (x >>> 16)) * 0x7feb352d
  x = (x ^ (x >>> 15)) * <i32>0x846ca68b
  return x ^ (x >>> 16)
}
// @ts-ignore: decorator
@inline export function unit(bits: i32): f64 {
  return (<f64>(bits >>> 8) + 0.5) * UNIT
}

export function seedStream(run: i32, index: i32): void {
  const key = mix(index ^ run)
  setStream(0, key)
  setStream(1, mix(key + 0x6a09e667) | 1)
  setStream(2, R.firstBounce)
}
export function runKey(seed: i32, batch: i32): i32 {
  return mix(seed ^ ((batch + 1) * <i32>0x9e3779b1))
}
// @ts-ignore: decorator
@inline export function draw24(): i32 {
  const k = stream(2)
  setStream(2, k + 1)
  return mix(stream(0) + k * stream(1)) >>> 8
}
// @ts-ignore: decorator
@inline export function draw(): f64 {
  return (<f64>draw24() + 0.5) * UNIT
}

/** Into TX and TY. */
export function turnOf(u: f64): void {
  const quarter = <i32>(4 * u + 0.5)
  const x = (4 * u - <f64>quarter) * 1.5707963267948966
  const q = x * x
  const c = 1 + q * (-0.5 + q * (1.0 / 24 + q * (-1.0 / 720 + q * (1.0 / 40320 - q * (1.0 / 3628800)))))
  const s = x * (1 + q * (-1.0 / 6 + q * (1.0 / 120 + q * (-1.0 / 5040 + q * (1.0 / 362880 - q * (1.0 / 39916800))))))
  const which = quarter & 3
  const odd = which & 1
  const sign = 1 - (which & 2)
  const cos = <f64>(sign * (1 - odd))
  const sin = <f64>(sign * odd)
  set(R.TX, c * cos - s * sin)
  set(R.TY, c * sin + s * cos)
}

export function shareOfTurn(x: f64, y: f64): f64 {
  const ax = Math.abs(x)
  const ay = Math.abs(y)
  const steep = ay > ax
  const big = select<f64>(ay, ax, steep)
  if (big == 0) return 0
  const t = select<f64>(ax, ay, steep) / big
  const q = t * t
  let a =
    t *
    (0.99997726 + q * (-0.33262347 + q * (0.19354346 + q * (-0.11643287 + q * (0.05265332 - 0.0117212 * q))))) *
    0.15915494309189535
  // No branches: in which eighth it lies can't be foretold.
  a = select<f64>(0.25 - a, a, steep)
  a = select<f64>(0.5 - a, a, x < 0)
  return select<f64>(select<f64>(0, 1 - a, a == 0), a, y < 0)
}
