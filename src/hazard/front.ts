// The worst place in front of the lamp: by search on the exit rays, plane after plane, then refined. And how strong the light can be at
// any distance, for clear distances.

import { runToEnd, type TimeSliced } from '../num/scheduler.ts'
import { T95 } from '../num/stats.ts'
import { type RayColumns, rayColumns } from '../run/exits.ts'
import type { HotSpot } from '../run/figure.ts'
import type { Run } from '../run/types.ts'
import {
  climbDensity,
  crowdFinder,
  discIrradiance,
  gathered,
  nearby,
  type Sample,
  type Spot2,
  sampleOf,
  thinned,
} from './planes.ts'

export interface CurvePoint {
  /** From the lamp's front. */
  distanceMm: number
  kWm2: number
  se: number
  /** Larger than the wanted disc where that holds too few rays. */
  discMm: number
}

export interface Front {
  /** Null: no light leaves. */
  worst: HotSpot | null
  /** Hottest disc by distance, near to far; the worst place is one of the points. */
  curve: CurvePoint[]
}

export interface FrontOptions {
  discMm: number
  /** Rays to look with and to measure with, and all there are; fewer for a rough update. */
  mostRays?: number
  lookRays?: number
  measureRays?: number
  /** Distances from plane to plane grow by so much. */
  ratio?: number
  /** So many planes that stand out are refined, each by so many steps of golden section. */
  refined?: number
  goldenSteps?: number
}

/** For the hand that drags: the dangers within a few milliseconds and with a wider ±. The search in full comes with the second sheet. */
export const FIRST_LOOK: Omit<FrontOptions, 'discMm'> = {
  mostRays: 8192,
  lookRays: 2048,
  measureRays: 2048,
  ratio: 1.25,
  refined: 2,
  goldenSteps: 5,
}

const RATIO = 1.13
/** Search so many aperture radii out, and at least so far. */
const FAR_RADII = 60
const AT_LEAST_MM = 5000
const JUST_IN_FRONT_MM = 1
const ENOUGH = 16
/** The spread is read off so many rays, or an eighth of a first look's. */
const SPREAD_RAYS = 4000

/**
 * Places are looked for with the even batches and measured with the odd ones: noise that made a place look hot is not in what is
 * measured there. For the worst spot of all, when both agree, all rays measure it.
 */
export const readFront = (run: Run, frontZMm: number, options: FrontOptions): Front =>
  runToEnd(searchFront(run, frontZMm, options))

/** The same in slices. */
export function* searchFront(run: Run, frontZMm: number, options: FrontOptions): TimeSliced<Front> {
  const { discMm, lookRays = 16_384, measureRays = 49_152, ratio = RATIO } = options
  const { refined = 3, goldenSteps = 12 } = options
  const mostRays = options.mostRays ?? Number.POSITIVE_INFINITY
  const rays = thinned(rayColumns(run, frontZMm), mostRays)
  if (rays.count === 0) return { worst: null, curve: [] }
  const spread = spreadOf(rays, Math.min(SPREAD_RAYS, mostRays / 8))
  const look = gathered(
    rays,
    sampleOf(rays, (b) => b % 2 === 0, lookRays),
  )
  const measure = gathered(
    rays,
    sampleOf(rays, (b) => b % 2 === 1, measureRays),
  )
  const find = crowdFinder(look.rays, look.sample, discMm)
  const found: (Spot2 & { distanceMm: number; kWm2: number })[] = []
  const curve: CurvePoint[] = []
  for (const distanceMm of distances(spread.radiusMm, ratio)) {
    yield
    const reach = spread.radiusMm + spread.slope * distanceMm
    const place = find(distanceMm, reach)
    if (!place) continue
    const start = climbDensity(look.rays, look.sample.index, distanceMm, place, discMm)
    found.push({ ...start, distanceMm, kWm2: place.kWm2 })
    const there = discIrradiance(measure.rays, measure.sample, distanceMm, start, discMm, ENOUGH)
    curve.push({ distanceMm, ...asPoint(there) })
  }
  const worst = yield* refineWorst(rays, found, curve, { discMm, refined, goldenSteps })
  if (worst) insert(curve, worst)
  return {
    worst: worst && { ...worst.place, zMm: frontZMm + worst.distanceMm, kWm2: worst.kWm2, se: worst.se, discMm },
    curve,
  }
}

const asPoint = ({ kWm2, se, discMm }: { kWm2: number; se: number; discMm: number }) => ({ kWm2, se, discMm })

/** Just in front, then steps that grow with the distance. */
function* distances(radiusMm: number, ratio: number): Generator<number> {
  yield JUST_IN_FRONT_MM
  const end = Math.max(AT_LEAST_MM, FAR_RADII * radiusMm)
  const first = Math.max(5, radiusMm / 5)
  for (let growth = ratio; first * (growth - 1) < end; growth *= ratio) yield first * (growth - 1)
}

/** Radius and slope that all but two in a hundred rays keep to. */
function spreadOf(rays: RayColumns, most: number): { radiusMm: number; slope: number } {
  const step = Math.max(1, Math.floor(rays.count / most))
  const n = Math.ceil(rays.count / step)
  const radii = new Float64Array(n)
  const slopes = new Float64Array(n)
  for (let k = 0; k < n; k++) {
    const i = k * step
    radii[k] = Math.sqrt(rays.xMm[i]! ** 2 + rays.yMm[i]! ** 2)
    slopes[k] = Math.sqrt(rays.slopeX[i]! ** 2 + rays.slopeY[i]! ** 2)
  }
  const at = (values: Float64Array) => values.sort()[Math.floor(0.98 * (n - 1))]!
  return { radiusMm: Math.max(1, at(radii)), slope: at(slopes) }
}

