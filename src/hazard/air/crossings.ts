// The segments near a place as lines over the planes square to one direction: for the many discs of a search that face it.
import { dot, type Near, type V3 } from './near.ts'

/** At height s along n (mm from the place of `near`) segment k is at (a + s · slopeA, b + s · slopeB) along u and v, for from ≤ s ≤ to. */
export interface Crossings {
  n: V3
  u: V3
  v: V3
  count: number
  a: Float64Array
  b: Float64Array
  slopeA: Float64Array
  slopeB: Float64Array
  from: Float64Array
  to: Float64Array
  watts: Float64Array
  /** Numbers in `near`. */
  index: Uint32Array
}

/** What discs are looked at: with edges within so many mm of the line through the place along n, and middles within so many mm along it. */
export interface SearchBounds {
  acrossMm: number
  alongMm: number
}

/** Two unit vectors across a unit vector. */
export function crossAxes(n: V3): [V3, V3] {
  const other: V3 = Math.abs(n[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0]
  const u: V3 = [
    n[1] * other[2] - n[2] * other[1],
    n[2] * other[0] - n[0] * other[2],
    n[0] * other[1] - n[1] * other[0],
  ]
  const length = Math.hypot(...u)
  const a: V3 = [u[0] / length, u[1] / length, u[2] / length]
  return [a, [n[1] * a[2] - n[2] * a[1], n[2] * a[0] - n[0] * a[2], n[0] * a[1] - n[1] * a[0]]]
}

/** Columns with room for `count` lines at least; used again from one projection to the next. */
export type CrossingsRoom = Pick<Crossings, 'a' | 'b' | 'slopeA' | 'slopeB' | 'from' | 'to' | 'watts' | 'index'>

/** Columns of zeros with room for `count` lines. */
export function makeCrossingsRoom(count: number): CrossingsRoom {
  const column = () => new Float64Array(count)
  return {
    a: column(),
    b: column(),
    slopeA: column(),
    slopeB: column(),
    from: column(),
    to: column(),
    watts: column(),
    index: new Uint32Array(count),
  }
}

/** The segments of `near` that run with n and meet a disc that is looked at, written into `room`. */
export function projectNear(
  near: Near,
  n: V3,
  { acrossMm, alongMm }: SearchBounds,
  room: CrossingsRoom = makeCrossingsRoom(near.count),
): Crossings {
  const [u, v] = crossAxes(n)
  const [nx, ny, nz] = n
  const [ux, uy, uz] = u
  const [vx, vy, vz] = v
  const { x, y, z, dx, dy, dz, length } = near
  const { a, b, slopeA, slopeB, from, to, watts, index } = room
  const square = acrossMm * acrossMm
  let count = 0
  for (let i = 0; i < near.count; i++) {
    const ex = dx[i]!
    const ey = dy[i]!
    const ez = dz[i]!
    const slant = ex * nx + ey * ny + ez * nz
    if (slant <= 1e-6) continue
    const x0 = x[i]!
    const y0 = y[i]!
    const z0 = z[i]!
    const begin = x0 * nx + y0 * ny + z0 * nz
    const end = begin + length[i]! * slant
    if (begin > alongMm || end < -alongMm) continue
    const p = (ex * ux + ey * uy + ez * uz) / slant
    const q = (ex * vx + ey * vy + ez * vz) / slant
    const a0 = x0 * ux + y0 * uy + z0 * uz - begin * p
    const b0 = x0 * vx + y0 * vy + z0 * vz - begin * q
    const steep = p * p + q * q
    const nearest = steep > 0 ? -(a0 * p + b0 * q) / steep : 0
    const s = Math.min(alongMm, Math.max(-alongMm, nearest))
    const a1 = a0 + s * p
    const b1 = b0 + s * q
    if (a1 * a1 + b1 * b1 > square) continue
    a[count] = a0
    b[count] = b0
    slopeA[count] = p
    slopeB[count] = q
    from[count] = begin
    to[count] = end
    watts[count] = near.watts[i]!
    index[count] = i
    count++
  }
  return { n, u, v, count, ...room }
}

/** Watts that cross the disc of this radius (mm) about c that faces n; `c`, mm: relative to the place of `near`. */
export function powerOn(crossings: Crossings, c: V3, radius: number): number {
  const { count, a, b, slopeA, slopeB, from, to, watts } = crossings
  const [x, y, s] = [dot(c, crossings.u), dot(c, crossings.v), dot(c, crossings.n)]
  const square = radius * radius
  let sum = 0
  for (let i = 0; i < count; i++) {
    const p = a[i]! + s * slopeA[i]! - x
    const q = b[i]! + s * slopeB[i]! - y
    if (p * p + q * q > square || s < from[i]! || s > to[i]!) continue
    sum += watts[i]!
  }
  return sum
}

/** Power within two radii on the disc's plane, weighted towards the middle: 1 − (r/2R)². */
export function crowdOn(crossings: Crossings, c: V3, radius: number): number {
  const { count, a, b, slopeA, slopeB, from, to, watts } = crossings
  const [x, y, s] = [dot(c, crossings.u), dot(c, crossings.v), dot(c, crossings.n)]
  const square = 4 * radius * radius
  let sum = 0
  for (let i = 0; i < count; i++) {
    const p = a[i]! + s * slopeA[i]! - x
    const q = b[i]! + s * slopeB[i]! - y
    const away = p * p + q * q
    if (away > square || s < from[i]! || s > to[i]!) continue
    sum += watts[i]! * (1 - away / square)
  }
  return sum
}

/** Cosine under which a ray counts no more for the direction. */
const LEAST_SLANT = 0.1

/**
 * Direction of the net flux through a small ball where the disc lies, and the root mean square of the light's angle to it (rad, small
 * angles); null: none. A disc meets n · F of a flux vector F (Gershun 1936), most when it faces it; what crosses the disc has that much
 * less of slanting rays, so each counts by the inverse of its cosine.
 */
export function readDirection(
  near: Near,
  crossings: Crossings,
  c: V3,
  radius: number,
): { n: V3; spread: number } | null {
  const { count, a, b, slopeA, slopeB, from, to, index, n } = crossings
  const { dx, dy, dz } = near
  const [x, y, s] = [dot(c, crossings.u), dot(c, crossings.v), dot(c, n)]
  const [nx, ny, nz] = n
  const square = radius * radius
  let [fx, fy, fz, w] = [0, 0, 0, 0]
  for (let k = 0; k < count; k++) {
    const p = a[k]! + s * slopeA[k]! - x
    const q = b[k]! + s * slopeB[k]! - y
    if (p * p + q * q > square || s < from[k]! || s > to[k]!) continue
    const i = index[k]!
    const ex = dx[i]!
    const ey = dy[i]!
    const ez = dz[i]!
    const watts = near.watts[i]! / Math.max(LEAST_SLANT, ex * nx + ey * ny + ez * nz)
    fx += watts * ex
    fy += watts * ey
    fz += watts * ez
    w += watts
  }
  const length = Math.hypot(fx, fy, fz)
  if (!(length > 0)) return null
  // The mean of cos over directions is length / w.
  return { n: [fx / length, fy / length, fz / length], spread: Math.sqrt(Math.max(0, 2 * (1 - length / w))) }
}

interface Waist {
  /** From the disc to the plane where the rays through it lie closest together, along n, mm. */
  ahead: number
  /** Their middle there from that of the disc, along u and v. */
  offU: number
  offV: number
}

/** Where the light through the disc about c that faces n lies closest together: −cov(place, slope)/var(slope) along it. */
export function readWaist(crossings: Crossings, c: V3, radius: number): Waist {
  const { count, a, b, slopeA, slopeB, from, to, watts } = crossings
  const [x, y, s] = [dot(c, crossings.u), dot(c, crossings.v), dot(c, crossings.n)]
  const square = radius * radius
  // Weighted sums over both axes of: 1, place, slope, place · slope, slope².
  let [w, pu, pv, su, sv, ps, ss] = [0, 0, 0, 0, 0, 0, 0]
  for (let i = 0; i < count; i++) {
    const ta = slopeA[i]!
    const tb = slopeB[i]!
    const p = a[i]! + s * ta - x
    const q = b[i]! + s * tb - y
    if (p * p + q * q > square || s < from[i]! || s > to[i]!) continue
    const own = watts[i]!
    w += own
    pu += own * p
    pv += own * q
    su += own * ta
    sv += own * tb
    ps += own * (p * ta + q * tb)
    ss += own * (ta * ta + tb * tb)
  }
  if (!(w > 0)) return { ahead: 0, offU: 0, offV: 0 }
  const variance = ss - (su * su + sv * sv) / w
  const ahead = variance > 1e-12 * w ? -(ps - (pu * su + pv * sv) / w) / variance : 0
  return { ahead, offU: (pu + ahead * su) / w, offV: (pv + ahead * sv) / w }
}
