// One recorded direction of the sun, read on the parts and in the air of each zone: by whichever thread has it, with the same bits.
import { partialsTransferList, recycleRun } from '../../engine/partialTallies.ts'
import { type RecordedRays, recordsOf, runOfRecorded } from '../../engine/segments.ts'
import {
  type AirOptions,
  type AirPlace,
  type DiscValue,
  type OnLeftOut,
  readByDisc,
  searchAir,
} from '../../hazard/air/search.ts'
import { AIR_ZONES, type AirZone, makeZoneOf, searchedBall } from '../../hazard/air/zones.ts'
import { type SunAtTilt, spotsOfPlaces, spotsOnParts } from '../../hazard/sun.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Scheduler } from '../../num/scheduler.ts'
import type { HotSpot } from '../../run/figure.ts'
import { clipRecords, makeSegmentsRoom, type Segments, type SegmentsRoom, selectSegments } from '../../run/segments.ts'
import { type Ball, hottestIn } from './sunDirections.ts'

/** All that a reading takes: plain data. */
export interface SunReadRequest extends Pick<AirOptions, 'searchSegments' | 'most'> {
  lamp: Lamp
  tiltDeg: number
  recorded: RecordedRays
  /** Light isn't followed beyond the lamp. */
  insideOnly: boolean
  /** Only there; by default in the whole region. */
  near?: Ball | undefined
  /** Only these. */
  zones: readonly AirZone[]
  /** Places that an earlier reading of this direction found in other zones. */
  elsewhere: AirPlace[]
  /** kW/m² of each zone's hottest in any direction that was read before. */
  hottest: Record<AirZone, number>
  /** Smaller discs are read at the hottest place of this zone. */
  byDiscIn?: AirZone | undefined
}

export interface SunRead {
  places: AirPlace[]
  spots: SunAtTilt[]
  /** What the search left out, in the order of the finds. */
  leftOut: Parameters<OnLeftOut>[]
  byDisc: DiscValue[]
}

type SearchOptions = Pick<SunReadRequest, 'searchSegments' | 'most'>

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

/** Columns are written into `room`, which one reading has at a time. Throws `Cancelled`. */
export async function readSunDirection(
  request: SunReadRequest,
  { run }: Pick<Scheduler, 'run'>,
  room: SegmentsRoom = makeSegmentsRoom(),
): Promise<SunRead> {
  const { lamp, tiltDeg, recorded, insideOnly, near, zones, elsewhere, hottest, byDiscIn, searchSegments, most } =
    request
  const more: SearchOptions = {
    ...(searchSegments !== undefined && { searchSegments }),
    ...(most !== undefined && { most }),
  }
  const region = near ?? searchedBall(lamp, insideOnly ? 0 : AROUND_MM)
  const within = searchedBall(lamp, 0)
  const zoneOf = makeZoneOf(lamp)
  const isInside = (x: number, y: number, z: number) => zoneOf(x, y, z) === INSIDE
  const leftOut: SunRead['leftOut'] = []
  const air = {
    discMm: lamp.reading.hotDiscMm,
    onLeftOut: (...found: Parameters<OnLeftOut>) => void leftOut.push(found),
  }

  /** Under this a place of the zone is no result, kW/m². */
  const floorOf = (zone: AirZone, hereKWm2: number): number =>
    Math.max(FLOOR_KW_M2, Math.min(SHARE_HERE * hereKWm2, SHARE_OF_ZONE * hottest[zone]))

  /** By itself, on a grid of the lamp's size. */
  function searchInside(own: Segments, of: number, onParts: number): Promise<AirPlace[]> {
    const floorKWm2 = floorOf('inside', onParts)
    return run(
      searchAir(own, {
        ...{ ...air, ...more, ...shareOf(own, of, more) },
        floorKWm2,
        // No block is looked into for the sake of the zones that aren't searched.
        floorOf: (zone) => (zone === 'inside' ? floorKWm2 : Number.POSITIVE_INFINITY),
        zoneOf: (x, y, z) => (isInside(x, y, z) ? INSIDE : -1),
      }),
    )
  }

  /** In the zones that are read, of front and outside. */
  function searchLeaving(segments: Segments, hereKWm2: number): Promise<AirPlace[]> {
    const floor = (zone: AirZone) => (zones.includes(zone) ? floorOf(zone, hereKWm2) : Number.POSITIVE_INFINITY)
    const [front, outside] = [floor('front'), floor('outside')]
    const leaving = leavingOf(segments, isInside)
    return run(
      searchAir(leaving, {
        ...{ ...air, ...more, ...shareOf(leaving, segments.count, more) },
        floorKWm2: Math.min(front, outside),
        floorOf: (zone) => (zone === 'front' ? front : outside),
        zoneOf: (x, y, z) => {
          const zone = zoneOf(x, y, z)
          return zone === INSIDE ? -1 : zone
        },
      }),
    )
  }

  const tallied = runOfRecorded(recorded)
  const onParts = spotsOnParts(tallied, tiltDeg, lamp)
  recycleRun(tallied)
  const records = recordsOf(recorded)
  const inRegion = () => clipRecords(...records, [region], room).segments
  const places = [...elsewhere]
  if (zones.includes('inside')) {
    const { segments, inFirst } = clipRecords(...records, [region, within], room)
    places.push(...(await searchInside(segments, inFirst, hottestOf(onParts))))
  }
  if (zones.some((zone) => zone !== 'inside'))
    places.push(...(await searchLeaving(inRegion(), hottestOf([...onParts, ...places]))))
  const place = byDiscIn ? hottestIn(byDiscIn, places) : null
  return {
    places,
    spots: [...spotsOfPlaces(places, tiltDeg, lamp), ...onParts],
    leftOut,
    byDisc: place ? readByDisc(inRegion(), place) : [],
  }
}

/** What a request gives away to another thread. */
export const sunTransferList = ({ recorded }: SunReadRequest): ArrayBuffer[] => partialsTransferList(recorded.partials)

/** Of so many segments that are searched in all. */
const shareOf = (own: Segments, of: number, { searchSegments }: SearchOptions): SearchOptions =>
  searchSegments === undefined ? {} : { searchSegments: Math.ceil((searchSegments * own.count) / Math.max(1, of)) }

const hottestOf = (spots: readonly HotSpot[]): number => spots.reduce((most, spot) => Math.max(most, spot.kWm2), 0)

/** Without the segments that both begin and end inside: the zone bends nowhere in such a way that one of them could leave it in between. */
function leavingOf(segments: Segments, isInside: (x: number, y: number, z: number) => boolean): Segments {
  const { xMm, yMm, zMm, dx, dy, dz, lengthMm } = segments
  return selectSegments(segments, (i) => {
    const [x = 0, y = 0, z = 0, length = 0] = [xMm[i], yMm[i], zMm[i], lengthMm[i]]
    const [toX = 0, toY = 0, toZ = 0] = [dx[i], dy[i], dz[i]]
    return !isInside(x, y, z) || !isInside(x + length * toX, y + length * toY, z + length * toZ)
  })
}
