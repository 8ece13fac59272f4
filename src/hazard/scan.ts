// Plane after plane in front of the lamp: where a disc across the axis is hot. Front and foci read the same scan.
import type { TimeSliced } from '../num/scheduler.ts'
import type { RayColumns } from '../run/exits.ts'
import { latticeSpacingMm, makePlaneFinder, type PlaneLight } from './air/planes.ts'
import { type Gathered, gatherRays, type Spot2, takeSample } from './planes.ts'

export interface ScanOptions {
  discMm: number
  /** Rays to search with. */
  lookRays: number
  /** Local maxima under this aren't listed, kW/m²; by default none is. */
  floorKWm2?: number
  /** So many points of the lattice for a ray at the most, for a rough update; 64 across at least. By default as many as the disc wants. */
  pointsPerRay?: number
  /** Distances from plane to plane grow by so much, in place of steps that no focus falls between. */
  ratio?: number
  /** Search so far out; by default 60 m, and 60 radii of the aperture at least. */
  farMm?: number
  /** The rays that say how wide the search goes, where some others run far aside; by default all. */
  about?: RayColumns
  /** Rays that the spread is read off. */
  spreadRays?: number
  /** All light comes from within this ball about the axis: no cone to a place is wider. */
  source?: SourceBall
}

interface SourceBall {
  radiusMm: number
  /** Of its centre behind the columns' plane. */
  behindMm: number
}

interface ScannedPlane extends PlaneLight {
  distanceMm: number
  /** The hottest point of the lattice itself, points of which are so far apart: discs of any size that it is wide enough for have the same. */
  coarse: PlaneLight['top']
  spacingMm: number
}

export interface PlaneScan {
  discMm: number
  spread: Spread
  /** Rays of one half of the batches, side by side in memory. */
  search: Gathered
  planes: ScannedPlane[]
}

/** Radius at the front, mm, and slope. */
interface Spread {
  radiusMm: number
  slope: number
}

type StepOptions = Pick<ScanOptions, 'discMm' | 'ratio' | 'farMm' | 'source'>

/** Search so many aperture radii out, and at least so far. */
const FAR_RADII = 60
const AT_LEAST_MM = 60_000
/** Share of the depth in which a cone grows out of the disc that planes are apart. */
const DEPTH_STEP = 0.6
/** Nor further than this share of the distance: between planes the curve is taken as straight. */
const MOST_GROWTH = 0.1
/** Slanting light crosses a plane over a longer stretch: at 60° its cone is twice as wide in slopes. */
const SLANT = 2
const MOST_ACROSS = 2048
const JUST_IN_FRONT_MM = 1
const SPREAD_RAYS = 4000

/**
 * The hottest disc (kW/m², mm) and the local maxima of each plane, near to far, found with the even batches. No planes without rays.
 * Time-sliced. Our own method, no source.
 */
export function* scanPlanes(rays: RayColumns, options: ScanOptions): TimeSliced<PlaneScan> {
  const spread = readSpread(options.about ?? rays, options.spreadRays ?? SPREAD_RAYS)
  const { search, planes } = yield* lookAt(rays, 0, chooseDistances(spread, options), spread, options)
  return { discMm: options.discMm, spread, search, planes }
}

/** Some planes of a scan once more, by the odd batches, which know nothing of what the even ones have found there. */
export const scanByOdd = (
  rays: RayColumns,
  distancesMm: readonly number[],
  { spread }: PlaneScan,
  options: ScanOptions,
): TimeSliced<Pick<PlaneScan, 'search' | 'planes'>> => lookAt(rays, 1, distancesMm, spread, options)

/** Where on a plane of a scan the hottest disc of another size lies, by the same rays; null: no light within reach. */
export function topOfDisc(
  { search, spread, planes }: PlaneScan,
  distanceMm: number,
  discMm: number,
  { pointsPerRay }: Pick<ScanOptions, 'pointsPerRay'>,
): PlaneLight['top'] {
  const { rays, sample } = search
  const mostAcross = acrossOf(rays, pointsPerRay)
  const reachMm = spread.radiusMm + spread.slope * distanceMm
  const scanned = planes.find((plane) => plane.distanceMm === distanceMm)
  if (scanned?.spacingMm === latticeSpacingMm(discMm, reachMm, mostAcross)) return scanned.coarse
  const find = makePlaneFinder(rays, { discMm, floorKWm2: Infinity, mostAcross, factor: sample.factor })
  return find(distanceMm, reachMm).top
}

const acrossOf = (rays: RayColumns, pointsPerRay: number | undefined): number =>
  pointsPerRay ? Math.max(64, Math.round(Math.sqrt(pointsPerRay * rays.count))) : MOST_ACROSS

