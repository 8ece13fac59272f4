// One direction of the sun: traced, and read on the parts and in the air of each zone.
import { recycleRun } from '../../engine/partialTallies.ts'
import { type RecordedRun, traceRecorded } from '../../engine/segments.ts'
import type { Pool } from '../../engine/workers/pool.ts'
import { type AirOptions, type AirPlace, type OnLeftOut, searchAir } from '../../hazard/air/search.ts'
import { AIR_ZONES, type AirZone, makeZoneOf, searchedBall } from '../../hazard/air/zones.ts'
import { spotsOfPlaces, spotsOnParts } from '../../hazard/sun.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Scheduler } from '../../num/scheduler.ts'
import type { HotSpot } from '../../run/figure.ts'
import { clipToBall, type Segments, selectSegments } from '../../run/segments.ts'
import type { TallyShape } from '../../run/types.ts'
import { compileSun } from '../../scene/compile.ts'
import type { Scene } from '../../scene/scene.ts'
import { type Ball, type Direction, type Seen, strengthIn } from './sunDirections.ts'

/** The lamp under the sun, its own scene, and any of its shapes. */
export interface SunScene {
  lamp: Lamp
  scene: Scene
  shape: TallyShape
  /** The lamp as the sun's light meets it, where that isn't all of it: `scene` is then of this one. */
  open?: Lamp
}

export interface SunReaderOptions {
  seed: number
  /** Rays of sunlight for each direction. */
  rays: number
  /** Inside the lamp only: light is not followed beyond it, and only that zone is read. */
  insideOnly: boolean
  onLeftOut?: OnLeftOut | undefined
}

interface Read extends Seen {
  /** Of the whole region. */
  segments: () => Segments
}

interface ReadOptions extends Pick<AirOptions, 'searchSegments' | 'most'> {
  /** Only there; by default in the whole region. */
  near?: Ball | undefined
  /** Only these; by default all. */
  zones?: readonly AirZone[]
  /** An earlier reading of the same direction that this one replaces; places in zones that are not read now are kept. */
  before?: Seen | undefined
}

export interface SunReader {
  /** All that were read so far. */
  seen: Seen[]
  record(at: Direction, times: number): Promise<RecordedRun>
  read(at: Direction, recorded: RecordedRun, options: ReadOptions): Promise<Read>
}

type SearchOptions = Pick<ReadOptions, 'searchSegments' | 'most'>

/** Under this, sunlight is hardly stronger than it is without the lamp, kW/m². */
const FLOOR_KW_M2 = 2
/** Beside the lamp light is followed so far (physics.md, section 9). */
const AROUND_MM = 1000
const INSIDE = AIR_ZONES.indexOf('inside')
/**
 * Places under these shares are no result: of the hottest spot found in the same direction, which alone the map shows, and of the zone's hottest in any
 * direction, which alone is looked at again.
 */
const SHARE_HERE = 0.5
const SHARE_OF_ZONE = 0.25

