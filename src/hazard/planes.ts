// Rays crossing planes: where they crowd, how strong a disc of them is. Plain columns of numbers; nothing here knows
// a lamp.
import { type RayColumns, sampleSum } from '../run/exits.ts'
import { BATCHES } from '../run/types.ts'

/** 1 W/mm² in kW/m². */
export const KW_M2 = 1000

export interface Spot2 {
  xMm: number
  yMm: number
}

/** Which rays count at a plane; absent: all. Sunlight that has reached the wall doesn't count beyond it. */
export type Passing = (ray: number, xMm: number, yMm: number, distanceMm: number) => boolean

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
  if (stride > 1 && stride % 2 === 0) stride++
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

const GRID_MOST = 256
/** Finer cells than this many for a ray would only show where single rays went. */
const CELLS_PER_RAY = 4

type FindCrowd = (distanceMm: number, reachMm: number) => (Spot2 & { kWm2: number }) | null

/**
 * Returns a search: the place (mm) on a plane at a distance, within a reach (mm), where most watts fall into a square
 * of the disc's area (or of two cells of the grid, where the reach is wide), and its kW/m²; null without light.
 */
export function makeCrowdFinder(rays: RayColumns, sample: Sample, discMm: number, passes?: Passing): FindCrowd {
  const finest = Math.min(GRID_MOST, Math.max(64, Math.round(Math.sqrt(CELLS_PER_RAY * sample.index.length))))
  const grid = new Float32Array(finest * finest)
  return (distanceMm, reachMm) => {
    const cell = Math.max((discMm * Math.sqrt(Math.PI)) / 4, (2 * reachMm) / finest)
    const n = Math.min(finest, Math.max(2, Math.ceil((2 * reachMm) / cell)))
    const half = (n * cell) / 2
    grid.fill(0, 0, n * n)
    for (let k = 0; k < sample.index.length; k++) {
      const i = sample.index[k]!
      const x = rays.xMm[i]! + rays.slopeX[i]! * distanceMm
      const y = rays.yMm[i]! + rays.slopeY[i]! * distanceMm
      if (!(Math.abs(x) < half && Math.abs(y) < half)) continue
      if (passes && !passes(i, x, y, distanceMm)) continue
      grid[Math.floor((y + half) / cell) * n + Math.floor((x + half) / cell)]! += rays.watts[i]!
    }
    const { most, at } = findFullestBlock(grid, n)
    if (at < 0) return null
    return {
      xMm: ((at % n) + 1) * cell - half,
      yMm: (Math.floor(at / n) + 1) * cell - half,
      kWm2: (most * sample.factor * KW_M2) / (4 * cell * cell),
    }
  }
}

