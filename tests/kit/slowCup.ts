// A reflector cup in the plainest form, to hold src/optics/cup.ts and cupBack.ts: the naive root of the quadratic, and a normal that halves the
// angle between the way to the focus and the axis, which is what makes the mirror a paraboloid.
import * as KIND from '../../src/optics/kindRow.ts'
import { doubles } from './lensBench.ts'
import { along, mirrored, plus, unitOf, type V } from './vectors.ts'

export interface Cup {
  focal: number
  exit: number
  rho: number
  /** Height of the emitter, and of the emitter above the focus. */
  z: number
  shift: number
}

export function cupKinds(c: Cup, at = 0): Float32Array {
  const k = doubles(at + KIND.size)
  k[at + KIND.optic] = 1
  k[at + KIND.z] = c.z
  k[at + KIND.cupFocal] = c.focal
  k[at + KIND.cupExit] = c.exit
  k[at + KIND.cupRho] = c.rho
  k[at + KIND.cupZ] = c.shift
  return k
}

export const focusOf = (c: Cup, axis: readonly [number, number]): V => [axis[0], axis[1], c.z - c.shift]

/** Mouth: r² = 4 f z at half the exit, from the vertex. */
export const mouthOf = (c: Cup): number => c.z - c.shift - c.focal + (c.exit / 2) ** 2 / (4 * c.focal)

/** The far meeting with the paraboloid; Infinity along the axis. */
function slowMirror(c: Cup, axis: readonly [number, number], at: V, d: V): number {
  const rel = plus(at, [-axis[0], -axis[1], -(c.z - c.shift - c.focal)])
  const a = d[0] ** 2 + d[1] ** 2
  const b = 2 * (rel[0] * d[0] + rel[1] * d[1] - 2 * c.focal * d[2])
  const q = rel[0] ** 2 + rel[1] ** 2 - 4 * c.focal * rel[2]
  if (a < 1e-18) return b > 0 ? -q / b : Number.POSITIVE_INFINITY
  return (-b + Math.sqrt(Math.max(0, b * b - 4 * a * q))) / (2 * a)
}

export interface CupEnd {
  at: V
  d: V
  bounces: number
  /** By the mouth, through the emitter's plane on the way down (backwards only), or by the wall below the base. */
  end: 'mouth' | 'plane' | 'base' | 'limit'
}

export function slowCup(c: Cup, axis: readonly [number, number], from: V, towards: V, backwards: boolean): CupEnd {
  let [at, d] = [from, towards]
  const base = Math.min(c.z - c.shift, backwards ? c.z : from[2])
  for (let bounces = 0; bounces < 40; bounces++) {
    const mirror = slowMirror(c, axis, at, d)
    const mouth = d[2] > 0 ? (mouthOf(c) - at[2]) / d[2] : Number.POSITIVE_INFINITY
    const plane = backwards && d[2] < 0 && at[2] > c.z ? (c.z - at[2]) / d[2] : Number.POSITIVE_INFINITY
    if (plane <= mirror) return { at: along(at, d, plane), d, bounces, end: 'plane' }
    if (mouth <= mirror) return { at: along(at, d, mouth), d, bounces, end: 'mouth' }
    at = along(at, d, mirror)
    if (at[2] < base - 1e-9) return { at, d, bounces, end: 'base' }
    const f = focusOf(c, axis)
    const normal = unitOf(plus(unitOf(along(f, at, -1)), [0, 0, 1]))
    d = mirrored(d, normal)
  }
  return { at, d, bounces: 40, end: 'limit' }
}
