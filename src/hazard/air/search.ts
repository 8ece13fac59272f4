// The hottest places in the air: dense points of a sparse grid, each refined to the disc that the most power crosses, found with one half
// of the batches and measured with the other.
import { makeSampler } from '../../num/rng.ts'
import type { TimeSliced } from '../../num/scheduler.ts'
import { T95 } from '../../num/stats.ts'
import type { HotSpot } from '../../run/figure.ts'
import { type Segments, type SegmentsRoom, selectSegments } from '../../run/segments.ts'
import { climbDisc, moveToWaist } from './climb.ts'
import { type DiscReading, type FacingDisc, measureFacing } from './disc.ts'
import { findDensePoints, part } from './grid.ts'
import { AIR_ZONES, type AirZone } from './zones.ts'

/** The irradiance at the hottest place near by over a disc of another size. */
export interface DiscValue {
  discMm: number
  kWm2: number
  se: number
}

/** A hot place in the air; its disc faces the light. */
export interface AirPlace extends HotSpot, FacingDisc {
  zone: AirZone
  /** Root mean square angle of the light there to its mean direction, rad. */
  spreadRad: number
}

export interface AirOptions {
  discMm: number
  floorKWm2: number
  /** Of a zone, where it is more than floorKWm2. */
  floorOf?: (zone: AirZone) => number
  zoneOf: (xMm: number, yMm: number, zMm: number) => number
  /** So many segments of each half are searched on the grid; all are used to measure. */
  searchSegments?: number
  /** So many places a zone. */
  most?: number
  /** Hears of what the search left out in a zone. */
  onLeftOut?: OnLeftOut
}

/** That the search of a zone was coarser than the disc, and the most that a place it left out can have, kW/m². */
export type OnLeftOut = (zone: AirZone, upToKWm2: number) => void

/** Places at least this share of the hottest in their zone are refined: a coarse place may hold more once the disc lies well. */
const SHARE = 0.45
const MOST = 8
/** Share of the floor that a point of the grid must hold: light under it is most of what there is. */
const GRID_FLOOR = 0.7
const SEARCH_SEGMENTS = 80_000
/** Places nearer to one another than this many discs are one. */
const PART_DISCS = 1.5

/** Segments of every other batch from `parity`, thinned at random to about `most`; their watts then stand for all. They are written into `into` where that is given. */
export function takeHalf(segments: Segments, parity: 0 | 1, most: number, into?: SegmentsRoom): Segments {
  const { count, batch } = segments
  let own = 0
  for (let i = 0; i < count; i++) if (batch[i]! % 2 === parity) own++
  // At random, not every so many: the segments of a ray follow one another.
  const chosen = makeSampler(Math.min(1, most / Math.max(1, own)))
  const all = own <= most
  const half = selectSegments(segments, (i) => batch[i]! % 2 === parity && (all || chosen(i)), into)
  const scale = half.count > 0 ? (2 * own) / half.count : 0
  for (let i = 0; i < half.count; i++) half.watts[i] = half.watts[i]! * scale
  return { ...half, wattsOfOne: segments.wattsOfOne * scale }
}

/**
 * The hottest places of each zone, hottest first by the upper end of ±: kW/m² over a disc that faces the light, error, place and direction
 * (lamp frame, mm). `segments` have finite lengths. Empty without light or where all is under the floor. Time-sliced.
 */
export function* searchAir(segments: Segments, options: AirOptions): TimeSliced<AirPlace[]> {
  const { discMm, floorKWm2, floorOf, zoneOf, searchSegments = SEARCH_SEGMENTS, most = MOST, onLeftOut } = options
  const floors = AIR_ZONES.map((zone) => floorOf?.(zone) ?? floorKWm2)
  const half = takeHalf(segments, 0, searchSegments)
  const partMm = PART_DISCS * discMm
  const dense = findDensePoints(half, {
    discMm,
    floorKWm2: GRID_FLOOR * Math.min(...floors),
    floorOf: (zone) => GRID_FLOOR * floors[zone]!,
    share: SHARE,
    zoneOf,
    zones: AIR_ZONES.length,
    most,
    partMm: discMm / 2,
    ...(onLeftOut && { onLeftOut: (zone, upToKWm2) => onLeftOut(AIR_ZONES[zone]!, upToKWm2) }),
  })
  yield
  const out: AirPlace[] = []
  for (const point of dense) {
    if (out.some((p) => isWithin(p, point, discMm / 2))) continue
    const mayLie = (x: number, y: number, z: number) => zoneOf(x, y, z) === point.zone
    const climbed = climbDisc(half, point, discMm, { mayLie })
    yield
    const disc = climbed && moveToWaist(half, climbed, discMm, mayLie)
    if (!disc || out.some((p) => isWithin(p, disc, discMm / 4))) continue
    const { kWm2, se } = measureUnseen(segments, disc, discMm)
    if (kWm2 + T95 * se < floors[point.zone]!) continue
    const { spread, ...place } = disc
    out.push({ ...place, kWm2, se, discMm, zone: AIR_ZONES[point.zone]!, spreadRad: spread })
  }
  return AIR_ZONES.flatMap((zone) =>
    part(
      out.filter((p) => p.zone === zone),
      most,
      partMm,
    ),
  )
}

type Point = Pick<FacingDisc, 'xMm' | 'yMm' | 'zMm'>

const isWithin = (a: Point, b: Point, mm: number): boolean =>
  Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm, a.zMm - b.zMm) < mm

/**
 * Measured with the batches that did not find it; with all where both halves agree within two standard errors of their difference.
 */
export function measureUnseen(segments: Segments, disc: FacingDisc, discMm: number, foundBy: 0 | 1 = 0): DiscReading {
  const { all, even, odd } = measureFacing(segments, disc, discMm)
  const unseen = foundBy === 0 ? odd : even
  return Math.abs(even.kWm2 - odd.kWm2) <= 2 * Math.hypot(even.se, odd.se) ? all : unseen
}

/** Discs that harm is judged by, mm: a retina-sized spot, the thermal aperture of skin, the pupil. */
const DISC_SIZES_MM = [1, 3.5, 7] as const

/**
 * The irradiance over smaller discs at a place: each the hottest near where the larger one lies, from the largest down; the place's own
 * disc last. Each half of the batches finds its own, measured with the other unless both agree; of the two the one of the higher upper end counts, since a
 * small disc holds few rays.
 */
export function readByDisc(segments: Segments, place: HotSpot): DiscValue[] {
  const own = { discMm: place.discMm, kWm2: place.kWm2, se: place.se }
  const byEven = smallerDiscs(segments, place, 0)
  const byOdd = smallerDiscs(segments, place, 1)
  const hotter = byEven.map((even, k) => {
    const odd = byOdd[k]
    return odd && odd.kWm2 + T95 * odd.se > even.kWm2 + T95 * even.se ? odd : even
  })
  return [...hotter, own]
}

/** Smallest first. */
function smallerDiscs(segments: Segments, place: HotSpot, foundBy: 0 | 1): DiscValue[] {
  const half = takeHalf(segments, foundBy, SEARCH_SEGMENTS)
  let at: Point = place
  return DISC_SIZES_MM.filter((discMm) => discMm < place.discMm)
    .toReversed()
    .map((discMm) => {
      const disc = climbDisc(half, at, discMm)
      if (!disc) return { discMm, kWm2: 0, se: 0 }
      at = disc
      return { discMm, ...measureUnseen(segments, disc, discMm, foundBy) }
    })
    .toReversed()
}
