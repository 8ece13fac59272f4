// The field of view out of which most light comes, as an eye sees it. Where the pupil had to be widened, the picture is sharp only
// at the depth that the eye is focused on: what shines may lie where the rays left, beyond it, or at infinity (behind a lens).
import { type CellSums, makeCellSums } from '../num/cellSums.ts'
import type { Place3 } from './eyePlaces.ts'
import type { EyeRays } from './eyeRays.ts'

/** Rays through a pupil about a place. */
export interface Seen {
  index: Uint32Array
  /** Rays in the pupil for each one in the index. */
  factor: number
  pupilMm: number
  /** W weighted for the retina, and the parity of the batch. */
  watts: Float64Array
  half: Uint8Array
  /** Way from where the nearest ray left, mm. */
  nearestMm: number
  /** Directions they come from with the eye focused on a depth, two numbers each. */
  towards(inverseDepth: number): Float64Array
}

/**
 * Depths to focus on, as inverse multiples of the way to where each ray left: there, beyond it up to infinity, before it. Half
 * the step between two blurs a field by a quarter of itself at the most, through a pupil (radius) of up to so many fields at
 * the way to the rays' starts.
 */
const DEPTHS = [
  { upToFields: 0.25, inverse: [1] },
  { upToFields: 0.5, inverse: [1, 0, 2] },
  { upToFields: 1, inverse: [1, 0.5, 0, 1.5, 2] },
  { upToFields: 2, inverse: [1, 0.75, 0.5, 0.25, 0, 1.25, 1.5, 1.75, 2] },
] as const
const WIDEST_FIELDS = 2

/** Rays of an index that pass within `pupilMm` of a place, ready to be seen from there. */
export function seeFrom(rays: EyeRays, index: Uint32Array, place: Place3, pupilMm: number, factor: number): Seen {
  const frame = frameTowards(rays, index)
  const known = new Map<number, Float64Array>()
  let nearestMm = Number.POSITIVE_INFINITY
  for (const i of index) nearestMm = Math.min(nearestMm, wayTo(rays, i, place))
  return {
    ...{ index, factor, pupilMm, nearestMm },
    watts: columnOf(index, new Float64Array(index.length), rays.thermal),
    half: columnOf(index, new Uint8Array(index.length), rays.batch).map((b) => b % 2),
    towards(inverseDepth) {
      const found = known.get(inverseDepth) ?? lookTowards(rays, index, place, inverseDepth, frame)
      known.set(inverseDepth, found)
      return found
    },
  }
}

function columnOf<A extends Float64Array | Uint8Array>(index: Uint32Array, out: A, of: ArrayLike<number>): A {
  for (let k = 0; k < index.length; k++) out[k] = of[index[k]!]!
  return out
}

/** The widest pupil (mm) that keeps a field (rad) sharp enough, with its rays' starts so far away (mm). */
export const sharpPupilMm = (fieldRad: number, nearestMm: number): number => WIDEST_FIELDS * fieldRad * nearestMm

/**
 * The rays in the round field (full angle, rad) that holds most weighted watts: found with the batches of one parity and
 * taken from those of the other, both ways, at the depth where it is fullest. Empty without rays.
 */
export function findFullestField(seen: Seen, fieldRad: number): number[] {
  return ([0, 1] as const).flatMap((half) => raysAbout(seen, fieldRad, findMiddle(seen, fieldRad, half), half))
}

/**
 * As findFullestField, found and taken with all batches: fuller than it is, by the noise that has found it. The hot side, for rays so few that the
 * half of them finds nothing.
 */
export const findOwnFullestField = (seen: Seen, fieldRad: number): number[] =>
  raysAbout(seen, fieldRad, findMiddle(seen, fieldRad, ALL), ALL)

/** In place of the parity of the batches that a field is not found with: none is left out. */
const ALL = 2
type LeftOut = 0 | 1 | typeof ALL

/** Middle of the fullest field and the depth where it is fullest, without the batches of one parity. */
function findMiddle(seen: Seen, fieldRad: number, leftOut: LeftOut): Centre & { depth: number } {
  const inFields = seen.pupilMm / (fieldRad * seen.nearestMm)
  const depths = (DEPTHS.find((d) => inFields <= d.upToFields) ?? DEPTHS[0]).inverse
  let best: Centre & { depth: number } = { x: 0, y: 0, watts: -1, depth: 1 }
  for (const depth of depths) {
    const centre = fullestCell(seen, seen.towards(depth), fieldRad, leftOut)
    if (centre.watts > best.watts) best = { ...centre, depth }
  }
  return { ...moveToLight(seen, seen.towards(best.depth), fieldRad, leftOut, best), depth: best.depth }
}

/** The rays in a field, of the batches of one parity or of all. */
function raysAbout(seen: Seen, fieldRad: number, middle: Centre & { depth: number }, of: LeftOut): number[] {
  const directions = seen.towards(middle.depth)
  const held: number[] = []
  const reach = (fieldRad / 2) ** 2
  for (let k = 0; k < seen.index.length; k++) {
    if (of !== ALL && seen.half[k] !== of) continue
    const square = (directions[2 * k]! - middle.x) ** 2 + (directions[2 * k + 1]! - middle.y) ** 2
    if (square <= reach) held.push(seen.index[k]!)
  }
  return held
}

const wayTo = (rays: EyeRays, i: number, { xMm, yMm, zMm }: Place3): number =>
  (xMm - rays.xMm[i]!) * rays.dx[i]! + (yMm - rays.yMm[i]!) * rays.dy[i]! + (zMm - rays.zMm[i]!) * rays.dz[i]!