function* lookAt(
  rays: RayColumns,
  parity: 0 | 1,
  distancesMm: Iterable<number>,
  spread: Spread,
  { discMm, lookRays, floorKWm2 = Number.POSITIVE_INFINITY, pointsPerRay }: ScanOptions,
): TimeSliced<Pick<PlaneScan, 'search' | 'planes'>> {
  const search = gatherRays(
    rays,
    takeSample(rays, (b) => b % 2 === parity, lookRays),
  )
  const mostAcross = acrossOf(search.rays, pointsPerRay)
  const find = makePlaneFinder(search.rays, { discMm, floorKWm2, mostAcross, factor: search.sample.factor })
  const planes: ScannedPlane[] = []
  for (const distanceMm of distancesMm) {
    yield
    const reachMm = spread.radiusMm + spread.slope * distanceMm
    const { top, maxima } = find(distanceMm, reachMm)
    // Of a lattice coarser than the disc the top is a place as wide as its spacing, far more than what is climbed from it.
    const coarseMm = (2 * reachMm) / (mostAcross - 2)
    const nearer =
      pointsPerRay && top && coarseMm > discMm / 2 ? topWithin(search, distanceMm, top, { discMm, coarseMm }) : null
    const spacingMm = latticeSpacingMm(discMm, reachMm, mostAcross)
    planes.push({ distanceMm, top: nearer ?? top, maxima, coarse: top, spacingMm })
  }
  return { search, planes }
}

/** Crossings of rays near one place, whose slopes are 0: used again from place to place. */
let crossings = makeCrossings(0)

function makeCrossings(count: number) {
  const column = () => new Float32Array(count)
  return { xMm: column(), yMm: column(), watts: column(), still: column() }
}

/** The hottest disc of a plane among the rays that cross it within the spacing of a coarse lattice about one of its points. */
function topWithin(
  { rays, sample }: PlaneScan['search'],
  distanceMm: number,
  about: Spot2,
  { discMm, coarseMm }: { discMm: number; coarseMm: number },
): PlaneLight['top'] {
  if (crossings.xMm.length < rays.count) crossings = makeCrossings(rays.count)
  const { xMm, yMm, slopeX, slopeY, watts } = rays
  const { xMm: atX, yMm: atY } = about
  const near = crossings
  let count = 0
  for (let i = 0; i < rays.count; i++) {
    const x = xMm[i]! + slopeX[i]! * distanceMm - atX
    if (x > coarseMm || x < -coarseMm) continue
    const y = yMm[i]! + slopeY[i]! * distanceMm - atY
    if (y > coarseMm || y < -coarseMm) continue
    near.xMm[count] = x
    near.yMm[count] = y
    near.watts[count] = watts[i]!
    count++
  }
  const columns = { ...rays, ...near, count, slopeX: near.still, slopeY: near.still }
  const options = { discMm, floorKWm2: Number.POSITIVE_INFINITY, mostAcross: MOST_ACROSS, factor: sample.factor }
  // So few are sooner added here than copied into the memory of WebAssembly, where the scan's own rays stay.
  const { top } = makePlaneFinder(columns, options, null)(0, coarseMm)
  return top && { ...top, xMm: top.xMm + atX, yMm: top.yMm + atY }
}

/**
 * Just in front, then steps in which no cone grows out of the disc: a cone to a focus at d is no wider than the aperture over d, nor than
 * the slopes of the rays, nor than what all light comes from. `ratio` given: steps that grow with the distance, for a rough update.
 */
export function* chooseDistances({ radiusMm, slope }: Spread, options: StepOptions): Generator<number> {
  const { discMm, ratio, farMm, source } = options
  yield JUST_IN_FRONT_MM
  const end = farMm ?? Math.max(AT_LEAST_MM, FAR_RADII * radiusMm)
  if (ratio) {
    const first = Math.max(5, radiusMm / 5)
    for (let growth = ratio; first * (growth - 1) < end; growth *= ratio) yield first * (growth - 1)
    return
  }
  const least = Math.max(1e-3, slope)
  const fromSource = (d: number) => (source ? (SLANT * source.radiusMm) / (d + source.behindMm) : least)
  for (let d = JUST_IN_FRONT_MM; d < end; ) {
    const within = (DEPTH_STEP * discMm) / Math.min(least, radiusMm / d, fromSource(d))
    d += Math.min(within, MOST_GROWTH * (d + radiusMm + discMm))
    yield d
  }
}

/** Radius and slope that all but two in a hundred rays keep to, read off `most` of them; 1 mm and 0 without rays. */
export function readSpread(rays: RayColumns, most: number): Spread {
  if (rays.count === 0) return { radiusMm: 1, slope: 0 }
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
