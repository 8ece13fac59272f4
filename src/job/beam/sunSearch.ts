// The sun from every side: a grid of tilts and azimuths with few rays, then the worst tilt and azimuth of each zone by search, with more. Where many
// azimuths have to be traced the grid takes fewer rays still, and what is strong in it is read once more.

import { recycleRun } from '../../engine/partialTallies.ts'
import { type RecordedRun, traceRecorded } from '../../engine/segments.ts'
import type { Pool } from '../../engine/workers/pool.ts'
import { type AirOptions, type OnLeftOut, readByDisc, searchAir } from '../../hazard/air/search.ts'
import { type AirZone, makeZoneOf, searchedBall } from '../../hazard/air/zones.ts'
import { upperKWm2 } from '../../hazard/discs.ts'
import { findWorstSun, readSunSpots, type SunPlace } from '../../hazard/sun.ts'
import { chooseSunAzimuths, mirrorOf, type SunMapPoint, symmetryOf, turnSpots } from '../../hazard/sunMap.ts'
import { elementsOf } from '../../lamp/assembly.ts'
import { bareMouthShare } from '../../lamp/mouth.ts'
import { placeEmitters } from '../../lamp/place.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Scheduler } from '../../num/scheduler.ts'
import { clipToBall, type Segments } from '../../run/segments.ts'
import type { TallyShape } from '../../run/types.ts'
import { compile, compileSun } from '../../scene/compile.ts'
import type { Scene } from '../../scene/scene.ts'
import { chooseShape } from './pilot.ts'
import {
  type Ball,
  canCompare,
  climbDirections,
  type Direction,
  distinct,
  edgeTiltsDeg,
  hottestIn,
  isIn,
  type Seen,
  strongestIn,
  strongOf,
} from './sunDirections.ts'

const SUN_TILTS_DEG = [0, 1, 2, 3, 5, 7, 10, 15, 20, 30, 45, 60, 75] as const

export interface SunSearchOptions {
  seed: number
  tiltsDeg?: readonly number[] | undefined
  /** Rays of sunlight for each direction of the grid; the search uses as many, the last reading eight times, or four where
   * nothing stands out of chance. */
  rays?: number | undefined
  /** Zones whose worst direction is searched for; the others take the strongest of the grid. By default all. */
  searched?: readonly AirZone[] | undefined
  /** Inside the lamp only: light is not followed beyond it, and only that zone is read. */
  insideOnly?: boolean
  onLeftOut?: OnLeftOut
}

export interface SunSearch {
  /** The worst spot of each direction of the grid and of those that the search ended on, by tilt, then azimuth. */
  points: SunMapPoint[]
  /** The worst place of each zone where any is over the floor. */
  worst: SunPlace[]
}

const RAYS = 1 << 14
/** Under this, sunlight is hardly stronger than it is without the lamp, kW/m². */
const FLOOR_KW_M2 = 2
/** Beside the lamp light is followed so far (physics.md, section 9). */
const AROUND_MM = 1000
const FEW = { searchSegments: 24_000, most: 3 }
/** From more azimuths on the grid is read by so much coarser. */
const FEW_AZIMUTHS = 2
const COARSER = 4
const FEWER = { searchSegments: 8000, most: 3 }
/** Where nothing stands out of chance. */
const SOME = { searchSegments: 40_000, most: 4 }
const INSIDE = 1
/** Inside first: on the way light is found that leaves by a gap. */
const SEARCHED: readonly AirZone[] = ['inside', 'outside', 'front']

/**
 * Sunlight of lamp.reading.sunWm2 from every side, and the worst of it by zone. Throws `Cancelled`. `onShare` hears how far it is, 0 to 1.
 * `scene` is the lamp's own, compiled; `shape` any of its shapes.
 */
