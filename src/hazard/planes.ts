// Rays crossing planes: where they crowd, how strong a disc of them is. Plain columns of numbers; nothing here knows
// a lamp.
import type { TimeSliced } from '../num/scheduler.ts'
import { type RayColumns, sampleSum } from '../run/exits.ts'
import { BATCHES } from '../run/types.ts'
import { findNear } from './nearPlanes.ts'

/** 1 W/mm² in kW/m². */
export const KW_M2 = 1000

export interface Spot2 {
  xMm: number
  yMm: number
}

/** Rays of some batches, thinned evenly to at most `most`; with the factor that makes their watts stand for the whole. */
export interface Sample {
  index: Uint32Array
  /** Whole over sample, in rays. */
  factor: number
  batches: number
}

/**
 * Indexes of the rays of some batches, thinned evenly to at most `most`, and the factor by which their watts stand
 * for the whole. An empty sample has factor 0.
 */
export function takeSample(rays: RayColumns, which: (batch: number) => boolean, most: number): Sample {
  const chosen = Array.from({ length: BATCHES }, (_, b) => which(b))
  const batches = chosen.filter(Boolean).length
  const selected = new Uint32Array(rays.count)
  let n = 0
  for (let i = 0; i < rays.count; i++) if (chosen[rays.batch[i]!]) selected[n++] = i
  const all = selected.subarray(0, n)
  // Rays are dealt to batches in turn: a stride without a factor in common with their number takes from all alike.
  let stride = Math.max(1, Math.ceil(all.length / most))
  if (stride % 2 === 0) stride++
  const index = new Uint32Array(Math.ceil(all.length / stride))
  for (let k = 0; k < index.length; k++) index[k] = all[k * stride]!
  return { index, factor: index.length > 0 ? (BATCHES / batches) * (all.length / index.length) : 0, batches }
}

/** Rays side by side in memory. */
export interface Gathered {
  rays: RayColumns
  sample: Sample
}

/** Copies the sample's rays side by side in memory: for code that walks through them plane after plane. */
export function gatherRays(rays: RayColumns, sample: Sample): Gathered {
  const { index } = sample
  const column = (from: Float32Array) => {
    const to = new Float32Array(index.length)
    for (let k = 0; k < to.length; k++) to[k] = from[index[k]!]!
    return to
  }
  const batch = new Uint8Array(index.length)
  for (let k = 0; k < batch.length; k++) batch[k] = rays.batch[index[k]!]!
  const count = index.length
  const at = { xMm: column(rays.xMm), yMm: column(rays.yMm) }
  const slopes = { slopeX: column(rays.slopeX), slopeY: column(rays.slopeY) }
  const own = { count, ...at, ...slopes, watts: column(rays.watts), lumens: column(rays.lumens), batch }
  return { rays: { ...rays, ...own }, sample: { ...sample, index: makeIndex(count) } }
}

/** At most so many of the rays, from all batches alike, each worth more W and lm: for a first sheet. */
export function thinRays(rays: RayColumns, most: number): RayColumns {
  if (rays.count <= most) return rays
  const few = gatherRays(
    rays,
    takeSample(rays, () => true, most),
  )
  const { factor } = few.sample
  for (const worth of [few.rays.watts, few.rays.lumens]) for (let k = 0; k < worth.length; k++) worth[k]! *= factor
  return { ...few.rays, wattsOfOne: rays.wattsOfOne * factor }
}

let indexCache = new Uint32Array(0)

/** 0, 1, 2 … */
function makeIndex(count: number): Uint32Array {
  if (indexCache.length < count) indexCache = Uint32Array.from({ length: 2 * count }, (_, k) => k)
  return indexCache.subarray(0, count)
}

const GROWTH = 1.5
/** The disc grows to five times its size, and far out to this angle as seen from the lamp, rad: light is even over it there. */
const MOST_GROWTH = 5
const EVEN_RAD = 0.004

function growthFactors(discMm: number, distanceMm: number): number[] {
  const most = Math.max(MOST_GROWTH, (EVEN_RAD * distanceMm) / discMm)
  const out = [1]
  while (out.at(-1)! < most) out.push(Math.min(most, out.at(-1)! * GROWTH))
  return out
}

/** A place on a plane in front of the columns'. */
export interface PlanePlace extends Spot2 {
  distanceMm: number
}