interface Worst {
  distanceMm: number
  place: Spot2
  kWm2: number
  se: number
}

/** The planes that stand out in either half, each refined between its neighbours; the hottest as measured. */
function* refineWorst(
  rays: RayColumns,
  found: readonly (Spot2 & { distanceMm: number; kWm2: number })[],
  curve: readonly CurvePoint[],
  { discMm, refined, goldenSteps }: { discMm: number; refined: number; goldenSteps: number },
): TimeSliced<Worst | null> {
  if (found.length === 0) return null
  const whole = sampleOf(rays, () => true, Number.POSITIVE_INFINITY)
  const halves = [0, 1].map((parity) => sampleOf(rays, (b) => b % 2 === parity, Number.POSITIVE_INFINITY)) as [
    Sample,
    Sample,
  ]
  const rank = found.map((f, i) => ({ i, kWm2: Math.min(f.kWm2, curve[i]!.kWm2 + 2 * curve[i]!.se) }))
  rank.sort((a, b) => b.kWm2 - a.kWm2)
  const chosen: number[] = []
  for (const { i } of rank) if (chosen.length < refined && chosen.every((c) => Math.abs(c - i) > 1)) chosen.push(i)
  let worst: Worst | null = null
  for (const i of chosen) {
    const from = found[Math.max(0, i - 1)]!.distanceMm
    const to = found[Math.min(found.length - 1, i + 1)]!.distanceMm
    const best = yield* refine(rays, halves[0], found[i]!, { from, to, discMm, goldenSteps })
    yield
    const other = discIrradiance(rays, halves[1], best.distanceMm, best, discMm, 0)
    const own = discIrradiance(rays, halves[0], best.distanceMm, best, discMm, 0)
    const agree = Math.abs(own.kWm2 - other.kWm2) <= 2 * Math.hypot(own.se, other.se)
    const { kWm2, se } = agree ? discIrradiance(rays, whole, best.distanceMm, best, discMm, 0) : other
    if (!worst || kWm2 > worst.kWm2)
      worst = { distanceMm: best.distanceMm, place: { xMm: best.xMm, yMm: best.yMm }, kWm2, se }
  }
  return worst
}

/** Best plane between two others: a scan, then golden section about its best, the disc climbing in each plane. */
function* refine(
  rays: RayColumns,
  half: Sample,
  start: Spot2 & { distanceMm: number },
  { from, to, discMm, goldenSteps }: { from: number; to: number; discMm: number; goldenSteps: number },
): TimeSliced<Spot2 & { distanceMm: number }> {
  const near = gathered(rays, { ...half, index: nearby(rays, half.index, start, from, to, 4 * discMm) })
  let best = { ...start, crowd: 0 }
  const tryAt = (distanceMm: number) => {
    const here = climbDensity(near.rays, near.sample.index, distanceMm, best, discMm)
    if (here.crowd > best.crowd) best = { ...here, distanceMm }
    return here.crowd
  }
  tryAt(start.distanceMm)
  const steps = 8
  for (let k = 0; k <= steps; k++) {
    yield
    tryAt(from + ((to - from) * k) / steps)
  }
  let a = Math.max(from, best.distanceMm - (to - from) / steps)
  let b = Math.min(to, best.distanceMm + (to - from) / steps)
  const golden = (Math.sqrt(5) - 1) / 2
  for (let k = 0; k < goldenSteps; k++) {
    yield
    const [left, right] = [b - golden * (b - a), a + golden * (b - a)]
    if (tryAt(left) >= tryAt(right)) b = right
    else a = left
  }
  return best
}

function insert(curve: CurvePoint[], worst: Worst): void {
  const at = curve.findIndex((p) => p.distanceMm > worst.distanceMm)
  const point = { distanceMm: worst.distanceMm, kWm2: worst.kWm2, se: worst.se, discMm: curve[0]!.discMm }
  curve.splice(at < 0 ? curve.length : at, 0, point)
}

const upper = (p: CurvePoint) => p.kWm2 + T95 * p.se

/** Upper end of ± at 95 % at a distance from the front: between two planes the line between them, beyond the last 1/d². */
export function irradianceAt(front: Front, distanceMm: number): number {
  const { curve } = front
  if (curve.length === 0) return 0
  const next = curve.findIndex((p) => p.distanceMm >= distanceMm)
  if (next === 0) return upper(curve[0]!)
  if (next < 0) return upper(curve.at(-1)!) * (curve.at(-1)!.distanceMm / distanceMm) ** 2
  const [a, b] = [curve[next - 1]!, curve[next]!]
  const t = (distanceMm - a.distanceMm) / (b.distanceMm - a.distanceMm)
  return upper(a) + t * (upper(b) - upper(a))
}

/** Distance from the front beyond which the upper end stays below the threshold; 0 where it is below everywhere. */
export function clearDistanceMm(front: Front, thresholdKWm2: number): number {
  const { curve } = front
  for (let i = curve.length - 1; i >= 0; i--) {
    const here = curve[i]!
    if (upper(here) < thresholdKWm2) continue
    const next = curve[i + 1]
    if (!next) return here.distanceMm * Math.sqrt(upper(here) / thresholdKWm2)
    const t = (upper(here) - thresholdKWm2) / (upper(here) - upper(next))
    return here.distanceMm + t * (next.distanceMm - here.distanceMm)
  }
  return 0
}