/** Of two by two cells. */
function findFullestBlock(grid: Float32Array, n: number): { most: number; at: number } {
  let most = 0
  let at = -1
  for (let r = 0; r < n - 1; r++) {
    for (let c = 0; c < n - 1; c++) {
      const k = r * n + c
      const block = grid[k]! + grid[k + 1]! + grid[k + n]! + grid[k + n + 1]!
      if (block > most) [most, at] = [block, k]
    }
  }
  return { most, at }
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

/**
 * Irradiance of a disc about a place on a plane, kW/m² with its error, and the disc's diameter and rays. The disc
 * grows until it holds `enough` rays (0: it stays), fivefold or to 0.004 rad, so that the far field isn't all noise. The
 * error is at least one ray's watts.
 */
export function measureDisc(
  rays: RayColumns,
  sample: Sample,
  distanceMm: number,
  place: Spot2,
  discMm: number,
  enough: number,
  passes?: Passing,
): { kWm2: number; se: number; discMm: number; rays: number } {
  const grown = enough > 0 ? growthFactors(discMm, distanceMm) : [1]
  const reach = grown.map((g) => ((g * discMm) / 2) ** 2)
  const widest = reach.at(-1)!
  const watts = grown.map(() => new Float64Array(BATCHES))
  const count = new Float64Array(grown.length)
  for (let k = 0; k < sample.index.length; k++) {
    const i = sample.index[k]!
    const x = rays.xMm[i]! + rays.slopeX[i]! * distanceMm
    const across = (x - place.xMm) ** 2
    if (across > widest) continue
    const y = rays.yMm[i]! + rays.slopeY[i]! * distanceMm
    const square = across + (y - place.yMm) ** 2
    if (square > widest || (passes && !passes(i, x, y, distanceMm))) continue
    for (let g = grown.length - 1; g >= 0 && square <= reach[g]!; g--) {
      watts[g]![rays.batch[i]!]! += rays.watts[i]!
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
  return { kWm2: value * scale, se: Math.max(se, oneRay) * scale, discMm: grown[g]! * discMm, rays: count[g]! }
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
 * Moves a disc to where its rays lie, up to eight times: the mean of a flat disc climbs the density under it (mean
 * shift: common practice, no source). Place in mm; `crowd`: W under the disc, weighted towards its middle.
 */
export function climbDensity(
  rays: RayColumns,
  index: Uint32Array,
  distanceMm: number,
  start: Spot2,
  discMm: number,
  passes?: Passing,
): Spot2 & { crowd: number } {
  const local = findCrossings(rays, index, distanceMm, start, 1.5 * discMm, passes)
  let { xMm, yMm } = start
  let crowd = 0
  const reach = (discMm / 2) ** 2
  for (let round = 0; round < 8; round++) {
    let [w, sx, sy] = [0, 0, 0]
    crowd = 0
    for (let k = 0; k < local.length; k += 3) {
      const x = local[k]!
      const y = local[k + 1]!
      const square = (x - xMm) ** 2 + (y - yMm) ** 2
      if (square > reach) continue
      const watts = local[k + 2]!
      w += watts
      sx += watts * x
      sy += watts * y
      // Weighted towards the middle, so that among planes that hold all of a spot the tightest wins.
      crowd += watts * (1 - (0.5 * square) / reach)
    }
    if (w <= 0) break
    const [dx, dy] = [sx / w - xMm, sy / w - yMm]
    xMm += dx
    yMm += dy
    if (dx * dx + dy * dy < (0.01 * discMm) ** 2) break
  }
  return { xMm, yMm, crowd }
}

/** x, y, watts of the rays near a place at a plane. */
function findCrossings(
  rays: RayColumns,
  index: Uint32Array,
  distanceMm: number,
  at: Spot2,
  reachMm: number,
  passes?: Passing,
): number[] {
  const found: number[] = []
  for (let k = 0; k < index.length; k++) {
    const i = index[k]!
    const x = rays.xMm[i]! + rays.slopeX[i]! * distanceMm
    if (x - at.xMm > reachMm || at.xMm - x > reachMm) continue
    const y = rays.yMm[i]! + rays.slopeY[i]! * distanceMm
    if (y - at.yMm > reachMm || at.yMm - y > reachMm) continue
    if (!passes || passes(i, x, y, distanceMm)) found.push(x, y, rays.watts[i]!)
  }
  return found
}

let scratch = new Uint32Array(0)

/**
 * Indexes of the rays that come within `reachMm` of a place somewhere between two planes (distances in mm), the place
 * taken as the same on all of them.
 */
export function selectNearby(
  rays: RayColumns,
  index: Uint32Array,
  at: Spot2,
  from: number,
  to: number,
  reachMm: number,
): Uint32Array {
  if (scratch.length < index.length) scratch = new Uint32Array(index.length)
  let n = 0
  for (let k = 0; k < index.length; k++) {
    const i = index[k]!
    const sx = rays.slopeX[i]!
    const sy = rays.slopeY[i]!
    const x = rays.xMm[i]! - at.xMm
    const y = rays.yMm[i]! - at.yMm
    const square = sx * sx + sy * sy
    const nearest = square > 0 ? Math.min(to, Math.max(from, -(x * sx + y * sy) / square)) : from
    if ((x + sx * nearest) ** 2 + (y + sy * nearest) ** 2 < reachMm * reachMm) scratch[n++] = i
  }
  return scratch.slice(0, n)
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

/** Places and watts of the rays near a place on a plane, thinned. */
function findNear(rays: RayColumns, distanceMm: number, at: Spot2, reachMm: number) {
  const index: number[] = []
  for (let i = 0; i < rays.count; i++) {
    const x = rays.xMm[i]! + rays.slopeX[i]! * distanceMm - at.xMm
    if (x > reachMm || x < -reachMm) continue
    const y = rays.yMm[i]! + rays.slopeY[i]! * distanceMm - at.yMm
    if (y > reachMm || y < -reachMm) continue
    index.push(i)
  }
  const stride = Math.max(1, Math.ceil(index.length / MOST_NEAR))
  const count = Math.ceil(index.length / stride)
  const [x, y, watts] = [new Float64Array(count), new Float64Array(count), new Float64Array(count)]
  for (let k = 0; k < count; k++) {
    const i = index[k * stride]!
    x[k] = rays.xMm[i]! + rays.slopeX[i]! * distanceMm
    y[k] = rays.yMm[i]! + rays.slopeY[i]! * distanceMm
    watts[k] = (rays.watts[i]! * index.length) / count
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
