// Rays crossing planes: where they crowd, how strong a disc of them is. Plain columns of numbers; nothing here knows
// a lamp.
import { T95 } from '../num/stats.ts'
import { type RayColumns, sampleSum } from '../run/exits.ts'
import { BATCHES } from '../run/types.ts'

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

/** Copies the sample's rays side by side in memory: for code that walks through them plane after plane. */
export function gatherRays(rays: RayColumns, sample: Sample): { rays: RayColumns; sample: Sample } {
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

/** Where the disc may lie better: up to this share of its radius aside, the last step of the climb, in so many directions. */
const MOST_ASIDE = 1 / 16
const DIRECTIONS = 8
const BESIDE = [MOST_ASIDE / 2, MOST_ASIDE].flatMap((r) =>
  Array.from({ length: DIRECTIONS }, (_, k): [number, number] => {
    const turn = (2 * Math.PI * k) / DIRECTIONS
    return [r * Math.cos(turn), r * Math.sin(turn)]
  }),
)

/**
 * Irradiance of a disc about a place on a plane, kW/m² with its error, and the disc's diameter and rays. The disc
 * grows until it holds `enough` rays (0: it stays), fivefold or to 0.004 rad, so that the far field isn't all noise. The
 * error is at least one ray's watts, and of a disc that hasn't grown ± at 95 % is wider
 * by what the hottest of those up to a sixteenth of its radius aside holds more: where light ends at the rim, how well the disc was placed counts for more than
 * what the batches differ by.
 */
export function measureDisc(
  rays: RayColumns,
  sample: Sample,
  distanceMm: number,
  place: Spot2,
  discMm: number,
  enough: number,
): { kWm2: number; se: number; discMm: number; rays: number } {
  const grown = enough > 0 ? growthFactors(discMm, distanceMm) : [1]
  const reach = grown.map((g) => ((g * discMm) / 2) ** 2)
  const watts = grown.map(() => new Float64Array(BATCHES))
  const count = new Float64Array(grown.length)
  const beside = new Float64Array(BESIDE.length)
  const radius = discMm / 2
  const [well, barely] = [1 - MOST_ASIDE, 1 + MOST_ASIDE].map((r) => (radius * r) ** 2) as [number, number]
  const widest = Math.max(barely, reach.at(-1)!)
  const { xMm, yMm, slopeX, slopeY, batch } = rays
  const { index } = sample
  const [px, py] = [place.xMm, place.yMm]
  for (let k = 0; k < index.length; k++) {
    const i = index[k]!
    const x = xMm[i]! + slopeX[i]! * distanceMm - px
    const across = x * x
    if (across > widest) continue
    const y = yMm[i]! + slopeY[i]! * distanceMm - py
    const square = across + y * y
    if (square > widest) continue
    // Well within it belongs to all of them.
    if (square > well && square <= barely)
      for (const [b, [bx, by]] of BESIDE.entries()) {
        const isIn = (x - radius * bx) ** 2 + (y - radius * by) ** 2 <= radius * radius
        beside[b]! += (Number(isIn) - Number(square <= radius * radius)) * rays.watts[i]!
      }
    for (let g = grown.length - 1; g >= 0 && square <= reach[g]!; g--) {
      watts[g]![batch[i]!]! += rays.watts[i]!
      count[g]!++
    }
  }
  let g = 0
  while (g < grown.length - 1 && count[g]! < enough) g++
  const area = Math.PI * reach[g]!
  const { value, se } = sumSubset(watts[g]!, sample)
  const scale = KW_M2 / area
  // Batches that agree by chance, or are empty, make no figure certain: the error is at least one ray's watts.
  const oneRay = rays.wattsOfOne * sample.factor
  const more = g === 0 ? (Math.max(0, ...beside) * sample.factor) / T95 : 0
  return { kWm2: value * scale, se: (Math.max(se, oneRay) + more) * scale, discMm: grown[g]! * discMm, rays: count[g]! }
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

/**
 * The disc on a plane near a place that the most power crosses: compass search (steps halved from R/2 to R/16) on at most 3000 of the rays
 * near by. Place in mm, watts of the sample, and the cosine of its mean direction to the axis: a disc that faces the light meets 1/cos as
 * much on its area.
 */
export function climbPlane(
  rays: RayColumns,
  distanceMm: number,
  start: Spot2,
  discMm: number,
): Spot2 & { watts: number; cos: number } {
  const near = findNear(rays, distanceMm, start, 1.5 * discMm)
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

/** Numbers of the rays that were found last. */
let found = new Uint32Array(0)

/** Places and watts of the rays near a place on a plane, thinned. */
function findNear(rays: RayColumns, distanceMm: number, at: Spot2, reachMm: number) {
  if (found.length < rays.count) found = new Uint32Array(rays.count)
  const index = found
  const { xMm, yMm, slopeX, slopeY } = rays
  const [px, py] = [at.xMm, at.yMm]
  let all = 0
  for (let i = 0; i < rays.count; i++) {
    const x = xMm[i]! + slopeX[i]! * distanceMm - px
    if (x > reachMm || x < -reachMm) continue
    const y = yMm[i]! + slopeY[i]! * distanceMm - py
    if (y > reachMm || y < -reachMm) continue
    index[all++] = i
  }
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
