// The disc in the air: the irradiance of a disc that faces the light, the place near by where it is greatest, and its error.
import { makeLot } from '../../num/rng.ts'
import { sampleSum } from '../../run/exits.ts'
import type { Pieces } from '../../run/pieces.ts'
import { BATCHES } from '../../run/types.ts'

const KW_M2 = 1000

/** A disc in the air and the direction that the light on it runs in. */
export interface FacingDisc {
  xMm: number
  yMm: number
  zMm: number
  /** Unit vector, power-weighted mean direction of the light through it. */
  dx: number
  dy: number
  dz: number
}

/** Stretches near a place, relative to it. */
interface Near {
  count: number
  x: Float64Array
  y: Float64Array
  z: Float64Array
  dx: Float64Array
  dy: Float64Array
  dz: Float64Array
  length: Float64Array
  watts: Float64Array
  batch: Uint8Array
}

type Place = Pick<FacingDisc, 'xMm' | 'yMm' | 'zMm'>

/** Indices of the last gathering. */
let found = new Uint32Array(0)

/** The stretches that come within `reachMm` of a place, thinned evenly to at most `most`, their watts then standing for all. */
function gatherNear(pieces: Pieces, at: Place, reachMm: number, most = Number.POSITIVE_INFINITY): Near {
  if (found.length < pieces.count) found = new Uint32Array(pieces.count)
  const { xMm, yMm, zMm, dx, dy, dz, lengthMm } = pieces
  const square = reachMm * reachMm
  let all = 0
  for (let i = 0; i < pieces.count; i++) {
    const x = xMm[i]! - at.xMm
    const y = yMm[i]! - at.yMm
    const z = zMm[i]! - at.zMm
    const along = -(x * dx[i]! + y * dy[i]! + z * dz[i]!)
    const t = along < 0 ? 0 : along > lengthMm[i]! ? lengthMm[i]! : along
    if (x * x + y * y + z * z - 2 * t * along + t * t < square) found[all++] = i
  }
  let count = all
  if (all > most) {
    // By lot, not every so many: the stretches of a ray follow one another.
    const chosen = makeLot(most / all)
    count = 0
    for (let k = 0; k < all; k++) if (chosen(found[k]!)) found[count++] = found[k]!
  }
  const scale = count > 0 ? all / count : 0
  const near: Near = {
    count,
    x: new Float64Array(count),
    y: new Float64Array(count),
    z: new Float64Array(count),
    dx: new Float64Array(count),
    dy: new Float64Array(count),
    dz: new Float64Array(count),
    length: new Float64Array(count),
    watts: new Float64Array(count),
    batch: new Uint8Array(count),
  }
  for (let k = 0; k < count; k++) {
    const i = found[k]!
    near.x[k] = xMm[i]! - at.xMm
    near.y[k] = yMm[i]! - at.yMm
    near.z[k] = zMm[i]! - at.zMm
    near.dx[k] = dx[i]!
    near.dy[k] = dy[i]!
    near.dz[k] = dz[i]!
    near.length[k] = lengthMm[i]!
    near.watts[k] = pieces.watts[i]! * scale
    near.batch[k] = pieces.batch[i]!
  }
  return near
}

type V3 = [number, number, number]

/** Calls `each` with the stretches that cross the disc from the side it faces. `c`: relative to the place of `near`. */
function forCrossing(near: Near, c: V3, n: V3, radius: number, each: (i: number) => void): void {
  const square = radius * radius
  for (let i = 0; i < near.count; i++) {
    const slant = near.dx[i]! * n[0] + near.dy[i]! * n[1] + near.dz[i]! * n[2]
    if (slant <= 1e-6) continue
    const [x, y, z] = [c[0] - near.x[i]!, c[1] - near.y[i]!, c[2] - near.z[i]!]
    const t = (x * n[0] + y * n[1] + z * n[2]) / slant
    if (t < 0 || t > near.length[i]!) continue
    const [qx, qy, qz] = [t * near.dx[i]! - x, t * near.dy[i]! - y, t * near.dz[i]! - z]
    if (qx * qx + qy * qy + qz * qz <= square) each(i)
  }
}

