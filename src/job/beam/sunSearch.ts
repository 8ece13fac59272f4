// The sun from every side: a grid of tilts and azimuths with few rays, then the worst tilt and azimuth of each zone by search, with more. Where many
// azimuths have to be traced the grid takes fewer rays still, and what is strong in it is read once more.

import type { Pool } from '../../engine/workers/pool.ts'
import type { AirOptions, OnLeftOut } from '../../hazard/air/search.ts'
import { AIR_ZONES, type AirZone } from '../../hazard/air/zones.ts'
import { upperKWm2 } from '../../hazard/discs.ts'
import { findWorstSun, type SunPlace } from '../../hazard/sun.ts'
import { chooseSunAzimuths, mirrorOf, type SunMapPoint, symmetryOf, turnSpots } from '../../hazard/sunMap.ts'
import { openedLamps } from '../../lamp/mouth.ts'
import { placeEmitters } from '../../lamp/place.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Scheduler } from '../../num/scheduler.ts'
import { compile } from '../../scene/compile.ts'
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
import { makeSunReader, type RecordedSun, type SunScene } from './sunReader.ts'
import type { SunClient } from './sunThread.ts'

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
  /** `worst` isn't asked for: with one zone alone the last reading, with the most rays, is then left out where it changes no point. */
  mapOnly?: boolean
  /** Reads in place of this thread, with the same bits. */
  thread?: SunClient | undefined
}

export interface SunSearch {
  /** The worst spot of each direction of the grid and of those that the search ended on, by tilt, then azimuth. */
  points: SunMapPoint[]
  /** The worst place of each zone where any is over the floor. */
  worst: SunPlace[]
}

const RAYS = 1 << 14
const FEW = { searchSegments: 24_000, most: 3 }
/** From more azimuths on the grid is read by so much coarser. */
const FEW_AZIMUTHS = 2
const COARSER = 4
const FEWER = { searchSegments: 8000, most: 3 }
/** So many directions are on their way to be recorded while one is read: beside a beam and comparisons each waits for the tasks that the pool has begun. */
const AHEAD = 3
/** Where nothing stands out of chance. */
const SOME = { searchSegments: 40_000, most: 4 }
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
  const openings = [of, ...openedLamps(of.lamp).map((open) => openedScene(of.lamp, open))]
  let all: SunSearch | null = null
  for (const [k, opening] of openings.entries()) {
    const one = await searchOpening(pool, opening, options, scheduler, (share) =>
      onShare((k + share) / openings.length),
    )
    all = all ? hotterOf(all, one) : one
  }
  return all ?? { points: [], worst: [] }
}

/** The sun past some of the lamp's pieces: into what they leave bare, without them. */
function openedScene(lamp: Lamp, open: Lamp): SunScene {
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
  const { searched = SEARCHED, insideOnly = false, mapOnly = false } = options
  const zones: readonly AirZone[] = insideOnly ? ['inside'] : SEARCHED
  const tilts = distinct([...(options.tiltsDeg ?? [...SUN_TILTS_DEG, ...edgeTiltsDeg(lamp)]), lamp.reading.sunTiltDeg])
  const mirrorDeg = mirrorOf(lamp)
  const { traced, turns } = chooseSunAzimuths(symmetryOf(lamp), mirrorDeg)
  const { seed, rays = RAYS, onLeftOut, thread } = options
  const reader = makeSunReader(pool, of, { seed, rays, insideOnly, onLeftOut, thread }, scheduler)

  const grid = tilts.flatMap((tiltDeg) => (tiltDeg === 0 ? [0] : traced).map((azimuthDeg) => ({ tiltDeg, azimuthDeg })))
  const readAll = async (
    list: readonly (Direction & { zones?: readonly AirZone[] })[],
    times: number,
    more: Pick<AirOptions, 'searchSegments' | 'most'>,
    from: number,
    to: number,
  ) => {
    const ahead: RecordedSun[] = []
    for (const [k, at] of list.entries()) {
      await scheduler.checkpoint()
      // The pool traces the next directions while this one is searched.
      ahead.push(...list.slice(k + ahead.length, k + 1 + AHEAD).map((one) => reader.record(one, times)))
      const before = reader.seen.find((s) => isIn([s], at))
      await reader.read(ahead.shift()!, { ...more, before, zones: at.zones ?? AIR_ZONES })
      onShare(from + ((to - from) * (k + 1)) / list.length)
    }
  }
  if (traced.length > FEW_AZIMUTHS) {
    await readAll(grid, 1 / COARSER, FEWER, 0, 0.3)
    await readAll(strongOf(reader.seen, zones), 1, FEW, 0.3, 0.6)
  } else await readAll(grid, 1, FEW, 0, 0.6)
  const points: SunMapPoint[] = []
  const show = ({ spots, azimuthDeg }: Seen) =>
    points.push(...turnSpots(findWorstSun(spots), lamp, azimuthDeg, turns, mirrorDeg))
  reader.seen.forEach(show)

  const worst: SunPlace[] = []
  const azimuthStepDeg = traced.length > 1 ? 15 : 0
  const tries = {
    record: (at: Direction) => reader.record(at, 1),
    read: (recorded: RecordedSun, near?: Ball) => reader.read(recorded, { ...FEW, near }),
    scheduler,
  }
  for (const [k, zone] of zones.entries()) {
    const isSearched = searched.includes(zone)
    const climbs = isSearched && canCompare(zone, reader.seen)
    const top = climbs
      ? await climbDirections(zone, reader.seen, azimuthStepDeg, tries)
      : strongestIn(zone, reader.seen)
    const isOnGrid = top !== null && isIn(grid, top)
    if (top && !(isOnGrid && mapOnly && zones.length === 1)) {
      const read = await reader.read(reader.record(top, climbs ? 8 : isSearched ? 4 : 2), {
        ...(climbs ? { most: 4 } : isSearched ? SOME : FEW),
        zones: isOnGrid ? [zone] : zones,
        ...(!mapOnly && { byDiscIn: zone }),
      })
      if (!isOnGrid) show(read)
      const place = hottestIn(zone, read.places)
      const { tiltDeg, azimuthDeg } = top
      if (place && !mapOnly) worst.push({ ...place, tiltDeg, azimuthDeg, byDisc: read.byDisc })
    }
    onShare(0.6 + (0.4 * (k + 1)) / zones.length)
  }
  points.sort(byDirection)
  return { points, worst }
}
