// The emission of a ray: which emitter, where on it, which way, which wavelength. Six numbers in (0, 1), one each.

import * as E from './emitterRow.ts'
import * as Draw from './firstDraws.ts'
import * as KIND from './kindRow.ts'
import * as P from './params.ts'
import { cFromTable, cosFromPower } from './profiles.ts'
import { takeWavelength } from './rayTable.ts'
import { DX, DY, DZ, QUANTILES, TX, TY, WAVELENGTH, X, Y, Z } from './records.ts'
import { turnOf } from './turn.ts'

const TURN = 6.283185307179586

/**
 * Index of an emitter, drawn in proportion to radiant flux from one number u in (0, 1): alias method (A. J. Walker
 * 1977; M. D. Vose 1991), one look-up however many there are. `count` ≥ 1 records in `emitters`.
 */
export function whichEmitter(u: number, emitters: Float32Array, count: number): number {
  const scaled = u * count
  const at = Math.min(scaled | 0, count - 1)
  return scaled - at < emitters[at * E.size + E.aliasShare]! ? at : emitters[at * E.size + E.alias]!
}

/**
 * Place (mm) and unit direction of a ray from the emitter at offset `at`, in the lamp's frame, into the ray's slots.
 * `first`: the ray's six numbers in (0, 1).
 * Place even over disc or rectangle; direction by inverse transform of the profile (cosine power, table or map).
 */
export function leaveEmitter(
  ray: Float64Array,
  emitters: Float32Array,
  at: number,
  kinds: Float32Array,
  profiles: Float32Array,
  first: Float64Array,
): void {
  const pointU = first[Draw.pointU]!
  const pointV = first[Draw.pointV]!
  const kind = emitters[at + E.kind]! * KIND.size
  const cos = emitters[at + E.cos]!
  const sin = emitters[at + E.sin]!
  let u: number
  let v: number
  if (kinds[kind + KIND.disc]! > 0) {
    // Polar map, equal areas: r = R √u. (A map of squares to circles would keep neighbours closer, but it branches at random.)
    turnOf(ray, pointV)
    const r = Math.sqrt(pointU) * kinds[kind + KIND.halfX]!
    u = r * ray[TX]!
    v = r * ray[TY]!
  } else {
    u = (2 * pointU - 1) * kinds[kind + KIND.halfX]!
    v = (2 * pointV - 1) * kinds[kind + KIND.halfY]!
  }
  ray[X] = emitters[at + E.x]! + cos * u - sin * v
  ray[Y] = emitters[at + E.y]! + sin * u + cos * v
  ray[Z] = kinds[kind + KIND.z]!

  const profile = kinds[kind + KIND.profile]!
  let cosTheta: number
  let sinTheta: number
  let turn = first[Draw.azimuth]!
  const polar = first[Draw.polar]!
  if (profile === 0) {
    cosTheta = cosFromPower(polar, kinds[kind + KIND.profileAt]!)
    sinTheta = Math.sqrt(Math.max(0, 1 - cosTheta * cosTheta))
  } else {
    let table = kinds[kind + KIND.profileAt]!
    if (profile === 2) {
      turn = azimuthFromMap(turn, profiles, table, kinds[kind + KIND.profileRows]!)
      table = mapTable
    }
    const c = cFromTable(polar, profiles, table)
    cosTheta = 1 - c
    sinTheta = Math.sqrt(c * (2 - c))
  }
  turnOf(ray, turn)
  const a = sinTheta * ray[TX]!
  const b = sinTheta * ray[TY]!
  ray[DX] = cos * a - sin * b
  ray[DY] = sin * a + cos * b
  ray[DZ] = cosTheta
}

/** Table of the row that azimuthFromMap chose. */
let mapTable = 0

/**
 * A map I(θ, φ), bilinear between its rows, is a sum of rows each spread over φ by a hat: choose the row by its weight, then φ under
 * the hat by inverting its two halves. Row record: [share below, table offset, φ, width before, width after].
 */
function azimuthFromMap(u: number, profiles: Float32Array, at: number, rows: number): number {
  let low = 0
  let high = rows - 1
  while (low < high) {
    const mid = (low + high + 1) >> 1
    if (profiles[at + mid * 5]! <= u) low = mid
    else high = mid - 1
  }
  const row = at + low * 5
  const from = profiles[row]!
  const to = low + 1 < rows ? profiles[row + 5]! : 1
  const v = to > from ? Math.min(1, (u - from) / (to - from)) : 0.5
  const before = profiles[row + 3]!
  const after = profiles[row + 4]!
  const shareBefore = before / (before + after)
  mapTable = profiles[row + 1]!
  const phi =
    v < shareBefore
      ? profiles[row + 2]! - before * (1 - Math.sqrt(v / shareBefore))
      : profiles[row + 2]! + after * (1 - Math.sqrt(Math.max(0, (1 - v) / (1 - shareBefore))))
  const turn = phi / TURN
  return turn - Math.floor(turn)
}