function powerThrough({ count, x, y, z, dx, dy, dz, length, watts }: Near, c: V3, n: V3, radius: number): number {
  const square = radius * radius
  const [nx, ny, nz] = n
  const [cx, cy, cz] = c
  let sum = 0
  for (let i = 0; i < count; i++) {
    const slant = dx[i]! * nx + dy[i]! * ny + dz[i]! * nz
    if (slant <= 1e-6) continue
    const px = cx - x[i]!
    const py = cy - y[i]!
    const pz = cz - z[i]!
    const t = (px * nx + py * ny + pz * nz) / slant
    if (t < 0 || t > length[i]!) continue
    const qx = t * dx[i]! - px
    const qy = t * dy[i]! - py
    const qz = t * dz[i]! - pz
    if (qx * qx + qy * qy + qz * qz <= square) sum += watts[i]!
  }
  return sum
}

/**
 * Direction of the net flux through a small ball where the disc lies, and the root mean square of the light's angle to it (rad, small
 * angles); null: none. A disc meets n · F of a flux vector F (Gershun 1936), most when it faces it; what crosses the disc has that much
 * less of slanting rays, so each counts by the inverse of its cosine.
 */
function readDirection(near: Near, c: V3, n: V3, radius: number): { n: V3; spread: number } | null {
  let [x, y, z, w] = [0, 0, 0, 0]
  forCrossing(near, c, n, radius, (i) => {
    const slant = near.dx[i]! * n[0] + near.dy[i]! * n[1] + near.dz[i]! * n[2]
    const watts = near.watts[i]! / Math.max(LEAST_SLANT, slant)
    x += watts * near.dx[i]!
    y += watts * near.dy[i]!
    z += watts * near.dz[i]!
    w += watts
  })
  const length = Math.hypot(x, y, z)
  if (!(length > 0)) return null
  // The mean of cos over directions is length / w.
  return { n: [x / length, y / length, z / length], spread: Math.sqrt(Math.max(0, 2 * (1 - length / w))) }
}

/** Directions to begin with: the mean of all that comes near, or the axis along which most of it runs. */
function startDirection(near: Near, radius: number): V3 | null {
  let best: V3 | null = null
  let most = 0
  let mean: V3 = [0, 0, 0]
  for (let i = 0; i < near.count; i++) {
    const along = -(near.x[i]! * near.dx[i]! + near.y[i]! * near.dy[i]! + near.z[i]! * near.dz[i]!)
    if (near.x[i]! ** 2 + near.y[i]! ** 2 + near.z[i]! ** 2 - along * along > radius * radius) continue
    mean = [
      mean[0] + near.watts[i]! * near.dx[i]!,
      mean[1] + near.watts[i]! * near.dy[i]!,
      mean[2] + near.watts[i]! * near.dz[i]!,
    ]
  }
  const length = Math.hypot(...mean)
  const tries: V3[] = [
    ...(length > 0 ? [mean.map((m) => m / length) as V3] : []),
    [1, 0, 0],
    [-1, 0, 0],
    [0, 1, 0],
    [0, -1, 0],
    [0, 0, 1],
    [0, 0, -1],
  ]
  for (const n of tries) {
    const power = powerThrough(near, [0, 0, 0], n, radius)
    if (power > most) [best, most] = [n, power]
  }
  return best
}

