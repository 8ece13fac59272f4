// A small figure far away, also seen as through a glass: a second picture in the corner, from the same place and under the same exposure.
import type { PictureSize, Place, Station } from './model/scene.ts'
import { glassStation } from './model/scene.ts'
import { stationNow } from './scene.ts'
import { night } from './state.ts'

export interface Glass {
  /** In CSS px from the upper left corner of its half. */
  x: number
  y: number
  size: PictureSize
  station: Station
  /** How many times larger than in the picture about it. */
  times: number
}

/** A figure less tall than this gets a glass, CSS px. */
const TOO_SMALL_PX = 40

/** Null where there is nothing small to look at. */
export function glassIn(place: Place, half: PictureSize): Glass | null {
  if (night.getState().station !== 'lamp' || (place.kind !== 'person' && place.kind !== 'boat')) return null
  const about = stationNow(place, half)
  const pxPerTan = half.width / 2 / about.halfWidth
  if ((pxPerTan * 1.75) / place.distanceM > TOO_SMALL_PX) return null
  const side = Math.round(Math.min(0.34 * half.width, 0.42 * half.height))
  const size = { width: side, height: side }
  const station = glassStation(place, about.eye)
  return { x: half.width - side - 12, y: 12, size, station, times: side / 2 / station.halfWidth / pxPerTan }
}
