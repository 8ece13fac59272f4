// The worst place in front of the lamp: by search on the exit rays, plane after plane, then refined. And how strong the light can be at
// any distance, for clear distances.

import { runToEnd, type TimeSliced } from '../num/scheduler.ts'
import { mean, T95 } from '../num/stats.ts'
import { type RayColumns, rayColumns } from '../run/exits.ts'
import { betweenExtremes } from '../run/extreme.ts'
import type { HotSpot } from '../run/figure.ts'
import { makeSegmentsRoom, type Segments, segmentsOfColumns } from '../run/segments.ts'
import type { Run } from '../run/types.ts'
import { type ClimbOptions, climbDisc, moveToWaist } from './air/climb.ts'
import { type FacingDisc, measureFacing } from './air/disc.ts'
import type { Place } from './air/near.ts'
import { takeHalf } from './air/search.ts'
import { type ClimbedPlace, climbPlanes } from './planeClimb.ts'
import { measureDiscs } from './planeDiscs.ts'
import { type Gathered, gatherRays, KW_M2, type PlanePlace, takeSample, thinRays } from './planes.ts'
import { type PlaneScan, type ScanOptions, scanByOdd, scanPlanes, topOfDisc } from './scan.ts'

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
  /** Rays to search with and to measure with, and all that are used; fewer for a rough update. */
  mostRays?: number
  lookRays?: number
  measureRays?: number
  /** Distances from plane to plane grow by so much, in place of steps that no focus falls between. */
  ratio?: number
  /** So many planes that stand out are refined. */
  refined?: number
  /** The even batches find, the odd ones measure, and not the other way about too. */
  oneHalf?: boolean
  /** A disc climbs on so many of the segments near it. */
  mostNear?: number
  /** Search so far out; by default 60 m, and 60 radii of the aperture at least. */
  farMm?: number
  /** The rays that say how wide the search goes, where some others run far aside; by default all. */
  about?: RayColumns
  /** Planes of these rays that were scanned before. */
  scan?: PlaneScan
}

/**
 * For the first sheet, while a handle is being dragged: the dangers within a few milliseconds and with a wider ±. The
 * full search comes with a later reading.
 */
export const FIRST_SHEET_OPTIONS: Omit<FrontOptions, 'discMm'> = {
  mostRays: 8192,
  lookRays: 2048,
  measureRays: 2048,
  ratio: 1.25,
  refined: 3,
  mostNear: 400,
  oneHalf: true,
}

/** A rough update's lattice is no finer than this many points for a ray. */
const POINTS_PER_RAY = 4
const CLIMB_SEGMENTS = 80_000
const REFINED = 3
const JUST_IN_FRONT_MM = 1
const ENOUGH = 48
/** A beam holds thousands of discs that are nearly alike: of what sets the halves apart this is true. Our choice, by the table in README.md. */
const WAY = 1 / 6
/**
 * The worst place in front of z = frontZMm and the hottest disc by distance (mm): kW/m² over options.discMm with
 * errors. `worst` null and an empty curve where no light leaves.
 * Places are searched with the even batches and measured with the odd ones, so that noise that made a place look hot
 * is not in its figure; with all batches where both halves agree. Discs face the light. Our own method, no source.
 */
export const readFront = (run: Run, frontZMm: number, options: FrontOptions): Front =>
  runToEnd(searchFront(rayColumns(run, frontZMm), options))

/** As readFront, of the rays that cross the front's plane, time-sliced. */
export function* searchFront(all: RayColumns, options: FrontOptions): TimeSliced<Front> {
  const { discMm, lookRays = 16_384, measureRays = 49_152 } = options
  const mostRays = options.mostRays ?? Number.POSITIVE_INFINITY
  const rays = thinRays(all, mostRays)
  if (rays.count === 0) return { worst: null, curve: [] }
  const looked = scanOf(options, lookRays)
  const scan = options.scan ?? (yield* scanPlanes(rays, looked))
  const { search } = scan
  const measure = gatherRays(
    rays,
    takeSample(rays, (b) => b % 2 === 1, measureRays),
  )
  const places = yield* climbPlanes(search.rays, topsOf(scan.planes, discMm))
  const starts = places.map((place) => ({ ...place, kWm2: place.watts * toKWm2(search.sample.factor, discMm) }))
  const atStarts = yield* pointsAt(measure, places, discMm)
  const wider = yield* byWider(scan, measure, atStarts, looked)
  const curve = atStarts.map((there) => hotterOf(there, wider.get(there)))
  const chosen = chooseStarts(starts, atStarts, options.refined ?? REFINED)
  let odd: PlanePlace[] = []
  if (!options.oneHalf) {
    const distances = chosen.map(({ distanceMm }) => distanceMm)
    const byOdd = yield* scanByOdd(rays, distances, scan, looked)
    odd = yield* climbPlanes(byOdd.search.rays, topsOf(byOdd.planes, discMm))
  }
  const worst = yield* refineWorst(all, [chosen, odd], options)
  if (worst) insert(curve, worst, all.zMm)
  return { worst, curve }
}