function crossAxes(n: V3): [V3, V3] {
  const other: V3 = Math.abs(n[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0]
  const u: V3 = [
    n[1] * other[2] - n[2] * other[1],
    n[2] * other[0] - n[0] * other[2],
    n[0] * other[1] - n[1] * other[0],
  ]
  const length = Math.hypot(...u)
  const a = u.map((x) => x / length) as V3
  return [a, [n[1] * a[2] - n[2] * a[1], n[2] * a[0] - n[0] * a[2], n[0] * a[1] - n[1] * a[0]]]
}

const moved = (c: V3, by: V3, step: number): V3 => [c[0] + step * by[0], c[1] + step * by[1], c[2] + step * by[2]]

/** How far about a place stretches are gathered, and how far the disc may move before they are gathered anew: radii of the disc. */
const REACH = 5
const MOST_MOVED = 2.5
/** Steps begin at half a radius, and end at this share of it. */
const LAST_STEP = 1 / 16
const TURNS = 3
/** Cosine under which a ray counts no more for the direction. */
const LEAST_SLANT = 0.1
/** Light that runs together more slowly than this is followed no faster along its way, rad. */
const LEAST_SPREAD = 0.002
/** More stretches than these add little to where the disc comes to lie. */
const MOST_NEAR = 3000

export interface ClimbOptions {
  /** The disc's centre keeps to places where this holds. */
  mayLie?: (xMm: number, yMm: number, zMm: number) => boolean
  /** The disc's centre keeps to the plane through its start that is square to this unit vector. */
  across?: readonly [number, number, number]
}

/**
 * The disc of this diameter near a place that the most power crosses, square to the mean direction of what crosses it: compass search over
 * three axes (steps halved until R/16), the direction read anew after each. Null: no light there.
 * The step along the light is as much longer as its rays run together slowly.
 */
export function climbDisc(
  pieces: Pieces,
  start: Place,
  discMm: number,
  { mayLie = () => true, across }: ClimbOptions = {},
): (FacingDisc & { spread: number }) | null {
  const radius = discMm / 2
  let at: Place = start
  for (let gathered = 0; ; gathered++) {
    const near = gatherNear(pieces, at, REACH * radius, MOST_NEAR)
    const n = startDirection(near, radius)
    if (!n) return null
    const { xMm, yMm, zMm } = at
    const allowed = (c: V3) => mayLie(xMm + c[0], yMm + c[1], zMm + c[2])
    const top = climbNear({ near, radius, mayLie: allowed, across: across as V3 | undefined }, n)
    const [x, y, z] = top.c
    at = { xMm: at.xMm + x, yMm: at.yMm + y, zMm: at.zMm + z }
    if (!top.farOff || gathered >= 4) return { ...at, dx: top.n[0], dy: top.n[1], dz: top.n[2], spread: top.spread }
  }
}

interface Climb {
  near: Near
  radius: number
  mayLie: (c: V3) => boolean
  across: V3 | undefined
}

/**
 * From the start, and from where the light within two radii lies closest: two spots that just fit into the disc, each beside its edge, are
 * found from between them only. The better of both.
 */
function climbNear(climb: Climb, first: V3): { c: V3; n: V3; spread: number; farOff: boolean } {
  const { near, radius } = climb
  const between = compass(climb, [0, 0, 0], first, 0, crowdWithin)
  const tops = [[0, 0, 0] as V3, between].map((start) => climbFrom(climb, start, first))
  const powers = tops.map(({ c, n }) => powerThrough(near, c, n, radius))
  const top = tops[powers[1]! > powers[0]! ? 1 : 0]!
  return { ...top, farOff: Math.hypot(...top.c) > 1.5 * radius }
}

function climbFrom(climb: Climb, start: V3, first: V3): { c: V3; n: V3; spread: number } {
  const { near, radius } = climb
  let [c, n, spread] = [start, first, 0]
  for (let turn = 0; turn <= TURNS; turn++) {
    const direction = readDirection(near, c, n, radius)
    if (direction) ({ n, spread } = direction)
    if (turn < TURNS) c = compass(climb, c, n, spread, powerThrough)
  }
  return { c, n, spread }
}

/** Compass search for the most of `strength`; steps along the light are as much longer as its rays run together slowly. */
function compass(
  { near, radius, mayLie, across }: Climb,
  start: V3,
  n: V3,
  spread: number,
  strength: (near: Near, c: V3, n: V3, radius: number) => number,
): V3 {
  const [u, v] = crossAxes(across ?? n)
  const long = 1 / Math.max(LEAST_SPREAD, Math.min(1, spread || 1))
  let c = start
  let most = strength(near, c, n, radius)
  for (let step = radius / 2; step >= radius * LAST_STEP; step /= 2) {
    for (let better = true; better; ) {
      better = false
      for (const [by, size] of [
        [u, step],
        [u, -step],
        [v, step],
        [v, -step],
        ...(across
          ? []
          : ([
              [n, step * long],
              [n, -step * long],
            ] as const)),
      ] as const) {
        const there = moved(c, by, size)
        if (isBeyond(there, n, radius, long) || !mayLie(there)) continue
        const value = strength(near, there, n, radius)
        if (value > most * (1 + 1e-6)) {
          ;[c, most, better] = [there, value, true]
        }
      }
    }
  }
  return c
}

/** Beyond this the gathered stretches are no longer all. */
function isBeyond(c: V3, n: V3, radius: number, long: number): boolean {
  const along = Math.abs(dot(c, n))
  return Math.sqrt(Math.max(0, dot(c, c) - along * along)) + along / long > MOST_MOVED * radius
}

/** Power within two radii on the disc's plane, weighted towards the middle: 1 − (r/2R)². */
function crowdWithin(near: Near, c: V3, n: V3, radius: number): number {
  let sum = 0
  const reach = 4 * radius * radius
  for (let i = 0; i < near.count; i++) {
    const slant = near.dx[i]! * n[0] + near.dy[i]! * n[1] + near.dz[i]! * n[2]
    if (slant <= 1e-6) continue
    const [x, y, z] = [c[0] - near.x[i]!, c[1] - near.y[i]!, c[2] - near.z[i]!]
    const t = (x * n[0] + y * n[1] + z * n[2]) / slant
    if (t < 0 || t > near.length[i]!) continue
    const square = (t * near.dx[i]! - x) ** 2 + (t * near.dy[i]! - y) ** 2 + (t * near.dz[i]! - z) ** 2
    if (square < reach) sum += near.watts[i]! * (1 - square / reach)
  }
  return sum
}

/** Where a small focus lies in the disc over a depth, no more of its power may be lost than this on the way to its waist. */
const WAIST_LOSS = 0.01

/**
 * The disc moved to where its rays lie closest together, t = −cov(place, direction)/var(direction) along the light, and onto their middle,
 * as long as it holds them there. With all stretches: a place chosen so is no hotter by chance.
 */
export function moveToWaist<T extends FacingDisc & { spread: number }>(
  pieces: Pieces,
  disc: T,
  discMm: number,
  mayLie: ClimbOptions['mayLie'] = () => true,
): T {
  const radius = discMm / 2
  const near = gatherNear(pieces, disc, REACH * radius)
  const n: V3 = [disc.dx, disc.dy, disc.dz]
  let c: V3 = [0, 0, 0]
  const most = powerThrough(near, c, n, radius)
  const reach = (MOST_MOVED * radius) / Math.max(LEAST_SPREAD, disc.spread)
  for (let round = 0; round < 4; round++) {
    const waist = readWaist(near, c, n, radius)
    const step = Math.max(-reach, Math.min(reach, waist.ahead))
    const there = moved(moved(moved(c, waist.u, waist.offU), waist.v, waist.offV), n, step)
    const at = { xMm: disc.xMm + there[0], yMm: disc.yMm + there[1], zMm: disc.zMm + there[2] }
    if (!mayLie(at.xMm, at.yMm, at.zMm) || powerThrough(near, there, n, radius) < (1 - WAIST_LOSS) * most) break
    c = there
    if (Math.abs(step) + Math.abs(waist.offU) + Math.abs(waist.offV) < 0.01 * radius) break
  }
  return { ...disc, xMm: disc.xMm + c[0], yMm: disc.yMm + c[1], zMm: disc.zMm + c[2] }
}

interface Waist {
  /** From the disc to the plane where the rays through it lie closest together, along n, mm. */
  ahead: number
  /** Their middle there, along two axes across n. */
  u: V3
  v: V3
  offU: number
  offV: number
}

function readWaist(near: Near, c: V3, n: V3, radius: number): Waist {
  const [u, v] = crossAxes(n)
  // Weighted sums over both axes of: 1, place, slope, place · slope, slope².
  let [w, pu, pv, su, sv, ps, ss] = [0, 0, 0, 0, 0, 0, 0]
  forCrossing(near, c, n, radius, (i) => {
    const d: V3 = [near.dx[i]!, near.dy[i]!, near.dz[i]!]
    const slant = dot(d, n)
    const from: V3 = [near.x[i]! - c[0], near.y[i]! - c[1], near.z[i]! - c[2]]
    const t = -dot(from, n) / slant
    const at: V3 = [from[0] + t * d[0], from[1] + t * d[1], from[2] + t * d[2]]
    const [a, b, ta, tb, watts] = [dot(at, u), dot(at, v), dot(d, u) / slant, dot(d, v) / slant, near.watts[i]!]
    w += watts
    pu += watts * a
    pv += watts * b
    su += watts * ta
    sv += watts * tb
    ps += watts * (a * ta + b * tb)
    ss += watts * (ta * ta + tb * tb)
  })
  if (!(w > 0)) return { ahead: 0, u, v, offU: 0, offV: 0 }
  const variance = ss - (su * su + sv * sv) / w
  const ahead = variance > 1e-12 * w ? -(ps - (pu * su + pv * sv) / w) / variance : 0
  return { ahead, u, v, offU: (pu + ahead * su) / w, offV: (pv + ahead * sv) / w }
}

const dot = (a: V3, b: V3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]

/** kW/m² on a disc, mean over it, and its standard error. */
export interface DiscReading {
  kWm2: number
  se: number
}

/**
 * kW/m² on a disc by all batches, by the even and by the odd ones, each with its standard error from its batches; the error is at least
 * that of counts, and at least one ray's.
 */
export function measureFacing(
  pieces: Pieces,
  disc: FacingDisc,
  discMm: number,
): { all: DiscReading; even: DiscReading; odd: DiscReading } {
  const radius = discMm / 2
  const near = gatherNear(pieces, disc, radius * 1.0001)
  const perBatch = new Float64Array(BATCHES)
  const squares = new Float64Array(2)
  forCrossing(near, [0, 0, 0], [disc.dx, disc.dy, disc.dz], radius, (i) => {
    const batch = near.batch[i]!
    perBatch[batch]! += near.watts[i]!
    squares[batch % 2]! += near.watts[i]! ** 2
  })
  const perArea = KW_M2 / (Math.PI * radius * radius)
  const reading = ({ value, se }: { value: number; se: number }, counts: number, times: number) => ({
    kWm2: value * times * perArea,
    se: Math.max(se, Math.sqrt(counts), pieces.wattsOfOne) * times * perArea,
  })
  return {
    all: reading(sampleSum(perBatch), squares[0]! + squares[1]!, 1),
    even: reading(halfSum(perBatch, 0), squares[0]!, 2),
    odd: reading(halfSum(perBatch, 1), squares[1]!, 2),
  }
}

/** Sum over the batches of one parity and its standard error. */
function halfSum(perBatch: Float64Array, parity: 0 | 1): { value: number; se: number } {
  const values = [...perBatch].filter((_, b) => b % 2 === parity)
  const n = values.length
  const value = values.reduce((a, b) => a + b, 0)
  const squares = values.reduce((a, b) => a + (b - value / n) ** 2, 0)
  return { value, se: Math.sqrt((squares * n) / (n - 1)) }
}