/**
 * Wavelength (nm) by the spectrum's quantiles, and with it index and luminous weight (lm/W) by linear interpolation,
 * into the ray's slots. `at`: offset of the emitter's quantiles.
 */
export function chooseWavelength(
  ray: Float64Array,
  first: Float64Array,
  quantiles: Float32Array,
  at: number,
  lensIndex: Float32Array,
  lumPerWatt: Float32Array,
): void {
  const q = first[Draw.wavelength]! * QUANTILES
  const cell = q | 0
  const below = quantiles[at + cell]!
  const nm = below + (q - cell) * (quantiles[at + cell + 1]! - below)
  ray[WAVELENGTH] = nm
  takeWavelength(ray, lensIndex, lumPerWatt)
}

/**
 * A ray of the sun onto the outermost opening, into the ray's slots: place even over the opening (mm), a circle, a square or a rectangle on
 * the axis; direction by aimSun.
 */
export function leaveSun(ray: Float64Array, p: Float32Array, first: Float64Array): void {
  const radius = p[P.sunRadius]!
  if (p[P.sunSquare]! > 0) {
    ray[X] = (2 * first[Draw.pointU]! - 1) * radius
    ray[Y] = (2 * first[Draw.pointV]! - 1) * (p[P.sunSquare]! > 1 ? p[P.sunHalfY]! : radius)
  } else {
    const r = radius * Math.sqrt(first[Draw.pointU]!)
    ray[X] = r * Math.cos(TURN * first[Draw.pointV]!)
    ray[Y] = r * Math.sin(TURN * first[Draw.pointV]!)
  }
  ray[Z] = p[P.sunZ]!
  aimSun(ray, p, first)
}

/**
 * The same onto a piece of a lens that may stand tilted: place even over it, mm, in the frame of its element at height `z` there, for
 * outOfFrame to carry into the lamp (src/optics/frame.ts); the direction is not set yet. `piece`: the element's parameters.
 */
export function placeSun(ray: Float64Array, piece: Float32Array, z: number, first: Float64Array): void {
  const half = piece[P.lensHalf]!
  if (piece[P.lensSquare]! === 1 || piece[P.lensSquare]! === 2) {
    ray[X] = (2 * first[Draw.pointU]! - 1) * half
    ray[Y] = (2 * first[Draw.pointV]! - 1) * (piece[P.lensSquare]! > 1 ? piece[P.lensHalfY]! : half)
  } else {
    const r = half * Math.sqrt(first[Draw.pointU]!)
    ray[X] = r * Math.cos(TURN * first[Draw.pointV]!)
    ray[Y] = r * Math.sin(TURN * first[Draw.pointV]!)
  }
  ray[Z] = z
}

/**
 * Direction of a ray of the sun, into the ray's slots: over a disc of the stated half angle (rad) about the tilted axis, whose radiance
 * falls to its rim as 1 − u(1 − μ), μ = √(1 − ρ²) at the share ρ of its radius (linear law of limb darkening). That is a disc of 1 − u and
 * one of uμ: the shares of light within ρ are ρ² and 1 − μ³.
 */
export function aimSun(ray: Float64Array, p: Float32Array, first: Float64Array): void {
  const limb = p[P.sunLimb]!
  const even = (3 - 3 * limb) / (3 - limb)
  const u = first[Draw.polar]!
  const square = u <= even ? u / even : 1 - ((u - even) / (1 - even)) ** (2 / 3)
  const c = square * 2 * Math.sin(p[P.sunHalfAngle]! / 2) ** 2
  const sin = Math.sqrt(c * (2 - c))
  const phi = TURN * first[Draw.azimuth]!
  const a = sin * Math.cos(phi)
  const b = sin * Math.sin(phi)
  // The sun's centre stands at (sin tilt, 0, cos tilt), turned about the axis; light travels the other way.
  const x = a * p[P.sunCosTilt]! + (1 - c) * p[P.sunSinTilt]!
  const z = -a * p[P.sunSinTilt]! + (1 - c) * p[P.sunCosTilt]!
  const cosA = Math.cos(p[P.sunAzimuth]!)
  const sinA = Math.sin(p[P.sunAzimuth]!)
  ray[DX] = -(cosA * x - sinA * b)
  ray[DY] = -(sinA * x + cosA * b)
  ray[DZ] = -z
}