/** A rough update's lattice and spread follow its few rays. */
const scanOf = ({ discMm, mostRays, ratio, farMm, about }: FrontOptions, lookRays: number): ScanOptions => ({
  discMm,
  lookRays,
  ...(ratio === undefined ? {} : { ratio }),
  ...(farMm === undefined ? {} : { farMm }),
  ...(about === undefined ? {} : { about }),
  ...(mostRays === undefined ? {} : { spreadRays: mostRays / 8, pointsPerRay: POINTS_PER_RAY }),
})

/** Where a disc of so many mm begins to climb, on each plane that has light. */
const topsOf = (planes: PlaneScan['planes'], discMm: number) =>
  planes.flatMap(({ distanceMm, top }) => (top ? [{ ...top, distanceMm, discMm }] : []))

/** At places on planes, over a disc that faces the light and grows from `discMm` until it holds enough rays. */
function* pointsAt(measure: Gathered, places: readonly ClimbedPlace[], discMm: number): TimeSliced<CurvePoint[]> {
  const discs = yield* measureDiscs(measure, places, discMm, ENOUGH)
  return discs.map((there, k) => {
    const { distanceMm = 0, cos = 1 } = places[k] ?? {}
    return { distanceMm, kWm2: there.kWm2 / cos, se: there.se / cos, discMm: there.discMm }
  })
}

/**
 * Where so few rays cross the hottest disc, noise chooses it among many that are nearly alike, at the edge of the light as well as in its
 * middle, and the ± of what is measured there doesn't hold that choice. So the place is searched once more by discs as wide as it had to grow.
 */
function* byWider(
  scan: PlaneScan,
  measure: Gathered,
  points: readonly CurvePoint[],
  options: ScanOptions,
): TimeSliced<Map<CurvePoint, CurvePoint>> {
  const grown: CurvePoint[] = []
  const starts: Parameters<typeof climbPlanes>[1][number][] = []
  for (const there of points) {
    if (there.discMm <= options.discMm) continue
    yield
    const { distanceMm, discMm } = there
    const top = topOfDisc(scan, distanceMm, discMm, options)
    if (!top) continue
    grown.push(there)
    starts.push({ ...top, distanceMm, discMm })
  }
  const places = yield* climbPlanes(scan.search.rays, starts)
  const wider = yield* pointsAt(measure, places, options.discMm)
  return new Map(grown.flatMap((there, k) => (wider[k] ? [[there, wider[k]]] : [])))
}

const hotterOf = (a: CurvePoint, b: CurvePoint | undefined): CurvePoint => (b && upper(b) > upper(a) ? b : a)

const toKWm2 = (factor: number, discMm: number): number => (factor * KW_M2) / (Math.PI * (discMm / 2) ** 2)

interface RankedPlace extends PlanePlace {
  kWm2: number
}

/** The planes that stand out, apart from one another. */
function chooseStarts(starts: readonly RankedPlace[], curve: readonly CurvePoint[], refined: number): RankedPlace[] {
  const rank = starts.map((start, i) => {
    const { kWm2, se } = curve[i] ?? { kWm2: start.kWm2, se: 0 }
    return { start, i, kWm2: Math.min(start.kWm2, kWm2 + 2 * se) }
  })
  rank.sort((a, b) => b.kWm2 - a.kWm2)
  const chosen: typeof rank = []
  for (const one of rank)
    if (chosen.length < refined && chosen.every(({ i }) => Math.abs(i - one.i) > 1)) chosen.push(one)
  return chosen.map(({ start }) => start)
}

/**
 * The planes that stand out, each refined in space. Each half of the batches finds its own hottest disc, from its own places on these planes, and
 * the other half measures it: neither the place nor the choice among planes is hot by the noise that it is measured with. The discs of both are
 * hotter in all batches than they are, since half of those have found them (`betweenExtremes`).
 */
