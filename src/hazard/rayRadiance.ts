// The greatest radiance of a source of single rays. Rays are a sample of the light: a part of them is as bright as its share of the watts over its étendue.
import { onceForRays, RAY_AT, RAY_SIZE, raysOf } from '../lamp/rays.ts'
import type { EmitterRays } from '../lamp/schema.ts'
import { waistZMm } from '../library/rayWaist.ts'

/** Rays of a part at the most: by chance it may hold a quarter more or less of them at 95 %. */
const PART_RAYS = 64
/** Below these a part is no finer than the document's numbers: mm, and direction cosines. */
const LEAST_MM = 1e-3
const LEAST_COS = 5e-5
/** Rays that run so level say nothing of a plane. */
const LEAST_DZ = 0.05

/**
 * Greatest radiance of the rays for one watt of all their light, W/m²sr per W, upper end. The rays' places on a plane and their direction cosines
 * span an étendue in which radiance is the density of watts (Liouville): split in halves by rays across its widest side until a part holds 64
 * at the most, and the densest part counts, with its share of the watts and two standard deviations of its number of rays, over the box
 * about its rays. The box is smaller than the part and the densest was chosen among many: the hot side, 1.4 to 2.2 times an even source (measured; tests/hazard). A spot
 * brighter than its surroundings and smaller than a part is taken as the part's mean. Infinity never: a point is as small as the document's numbers.
 */
export const densestPerWatt: (rays: EmitterRays) => number = onceForRays(findDensest)

/** x, y where it crosses z = `z`; direction cosines; weight. */
const WIDTH = 5
const UNITS = [LEAST_MM, LEAST_MM, LEAST_COS, LEAST_COS] as const

/** Of several planes the greatest: in a box whose sides are square to one another light that runs apart looks thinner than it is. */
function findDensest(rays: EmitterRays): number {
  const { fromMm, toMm } = rays
  const rows = raysOf(rays)
  const planes = new Set([waistZMm(rows), fromMm[2], toMm[2]])
  return [...planes].reduce((most, z) => Math.max(most, densestOn(rows, z)), 0)
}

function densestOn(rows: Float32Array, z: number): number {
  const points: number[] = []
  let total = 0
  for (let at = 0; at < rows.length; at += RAY_SIZE) {
    const weight = rows[at + RAY_AT.weight]!
    const [dx, dy, dz] = [rows[at + 3]!, rows[at + 4]!, rows[at + 5]!]
    total += weight
    if (!(weight > 0 && Math.abs(dz) > LEAST_DZ)) continue
    const s = (z - rows[at + 2]!) / dz
    points.push(rows[at]! + s * dx, rows[at + 1]! + s * dy, dx, dy, weight)
  }
  const count = points.length / WIDTH
  if (count === 0) return 0
  const size = spanOf(
    points,
    Int32Array.from({ length: count }, (_, i) => i),
  ).map((span, k) => Math.max(span, UNITS[k]!))
  let most = 0
  const parts = [Int32Array.from({ length: count }, (_, i) => i)]
  for (let part = parts.pop(); part; part = parts.pop()) {
    const spans = spanOf(points, part)
    if (part.length <= PART_RAYS) {
      most = Math.max(most, densityOf(points, part, spans))
      continue
    }
    const axis = spans.reduce((best, span, k) => (span / size[k]! > spans[best]! / size[best]! ? k : best), 0)
    const sorted = part.sort((a, b) => points[a * WIDTH + axis]! - points[b * WIDTH + axis]!)
    const half = sorted.length >> 1
    parts.push(sorted.subarray(0, half), sorted.subarray(half))
  }
  return most / total
}

function spanOf(points: readonly number[], part: Int32Array): number[] {
  return UNITS.map((_, k) => {
    let [from, to] = [Infinity, -Infinity]
    for (const i of part) {
      from = Math.min(from, points[i * WIDTH + k]!)
      to = Math.max(to, points[i * WIDTH + k]!)
    }
    return to - from
  })
}

/** Upper end of weight per m²sr. */
function densityOf(points: readonly number[], part: Int32Array, spans: readonly number[]): number {
  const weight = part.reduce((sum, i) => sum + points[i * WIDTH + 4]!, 0)
  const etendue = spans.reduce((product, span, k) => product * Math.max(span, UNITS[k]!), 1e-6)
  return (weight * (1 + 2 / Math.sqrt(part.length))) / etendue
}
