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

/** Columns that one caller gathers into again and again: what it gathered before is then lost. */
export interface NearRoom {
  near: Near
}

/** Room for nothing yet: it grows with what is gathered into it. */
export const makeNearRoom = (): NearRoom => ({ near: makeNear(0) })

function makeNear(count: number): Near {
  const column = () => new Float64Array(count)
  return {
    count,
    x: column(),
    y: column(),
    z: column(),
    dx: column(),
    dy: column(),
    dz: column(),
    length: column(),
    watts: column(),
    batch: new Uint8Array(count),
  }
}

function nearFor(count: number, room: NearRoom | undefined): Near {
  if (!room) return makeNear(count)
  if (room.near.watts.length < count) room.near = makeNear(count)
  return { ...room.near, count }
}

/** A direction in single precision may be longer than 1 by so much, so that its foot lies nearer by that share of the way there. */
const UNIT_SLACK = 1 + 1e-6

/**
 * The segments that come within `reachMm` of a place, thinned at random to about `most`, their watts then standing for all. `room`: columns
 * to write into, longer than `count` then.
 */
export function gatherNear(
  segments: Segments,
  at: Place,
  reachMm: number,
  most = Number.POSITIVE_INFINITY,
  room?: NearRoom,
): Near {
  if (found.length < segments.count) found = new Uint32Array(segments.count)
  const all = findNear(segments, at, reachMm, found)
  let count = all
  if (all > most) {
    // At random, not every so many: the segments of a ray follow one another.
    const chosen = makeSampler(most / all)
    count = 0
    for (let k = 0; k < all; k++) if (chosen(found[k]!)) found[count++] = found[k]!
  }
  const scale = all / count
  const near = nearFor(count, room)
  const { xMm, yMm, zMm, dx, dy, dz, lengthMm, watts, batch } = segments
  for (let k = 0; k < count; k++) {
    const i = found[k]!
    near.x[k] = xMm[i]! - at.xMm
    near.y[k] = yMm[i]! - at.yMm
    near.z[k] = zMm[i]! - at.zMm
    near.dx[k] = dx[i]!
    near.dy[k] = dy[i]!
    near.dz[k] = dz[i]!
    near.length[k] = lengthMm[i]!
    near.watts[k] = watts[i]! * scale
    near.batch[k] = batch[i]!
  }
  return near
}

/** Writes the numbers of the segments that come within `reachMm` of a place, and returns how many. */
function findNear(segments: Segments, at: Place, reachMm: number, into: Uint32Array): number {
  const { count, xMm, yMm, zMm, dx, dy, dz, lengthMm } = segments
  const [atX, atY, atZ] = [at.xMm, at.yMm, at.zMm]
  const square = reachMm * reachMm
  let all = 0
  for (let i = 0; i < count; i++) {
    const x = xMm[i]! - atX
    const y = yMm[i]! - atY
    const z = zMm[i]! - atZ
    const a = dx[i]!
    const b = dy[i]!
    const c = dz[i]!
    const along = -(x * a + y * b + z * c)
    // Most of them pass far off.
    if (x * x + y * y + z * z - UNIT_SLACK * along * along >= square) continue
    const end = lengthMm[i]!
    const t = Math.max(0, Math.min(end, along))
    // By the nearest point itself: in single precision a direction isn't quite of unit length, and t² is large far out.
    const p = x + t * a
    const q = y + t * b
    const r = z + t * c
    if (p * p + q * q + r * r < square) into[all++] = i
  }
  return all
}

export type V3 = [number, number, number]

/** Numbers of the last list. */
let crossing = new Uint32Array(0)

/**
 * The segments that cross the disc of this radius (mm) from the side it faces: their numbers, the first `count` of `index`, which the next
 * call writes anew. `c`, mm: relative to the place of `near`.
 */
export function listCrossing(
  { count, x, y, z, dx, dy, dz, length }: Near,
  c: V3,
  n: V3,
  radius: number,
): { count: number; index: Uint32Array } {
  if (crossing.length < count) crossing = new Uint32Array(count)
  const index = crossing
  const square = radius * radius
  const [nx, ny, nz] = n
  const [cx, cy, cz] = c
  let all = 0
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
    if (qx * qx + qy * qy + qz * qz <= square) index[all++] = i
  }
  return { count: all, index }
}

/** Watts that cross a disc of this radius (mm) from the side it faces; `c`, mm: relative to the place of `near`. */
export function powerThrough(near: Near, c: V3, n: V3, radius: number): number {
  const { count, index } = listCrossing(near, c, n, radius)
  let sum = 0
  for (let k = 0; k < count; k++) sum += near.watts[index[k]!]!
  return sum
}

/** What meets a disc about the place: used again from start to start. */
const closeRoom = makeNearRoom()

/** Directions to begin with: the mean of all that comes near, or the axis along which most of it runs. */
export function startDirection(near: Near, radius: number): V3 | null {
  const close = nearFor(near.count, closeRoom)
  const square = radius * radius
  let count = 0
  let [x, y, z] = [0, 0, 0]
  for (let i = 0; i < near.count; i++) {
    const px = near.x[i]!
    const py = near.y[i]!
    const pz = near.z[i]!
    const dx = near.dx[i]!
    const dy = near.dy[i]!
    const dz = near.dz[i]!
    const away = px * px + py * py + pz * pz
    const along = -(px * dx + py * dy + pz * dz)
    // It meets no disc about the place.
    if (away - UNIT_SLACK * along * along > square) continue
    const watts = near.watts[i]!
    close.x[count] = px
    close.y[count] = py
    close.z[count] = pz
    close.dx[count] = dx
    close.dy[count] = dy
    close.dz[count] = dz
    close.length[count] = near.length[i]!
    close.watts[count] = watts
    count++
    if (away - along * along > square) continue
    x += watts * dx
    y += watts * dy
    z += watts * dz
  }
  close.count = count
  let best: V3 | null = null
  let most = 0
  const length = Math.hypot(x, y, z)
  const tries: V3[] = [
    ...(length > 0 ? [[x / length, y / length, z / length] as V3] : []),
    [1, 0, 0],
    [-1, 0, 0],
    [0, 1, 0],
    [0, -1, 0],
    [0, 0, 1],
    [0, 0, -1],
  ]
  for (const n of tries) {
    const power = powerThrough(close, [0, 0, 0], n, radius)
    if (power > most) [best, most] = [n, power]
  }
  return best
}

/** Scalar product. */
export const dot = (a: V3, b: V3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