function* refineWorst(
  rays: RayColumns,
  [even, odd]: [readonly PlanePlace[], readonly PlanePlace[]],
  { discMm, mostNear }: FrontOptions,
): TimeSliced<HotSpot | null> {
  const room = rooms.pop() ?? makeRoom()
  const segments = segmentsOfColumns(rays, undefined, room.all)
  const placed = (starts: readonly PlanePlace[]): Place[] =>
    starts.map(({ xMm, yMm, distanceMm }) => ({ xMm, yMm, zMm: rays.zMm + distanceMm }))
  const leastZMm = rays.zMm + JUST_IN_FRONT_MM
  const mayLie = (_x: number, _y: number, z: number) => z >= leastZMm
  const search = { segments, room, discMm, climb: { mayLie, ...(mostNear === undefined ? {} : { mostNear }) } }
  const byEven = yield* findHottest(search, 0, placed(even))
  const byOdd = odd.length > 0 ? yield* findHottest(search, 1, placed(odd)) : null
  if (rays.count <= MOST_KEPT) rooms.push(room)
  if (!byEven) return null
  const unseen = byOdd ? [byEven.odd, byOdd.even] : [byEven.odd]
  const split = {
    value: mean(unseen.map(({ kWm2 }) => kWm2)),
    se: Math.hypot(...unseen.map(({ se }) => se)) / unseen.length,
  }
  const hotter = byOdd && byOdd.all.kWm2 > byEven.all.kWm2 ? byOdd : byEven
  const { value, se } = betweenExtremes(split, Math.max(split.value, hotter.all.kWm2), WAY)
  const { xMm, yMm, zMm } = hotter.disc
  return { xMm, yMm, zMm, kWm2: value, se, discMm }
}

/** Columns for the segments of a search and for those of one half, used again by the next; one for each of searches that take turns. */
const rooms: Room[] = []
const makeRoom = () => ({ all: makeSegmentsRoom(), half: makeSegmentsRoom() })
type Room = ReturnType<typeof makeRoom>
/** Those of more rays are given back to the memory. */
const MOST_KEPT = 1 << 16

interface Search {
  segments: Segments
  room: Room
  discMm: number
  climb: ClimbOptions & Required<Pick<ClimbOptions, 'mayLie'>>
}

type Found = ReturnType<typeof measureFacing> & { disc: FacingDisc }

/** The hottest disc that one half of the batches climbs to from the places, and what every half has there. */
function* findHottest(
  { segments, room, discMm, climb }: Search,
  parity: 0 | 1,
  places: readonly Place[],
): TimeSliced<Found | null> {
  const half = takeHalf(segments, parity, CLIMB_SEGMENTS, room.half)
  const name = parity === 0 ? 'even' : 'odd'
  let hottest: Found | null = null
  for (const place of places) {
    const climbed = climbDisc(half, place, discMm, climb)
    yield
    if (!climbed) continue
    const disc = moveToWaist(half, climbed, discMm, climb.mayLie)
    const found = { disc, ...measureFacing(segments, disc, discMm) }
    if (!hottest || found[name].kWm2 > hottest[name].kWm2) hottest = found
  }
  return hottest
}

function insert(curve: CurvePoint[], worst: HotSpot, frontZMm: number): void {
  const distanceMm = worst.zMm - frontZMm
  const at = curve.findIndex((p) => p.distanceMm > distanceMm)
  curve.splice(at < 0 ? curve.length : at, 0, { distanceMm, kWm2: worst.kWm2, se: worst.se, discMm: worst.discMm })
}

const upper = (p: CurvePoint) => p.kWm2 + T95 * p.se

/**
 * Upper end of ± at 95 %, kW/m², at a distance from the front in mm: straight between two planes, beyond the last
 * 1/d² (inverse-square law), before the first its own. 0 for an empty curve.
 */
export function irradianceAt(front: Front, distanceMm: number): number {
  const { curve } = front
  const last = curve.at(-1)
  if (!last) return 0
  // The worst place may lie on a plane that has a point of its own: the hotter counts.
  const hottestAt = (d: number) => curve.reduce((most, p) => (p.distanceMm === d ? Math.max(most, upper(p)) : most), 0)
  const next = curve.findIndex((p) => p.distanceMm >= distanceMm)
  const there = curve[next]?.distanceMm
  if (there !== undefined && (next === 0 || there === distanceMm)) return hottestAt(there)
  const [a, b] = [curve[next - 1], curve[next]]
  if (!a || !b) return upper(last) * (last.distanceMm / distanceMm) ** 2
  const t = (distanceMm - a.distanceMm) / (b.distanceMm - a.distanceMm)
  return upper(a) + t * (upper(b) - upper(a))
}

/**
 * Distance from the front, mm, beyond which the upper end stays below the threshold (kW/m²); 0 where it is below everywhere. At a
 * threshold of 0, where the air alone is too warm, no distance is clear: as far as was searched.
 */
export function clearDistanceMm(front: Front, thresholdKWm2: number): number {
  const { curve } = front
  const last = curve.findLastIndex((p) => upper(p) >= thresholdKWm2)
  const [here, next] = [curve[last], curve[last + 1]]
  if (!here) return 0
  if (!next) return thresholdKWm2 > 0 ? here.distanceMm * Math.sqrt(upper(here) / thresholdKWm2) : here.distanceMm
  const t = (upper(here) - thresholdKWm2) / (upper(here) - upper(next))
  return here.distanceMm + t * (next.distanceMm - here.distanceMm)
}