/** Traces and reads directions of the sun. */
export function makeSunReader(
  pool: Pool,
  { lamp, scene, shape, open = lamp }: SunScene,
  { seed, rays, insideOnly, onLeftOut }: SunReaderOptions,
  scheduler: Scheduler,
): SunReader {
  const region = searchedBall(lamp, insideOnly ? 0 : AROUND_MM)
  const within = searchedBall(lamp, 0)
  const zoneOf = makeZoneOf(lamp)
  const isInside = (x: number, y: number, z: number) => zoneOf(x, y, z) === INSIDE
  const air = { discMm: lamp.reading.hotDiscMm, ...(onLeftOut && { onLeftOut }) }
  const bare = withoutMaps(shape)
  const seen: Seen[] = []

  /** Under this a place of the zone is no result, kW/m². */
  function floorOf(zone: AirZone, hereKWm2: number): number {
    const ofZone = seen.reduce((most, one) => Math.max(most, strengthIn(zone, one)), 0)
    return Math.max(FLOOR_KW_M2, Math.min(SHARE_HERE * hereKWm2, SHARE_OF_ZONE * ofZone))
  }

  /** By itself, on a grid of the lamp's size. */
  async function searchInside(segments: Segments, onParts: number, more: SearchOptions): Promise<AirPlace[]> {
    const own = clipToBall(segments, within.centre, within.radiusMm)
    return scheduler.run(
      searchAir(own, {
        ...{ ...air, ...more, ...shareOf(own, segments, more) },
        floorKWm2: floorOf('inside', onParts),
        zoneOf: (x, y, z) => (isInside(x, y, z) ? INSIDE : -1),
      }),
    )
  }

  /** In these zones, of front and outside. */
  async function searchLeaving(
    segments: Segments,
    zones: readonly AirZone[],
    hereKWm2: number,
    more: SearchOptions,
  ): Promise<AirPlace[]> {
    const floor = (zone: AirZone) => (zones.includes(zone) ? floorOf(zone, hereKWm2) : Number.POSITIVE_INFINITY)
    const [front, outside] = [floor('front'), floor('outside')]
    const leaving = leavingOf(segments, isInside)
    return scheduler.run(
      searchAir(leaving, {
        ...{ ...air, ...more, ...shareOf(leaving, segments, more) },
        floorKWm2: Math.min(front, outside),
        floorOf: (zone) => (zone === 'front' ? front : outside),
        zoneOf: (x, y, z) => {
          const zone = zoneOf(x, y, z)
          return zone === INSIDE ? -1 : zone
        },
      }),
    )
  }

  return {
    seen,
    record: ({ tiltDeg, azimuthDeg }, times) =>
      traceRecorded(pool, compileSun(scene, open, tiltDeg, azimuthDeg), bare, { seed, rays: times * rays }),
    async read(at, recorded, { near = region, zones = AIR_ZONES, before, ...more }) {
      const onParts = spotsOnParts(recorded.run, at.tiltDeg, lamp)
      recycleRun(recorded.run)
      const segments = clipToBall(recorded.segments, near.centre, near.radiusMm)
      const read = insideOnly ? zones.filter((zone) => zone === 'inside') : zones
      const places = before?.places.filter((p) => !read.includes(p.zone)) ?? []
      if (read.includes('inside')) places.push(...(await searchInside(segments, hottestOf(onParts), more)))
      if (read.some((zone) => zone !== 'inside'))
        places.push(...(await searchLeaving(segments, read, hottestOf([...onParts, ...places]), more)))
      const one = { ...at, places, spots: [...spotsOfPlaces(places, at.tiltDeg, lamp), ...onParts] }
      if (before) seen.splice(seen.indexOf(before), 1)
      seen.push(one)
      return { ...one, segments: () => clipToBall(recorded.segments, region.centre, region.radiusMm) }
    },
  }
}

/** Of the segments that are searched in all. */
const shareOf = (own: Segments, all: Segments, { searchSegments }: SearchOptions): SearchOptions =>
  searchSegments === undefined
    ? {}
    : { searchSegments: Math.ceil((searchSegments * own.count) / Math.max(1, all.count)) }

const hottestOf = (spots: readonly HotSpot[]): number => spots.reduce((most, spot) => Math.max(most, spot.kWm2), 0)

/** The sun is read on face and wall and in the air. */
const withoutMaps = ({ elements: _, ...shape }: TallyShape): TallyShape => ({
  ...shape,
  ...{ windowN: 1, sphereGamma: 1, sphereC: 1, lens: null },
  target: { ...shape.target, n: 1 },
})

/** Without the segments that both begin and end inside: the zone bends nowhere in such a way that one of them could leave it in between. */
function leavingOf(segments: Segments, isInside: (x: number, y: number, z: number) => boolean): Segments {
  const { xMm, yMm, zMm, dx, dy, dz, lengthMm } = segments
  return selectSegments(segments, (i) => {
    const [x = 0, y = 0, z = 0, length = 0] = [xMm[i], yMm[i], zMm[i], lengthMm[i]]
    const [toX = 0, toY = 0, toZ = 0] = [dx[i], dy[i], dz[i]]
    return !isInside(x, y, z) || !isInside(x + length * toX, y + length * toY, z + length * toZ)
  })
}