interface DiscOnPlane {
  kWm2: number
  se: number
  discMm: number
  /** On the disc. */
  rays: number
}

/**
 * Irradiance of a disc about each of the places, kW/m² with its error, and the disc's diameter and rays. The disc
 * grows until it holds `enough` rays (0: it stays), fivefold or to 0.004 rad, so that the far field isn't all noise. The
 * error is at least one ray's watts. Time-sliced.
 */
export function* measureDiscs(
  { rays, sample }: Gathered,
  places: readonly PlanePlace[],
  discMm: number,
  enough: number,
): TimeSliced<DiscOnPlane[]> {
  const discs = places.map((place) => makeGrowingDisc(rays, place, discMm, enough))
  yield* findNear(
    rays,
    discs.map(({ window }) => window),
    (q, near) => discs[q]?.add(near),
  )
  return discs.map((disc) => disc.read(sample))
}

function makeGrowingDisc(
  rays: RayColumns,
  { distanceMm, xMm: px, yMm: py }: PlanePlace,
  discMm: number,
  enough: number,
) {
  const grown = enough > 0 ? growthFactors(discMm, distanceMm) : [1]
  const discs = grown.map((g) => ({
    discMm: g * discMm,
    square: ((g * discMm) / 2) ** 2,
    watts: new Float64Array(BATCHES),
    rays: 0,
  }))
  const fromWidest = discs.toReversed()
  const { xMm, yMm, slopeX, slopeY, batch } = rays
  const reachMm = (Math.max(...grown) * discMm) / 2
  return {
    // A hair wider: what lies on the edge is found whichever way it is rounded.
    window: { distanceMm, xMm: px, yMm: py, reachMm: reachMm * (1 + 1e-12) },
    add(near: Int32Array) {
      for (const i of near) {
        const x = xMm[i]! + slopeX[i]! * distanceMm - px
        const y = yMm[i]! + slopeY[i]! * distanceMm - py
        const square = x * x + y * y
        for (const disc of fromWidest) {
          if (square > disc.square) break
          disc.watts[batch[i]!]! += rays.watts[i]!
          disc.rays++
        }
      }
    },
    read(sample: Sample): DiscOnPlane {
      const disc = discs.find((d) => d.rays >= enough) ?? fromWidest[0]!
      const { value, se } = sumSubset(disc.watts, sample)
      const scale = KW_M2 / (Math.PI * disc.square)
      // Batches that agree by chance, or are empty, make no figure certain: the error is at least one ray's watts.
      const oneRay = rays.wattsOfOne * sample.factor
      return { kWm2: value * scale, se: Math.max(se, oneRay) * scale, discMm: disc.discMm, rays: disc.rays }
    },
  }
}

/** Sum and error of the sample as it stands for the whole: batches that are not in it hold zero and don't count. */
function sumSubset(watts: Float64Array, sample: Sample): { value: number; se: number } {
  if (sample.batches === BATCHES) {
    const { value, se } = sampleSum(watts)
    return { value: value * sample.factor, se: se * sample.factor }
  }
  const n = sample.batches
  const sum = watts.reduce((a, b) => a + b, 0)
  let squares = (BATCHES - n) * -((sum / n) ** 2)
  for (const w of watts) squares += (w - sum / n) ** 2
  return { value: sum * sample.factor, se: Math.sqrt(Math.max(0, (squares * n) / (n - 1))) * sample.factor }
}

/** What the hottest disc near a place has. */
export interface ClimbedPlace extends PlanePlace {
  /** Of the rays that were searched. */
  watts: number
  /** Of their mean direction to the axis. */
  cos: number
}

/** Where a climb begins, and the disc that climbs. */
interface ClimbStart extends PlanePlace {
  discMm: number
}

/**
 * The disc on a plane near each of the places that the most power crosses: compass search (steps halved from R/2 to R/16) on at most 3000 of the
 * rays near by. Place in mm, watts of the rays, and the cosine of their mean direction to the axis: a disc that faces the light meets 1/cos as
 * much on its area. Time-sliced.
 */