export async function searchSuns(
  pool: Pool,
  of: SunScene,
  options: SunSearchOptions,
  scheduler: Scheduler,
  onShare: (share: number) => void = () => {},
): Promise<SunSearch> {
  const past = pastElements(of)
  const part = past ? 0.5 : 1
  const through = await searchOpening(pool, of, options, scheduler, (share) => onShare(part * share))
  if (!past) return through
  return hotterOf(through, await searchOpening(pool, past, options, scheduler, (share) => onShare(part * (1 + share))))
}

/** Where lenses, covers and films leave some of the tunnel's mouth bare: the sun into all of the mouth, without them (the hot side). */
function pastElements({ lamp }: SunScene): SunScene | null {
  const pieces = elementsOf(lamp)
  if (pieces.length === 0 || !lamp.tunnel || bareMouthShare(pieces, lamp.tunnel) === 0) return null
  const { elements: _, ...rest } = lamp
  const open: Lamp = { ...rest, lens: null }
  // What the emitters give has no say in the sun's light.
  const scene = compile(open, { fluxLm: new Float64Array(placeEmitters(lamp).length).fill(1) })
  return { lamp, scene, shape: chooseShape(scene, open), open }
}

/** Of each direction the hotter spot, of each zone the hotter place. */
function hotterOf(a: SunSearch, b: SunSearch): SunSearch {
  const points = new Map<string, SunMapPoint>()
  for (const point of [...a.points, ...b.points]) {
    const key = `${point.tiltDeg} ${point.azimuthDeg}`
    const known = points.get(key)
    if (!known || upperKWm2(point) > upperKWm2(known)) points.set(key, point)
  }
  const worst = SEARCHED.flatMap((zone) => {
    const places = [...a.worst, ...b.worst].filter((p) => p.zone === zone)
    return places.length > 0 ? [places.reduce((x, y) => (upperKWm2(y) > upperKWm2(x) ? y : x))] : []
  })
  return { points: [...points.values()].sort(byDirection), worst }
}

const byDirection = (a: Direction, b: Direction): number => a.tiltDeg - b.tiltDeg || a.azimuthDeg - b.azimuthDeg

async function searchOpening(
  pool: Pool,
  of: SunScene,
  options: SunSearchOptions,
  scheduler: Scheduler,
  onShare: (share: number) => void,
): Promise<SunSearch> {
  const { lamp } = of
  const { searched = SEARCHED, insideOnly = false } = options
  const zones: readonly AirZone[] = insideOnly ? ['inside'] : SEARCHED
  const tilts = distinct([...(options.tiltsDeg ?? [...SUN_TILTS_DEG, ...edgeTiltsDeg(lamp)]), lamp.reading.sunTiltDeg])
  const mirrorDeg = mirrorOf(lamp)
  const { traced, turns } = chooseSunAzimuths(symmetryOf(lamp), mirrorDeg)
  const reader = makeReader(pool, { ...of, shape: withoutMaps(of.shape) }, options, scheduler)

  const grid = tilts.flatMap((tiltDeg) => (tiltDeg === 0 ? [0] : traced).map((azimuthDeg) => ({ tiltDeg, azimuthDeg })))
  const readAll = async (
    list: readonly Direction[],
    times: number,
    more: Partial<AirOptions>,
    from: number,
    to: number,
  ) => {
    let next = list.length > 0 ? reader.record(list[0]!, times) : null
    for (const [k, at] of list.entries()) {
      await scheduler.checkpoint()
      const recorded = await next!
      // The pool traces the next direction while this one is searched.
      next = k + 1 < list.length ? reader.record(list[k + 1]!, times) : null
      next?.catch(() => {}) // awaited in the next turn; a cancellation may come first
      await reader.read(at, recorded, more)
      onShare(from + ((to - from) * (k + 1)) / list.length)
    }
  }
  if (traced.length > FEW_AZIMUTHS) {
    await readAll(grid, 1 / COARSER, FEWER, 0, 0.3)
    const strong = strongOf(reader.seen, zones)
    reader.forget(strong)
    await readAll(strong, 1, FEW, 0.3, 0.6)
  } else await readAll(grid, 1, FEW, 0, 0.6)
  const points: SunMapPoint[] = []
  const show = ({ spots, azimuthDeg }: Seen) =>
    points.push(...turnSpots(findWorstSun(spots), lamp, azimuthDeg, turns, mirrorDeg))
  reader.seen.forEach(show)

  const worst: SunPlace[] = []
  const azimuthStepDeg = traced.length > 1 ? 15 : 0
  const readAt = async (at: Direction, near?: Ball) => reader.read(at, await reader.record(at, 1), FEW, near)
  for (const [k, zone] of zones.entries()) {
    const isSearched = searched.includes(zone)
    const climbs = isSearched && canCompare(zone, reader.seen)
    const top = climbs
      ? await climbDirections(zone, reader.seen, azimuthStepDeg, { readAt, scheduler })
      : strongestIn(zone, reader.seen)
    if (top) {
      const read = await reader.read(
        top,
        await reader.record(top, climbs ? 8 : isSearched ? 4 : 2),
        climbs ? { most: 4 } : isSearched ? SOME : FEW,
      )
      if (!isIn(grid, top)) show(read)
      const place = hottestIn(zone, read.places)
      const { tiltDeg, azimuthDeg } = top
      if (place) worst.push({ ...place, tiltDeg, azimuthDeg, byDisc: readByDisc(read.segments, place) })
    }
    onShare(0.6 + (0.4 * (k + 1)) / zones.length)
  }
  points.sort(byDirection)
  return { points, worst }
}