type Vector = readonly [number, number, number]
type Frame = readonly [Vector, Vector, Vector]

/** Three axes, the last one the mean direction to look in. */
function frameTowards(rays: EyeRays, index: Uint32Array): Frame {
  let [x, y, z] = [0, 0, 0]
  for (const i of index) {
    x -= rays.dx[i]! * rays.thermal[i]!
    y -= rays.dy[i]! * rays.thermal[i]!
    z -= rays.dz[i]! * rays.thermal[i]!
  }
  const length = Math.hypot(x, y, z)
  const ahead: Vector = length > 0 ? [x / length, y / length, z / length] : [0, 0, -1]
  const up: Vector = Math.abs(ahead[0]) < 0.7 ? [1, 0, 0] : [0, 1, 0]
  const right = unit(cross(up, ahead))
  return [right, cross(ahead, right), ahead]
}

const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]
const unit = ([x, y, z]: Vector): Vector => {
  const length = Math.hypot(x, y, z)
  return [x / length, y / length, z / length]
}

/**
 * Directions that rays come from, two numbers each on a plane where equal areas are equal solid angles (Lambert's azimuthal
 * projection: 2 sin(θ/2) from the middle).
 */
function lookTowards(
  rays: EyeRays,
  index: Uint32Array,
  place: Place3,
  inverse: number,
  [right, up, ahead]: Frame,
): Float64Array {
  const out = new Float64Array(2 * index.length)
  for (let k = 0; k < index.length; k++) {
    const i = index[k]!
    const dx = rays.dx[i]!
    const dy = rays.dy[i]!
    const dz = rays.dz[i]!
    // At `inverse` of the way's depth the offset of the ray from the place counts for that share of its angle.
    const t = wayTo(rays, i, place)
    const x = -dx * t + inverse * (rays.xMm[i]! + dx * t - place.xMm)
    const y = -dy * t + inverse * (rays.yMm[i]! + dy * t - place.yMm)
    const z = -dz * t + inverse * (rays.zMm[i]! + dz * t - place.zMm)
    const length = Math.sqrt(x * x + y * y + z * z)
    const cos = (x * ahead[0] + y * ahead[1] + z * ahead[2]) / length
    const scale = Math.SQRT2 / Math.sqrt(Math.max(1e-9, 1 + cos)) / length
    out[2 * k] = scale * (x * right[0] + y * right[1] + z * right[2])
    out[2 * k + 1] = scale * (x * up[0] + y * up[1] + z * up[2])
  }
  return out
}

interface Centre {
  x: number
  y: number
  watts: number
}

const MOST_CELLS = 1 << 15
let scratch: CellSums | null = null

/** Edge of a square cell of the field's area. */
const cellOf = (fieldRad: number): number => (fieldRad * Math.sqrt(Math.PI)) / 2

/** The cell of the field's area, on two grids half a cell apart, that holds most of the other parity's watts. */
function fullestCell(seen: Seen, directions: Float64Array, fieldRad: number, half: LeftOut): Centre {
  const cell = cellOf(fieldRad)
  scratch ??= makeCellSums(MOST_CELLS)
  const cells = scratch
  let best: Centre = { x: 0, y: 0, watts: -1 }
  for (const shift of [0, 0.5]) {
    cells.clear()
    for (let k = 0; k < seen.index.length; k++) {
      if (seen.half[k] === half) continue
      const c = Math.floor(directions[2 * k]! / cell + shift) + 32_768
      const r = Math.floor(directions[2 * k + 1]! / cell + shift) + 32_768
      cells.add(((c << 16) | (r & 0xffff)) >>> 0, seen.watts[k]!)
    }
    cells.each((key, watts) => {
      if (watts <= best.watts) return
      const along = (index: number) => (index - 32_768 + 0.5 - shift) * cell
      best = { x: along(key >>> 16), y: along(key & 0xffff), watts }
    })
  }
  return best
}

const ROUNDS = 5

/**
 * The round field moved to the mean of its light, up to five times (mean shift: common practice, no source), from the middle of a cell
 * and from the mean of the cell's light, for the field about its middle may miss what shines from a corner; the fullest counts.
 */
function moveToLight(seen: Seen, directions: Float64Array, fieldRad: number, half: LeftOut, from: Centre): Centre {
  const near: number[] = []
  for (let k = 0; k < seen.index.length; k++) {
    const x = directions[2 * k]! - from.x
    const y = directions[2 * k + 1]! - from.y
    if (seen.half[k] !== half && Math.abs(x) < 2 * fieldRad && Math.abs(y) < 2 * fieldRad) near.push(k)
  }
  const meanOf = (isIn: (x: number, y: number) => boolean): Centre => {
    let [w, sx, sy] = [0, 0, 0]
    for (const k of near) {
      const x = directions[2 * k]!
      const y = directions[2 * k + 1]!
      if (!isIn(x, y)) continue
      const watts = seen.watts[k]!
      w += watts
      sx += watts * x
      sy += watts * y
    }
    return { x: sx / w, y: sy / w, watts: w }
  }
  const edge = cellOf(fieldRad) / 2
  let best: Centre = { ...from, watts: -1 }
  for (const start of [from, meanOf((x, y) => Math.abs(x - from.x) <= edge && Math.abs(y - from.y) <= edge)]) {
    let middle = start
    for (let round = 0; round < ROUNDS; round++) {
      const { x, y } = middle
      middle = meanOf((ax, ay) => (ax - x) ** 2 + (ay - y) ** 2 <= (fieldRad / 2) ** 2)
      if (middle.watts > best.watts) best = { x, y, watts: middle.watts }
    }
  }
  return best
}