export function* climbPlanes(rays: RayColumns, starts: readonly ClimbStart[]): TimeSliced<ClimbedPlace[]> {
  const out: ClimbedPlace[] = []
  // The lists of so many at once are kept.
  for (let first = 0; first < starts.length; first += CLIMBED_AT_ONCE) {
    const some = starts.slice(first, first + CLIMBED_AT_ONCE)
    const seekers = some.map((start) => makeSeeker(rays, start))
    yield* findNear(
      rays,
      seekers.map(({ window }) => window),
      (q, near) => seekers[q]?.add(near),
    )
    for (const { start, read } of seekers) {
      yield
      out.push({ distanceMm: start.distanceMm, ...climb(thinned(rays, start.distanceMm, read()), start) })
    }
  }
  return out
}

const CLIMBED_AT_ONCE = 16

/** Lists the rays that a climb may meet. */
function makeSeeker({ xMm, yMm, slopeX, slopeY }: RayColumns, start: ClimbStart) {
  const { distanceMm, xMm: px, yMm: py, discMm } = start
  const reachMm = 1.5 * discMm
  let numbers = new Int32Array(256)
  let count = 0
  return {
    start,
    window: { distanceMm, xMm: px, yMm: py, reachMm },
    add(near: Int32Array) {
      for (const i of near) {
        if (!(Math.abs(xMm[i]! + slopeX[i]! * distanceMm - px) <= reachMm)) continue
        if (!(Math.abs(yMm[i]! + slopeY[i]! * distanceMm - py) <= reachMm)) continue
        if (count === numbers.length) {
          const more = new Int32Array(2 * count)
          more.set(numbers)
          numbers = more
        }
        numbers[count++] = i
      }
    },
    read: () => numbers.subarray(0, count),
  }
}

function climb(near: NearRays, { discMm, ...start }: ClimbStart): Spot2 & { watts: number; cos: number } {
  const radius = discMm / 2
  const through = (x: number, y: number) => {
    let sum = 0
    for (let k = 0; k < near.count; k++)
      if ((near.x[k]! - x) ** 2 + (near.y[k]! - y) ** 2 <= radius * radius) sum += near.watts[k]!
    return sum
  }
  let [x, y] = [start.xMm, start.yMm]
  let most = through(x, y)
  for (let step = radius / 2; step >= radius / 16; step /= 2) {
    for (let better = true; better; ) {
      better = false
      for (const [dx, dy] of COMPASS) {
        const [tx, ty] = [x + step * dx, y + step * dy]
        if (Math.abs(tx - start.xMm) > discMm || Math.abs(ty - start.yMm) > discMm) continue
        const watts = through(tx, ty)
        if (watts > most * (1 + 1e-6)) [x, y, most, better] = [tx, ty, watts, true]
      }
    }
  }
  return { xMm: x, yMm: y, watts: most, cos: near.cosAbout(x, y, radius) }
}

const COMPASS = [
  [1, 0],
  [-1, 0],
  [0, 1],
  [0, -1],
] as const
const MOST_NEAR = 3000

type NearRays = ReturnType<typeof thinned>

/** Places and watts of some rays on a plane, of at most 3000 of them. */
function thinned(rays: RayColumns, distanceMm: number, index: Int32Array) {
  const all = index.length
  const stride = Math.max(1, Math.ceil(all / MOST_NEAR))
  const count = Math.ceil(all / stride)
  const [x, y, watts] = [new Float64Array(count), new Float64Array(count), new Float64Array(count)]
  for (let k = 0; k < count; k++) {
    const i = index[k * stride]!
    x[k] = rays.xMm[i]! + rays.slopeX[i]! * distanceMm
    y[k] = rays.yMm[i]! + rays.slopeY[i]! * distanceMm
    watts[k] = (rays.watts[i]! * all) / count
  }
  const cosAbout = (px: number, py: number, radius: number) => {
    let [sx, sy, sz] = [0, 0, 0]
    for (let k = 0; k < count; k++) {
      if ((x[k]! - px) ** 2 + (y[k]! - py) ** 2 > radius * radius) continue
      const i = index[k * stride]!
      const length = Math.sqrt(1 + rays.slopeX[i]! ** 2 + rays.slopeY[i]! ** 2)
      sx += (watts[k]! * rays.slopeX[i]!) / length
      sy += (watts[k]! * rays.slopeY[i]!) / length
      sz += watts[k]! / length
    }
    const length = Math.hypot(sx, sy, sz)
    return length > 0 ? Math.max(LEAST_COS, sz / length) : 1
  }
  return { count, x, y, watts, cosAbout }
}

/** Light that runs more along the plane than this is left to the search in space. */
const LEAST_COS = 0.2
