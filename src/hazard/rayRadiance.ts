// The greatest radiance of a source of single rays. Rays are a sample of the light: a part of them is as bright as its share of the watts over its étendue.
import { eachRay, onceForRays, type RayNumbers, raysOf } from '../lamp/rays.ts'
import type { EmitterRays } from '../lamp/schema.ts'
import { crossingAt, steepRays, waistZMm } from '../library/rayWaist.ts'

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

/** Where a ray crosses a plane, mm, its direction cosines, its weight. */
interface Crossing {
  x: number
  y: number
  dx: number
  dy: number
  weight: number
}

const AXES = ['x', 'y', 'dx', 'dy'] as const
const LEAST = { x: LEAST_MM, y: LEAST_MM, dx: LEAST_COS, dy: LEAST_COS } as const
type Spans = Record<(typeof AXES)[number], number>

/**
 * On the plane where the rays lie closest together: on any other, light that runs apart lies aslant in the boxes, whose sides are square to one another,
 * and looks thinner than it is.
 */
function findDensest(rays: EmitterRays): number {
  const all = [...eachRay(raysOf(rays))]
  const total = all.reduce((sum, { weight }) => sum + weight, 0)
  const lit = all.filter(({ weight, dz }) => weight > 0 && Math.abs(dz) > LEAST_DZ)
  return densestOn(lit, waistZMm(steepRays(all))) / total
}

/** Upper end of weight per m²sr. */
function densestOn(rays: readonly RayNumbers[], z: number): number {
  const points = rays.map((ray): Crossing => ({ ...crossingAt(ray, z), dx: ray.dx, dy: ray.dy, weight: ray.weight }))
  const size = spansOf(points)
  let most = 0
  const parts = [points]
  for (let part = parts.pop(); part; part = parts.pop()) {
    const spans = spansOf(part)
    if (part.length <= PART_RAYS) {
      most = Math.max(most, densityOf(part, spans))
      continue
    }
    const axis = AXES.reduce((best, k) => (spans[k] / size[k] > spans[best] / size[best] ? k : best))
    parts.push(...halves(part, axis))
  }
  return most
}

/** Numbers alone are sorted, not what they belong to: several times as fast. */
function halves(part: Crossing[], axis: (typeof AXES)[number]): [Crossing[], Crossing[]] {
  const half = part.length >> 1
  const middle =
    Float64Array.from(part, (point) => point[axis])
      .sort()
      .at(half) ?? 0
  const lower = part.filter((point) => point[axis] < middle)
  if (2 * lower.length > half) return [lower, part.filter((point) => point[axis] >= middle)]
  // Many share the middle's value.
  const sorted = part.toSorted((a, b) => a[axis] - b[axis])
  return [sorted.slice(0, half), sorted.slice(half)]
}

/** Sides of the box about the points, none smaller than the document's numbers. */
function spansOf(part: readonly Crossing[]): Spans {
  const span = (axis: (typeof AXES)[number]) => {
    let [from, to] = [Infinity, -Infinity]
    for (const point of part) {
      from = Math.min(from, point[axis])
      to = Math.max(to, point[axis])
    }
    return Math.max(LEAST[axis], to - from)
  }
  return { x: span('x'), y: span('y'), dx: span('dx'), dy: span('dy') }
}

function densityOf(part: readonly Crossing[], spans: Spans): number {
  const weight = part.reduce((sum, point) => sum + point.weight, 0)
  if (part.length === 0) return 0
  return (weight * (1 + 2 / Math.sqrt(part.length))) / (1e-6 * spans.x * spans.y * spans.dx * spans.dy)
}
