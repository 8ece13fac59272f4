// The segments of rays near a place in the air, and what of them crosses a disc there.
import { makeSampler } from '../../num/rng.ts'
import type { Segments } from '../../run/segments.ts'

/** Segments near a place, relative to it. */
export interface Near {
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

export interface Place {
  xMm: number
  yMm: number
  zMm: number
}

/** Indices of the last gathering. */
let found = new Uint32Array(0)

/** The segments that come within `reachMm` of a place, thinned at random to about `most`, their watts then standing for all. */
export function gatherNear(segments: Segments, at: Place, reachMm: number, most = Number.POSITIVE_INFINITY): Near {
  if (found.length < segments.count) found = new Uint32Array(segments.count)
  const { xMm, yMm, zMm, dx, dy, dz, lengthMm } = segments
  const square = reachMm * reachMm
  let all = 0
  for (let i = 0; i < segments.count; i++) {
    const x = xMm[i]! - at.xMm
    const y = yMm[i]! - at.yMm
    const z = zMm[i]! - at.zMm
    const [a, b, c] = [dx[i]!, dy[i]!, dz[i]!]
    const t = Math.max(0, Math.min(lengthMm[i]!, -(x * a + y * b + z * c)))
    // By the nearest point itself: in single precision a direction isn't quite of unit length, and t² is large far out.
    const [p, q, r] = [x + t * a, y + t * b, z + t * c]
    if (p * p + q * q + r * r < square) found[all++] = i
  }
  let count = all
  if (all > most) {
    // At random, not every so many: the segments of a ray follow one another.
    const chosen = makeSampler(most / all)
    count = 0
    for (let k = 0; k < all; k++) if (chosen(found[k]!)) found[count++] = found[k]!
  }
  const scale = all / count
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
    near.watts[k] = segments.watts[i]! * scale
    near.batch[k] = segments.batch[i]!
  }
  return near
}

export type V3 = [number, number, number]

/** Calls `each` with the segments that cross the disc from the side it faces, and the square of their distance from its middle. `c`: relative to the place of `near`. */
export function forCrossing(
  { count, x, y, z, dx, dy, dz, length }: Near,
  c: V3,
  n: V3,
  radius: number,
  each: (i: number, square: number) => void,
): void {
  const square = radius * radius
  const [nx, ny, nz] = n
  const [cx, cy, cz] = c
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
    const away = qx * qx + qy * qy + qz * qz
    if (away <= square) each(i, away)
  }
}

/** Watts that cross a disc of this radius (mm) from the side it faces; `c`, mm: relative to the place of `near`. */
export function powerThrough(
  { count, x, y, z, dx, dy, dz, length, watts }: Near,
  c: V3,
  n: V3,
  radius: number,
): number {
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
export function readDirection(near: Near, c: V3, n: V3, radius: number): { n: V3; spread: number } | null {
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
export function startDirection(near: Near, radius: number): V3 | null {
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

/** Power within two radii on the disc's plane, weighted towards the middle: 1 − (r/2R)². */
export function crowdWithin(near: Near, c: V3, n: V3, radius: number): number {
  let sum = 0
  const reach = 2 * radius
  forCrossing(near, c, n, reach, (i, square) => {
    sum += near.watts[i]! * (1 - square / (reach * reach))
  })
  return sum
}

/** Scalar product. */
export const dot = (a: V3, b: V3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]

/** Cosine under which a ray counts no more for the direction. */
const LEAST_SLANT = 0.1