/** The lamp under the sun, its own scene, and any of its shapes. */
interface SunScene {
  lamp: Lamp
  scene: Scene
  shape: TallyShape
  /** The lamp as the sun's light meets it, where that isn't all of it: `scene` is then of this one. */
  open?: Lamp
}

/** The sun is read on face and wall and in the air. */
const withoutMaps = ({ elements: _, ...shape }: TallyShape): TallyShape => ({
  ...shape,
  ...{ windowN: 1, sphereGamma: 1, sphereC: 1, lens: null },
  target: { ...shape.target, n: 1 },
})

interface Read extends Seen {
  segments: Segments
}

/** Traces and reads directions of the sun; `seen`: all that were read so far. */
function makeReader(
  pool: Pool,
  { lamp, scene, shape, open = lamp }: SunScene,
  { seed, rays = RAYS, insideOnly = false, onLeftOut }: SunSearchOptions,
  scheduler: Scheduler,
) {
  const region = searchedBall(lamp, insideOnly ? 0 : AROUND_MM)
  const zoneOf = makeZoneOf(lamp)
  const air: AirOptions = {
    discMm: lamp.reading.hotDiscMm,
    floorKWm2: FLOOR_KW_M2,
    zoneOf: insideOnly ? (x, y, z) => (zoneOf(x, y, z) === INSIDE ? INSIDE : -1) : zoneOf,
    ...(onLeftOut && { onLeftOut }),
  }
  const seen: Seen[] = []
  return {
    seen,
    /** They are read again. */
    forget(directions: readonly Direction[]) {
      for (let i = seen.length - 1; i >= 0; i--) if (isIn(directions, seen[i]!)) seen.splice(i, 1)
    },
    record: ({ tiltDeg, azimuthDeg }: Direction, times: number): Promise<RecordedRun> =>
      traceRecorded(pool, compileSun(scene, open, tiltDeg, azimuthDeg), shape, { seed, rays: times * rays }),
    async read(at: Direction, recorded: RecordedRun, more: Partial<AirOptions>, near: Ball = region): Promise<Read> {
      const segments = clipToBall(recorded.segments, near.centre, near.radiusMm)
      const places = await scheduler.run(searchAir(segments, { ...air, ...more }))
      const one = { ...at, places, spots: readSunSpots({ tiltDeg: at.tiltDeg, run: recorded.run, places }, lamp) }
      recycleRun(recorded.run)
      seen.push(one)
      return { ...one, segments }
    },
  }
}
