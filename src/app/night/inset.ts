// A small, distant figure is also shown magnified: an inset in the corner, from the same place and at the same exposure.
import type { PictureSize, Place, Station } from './model/scene.ts'
import { insetStation } from './model/scene.ts'
import { currentStation } from './scene.ts'
import { night } from './state.ts'

export interface Inset {
  /** In CSS px from the upper left corner of its picture. */
  x: number
  y: number
  size: PictureSize
  station: Station
  /** Magnification relative to the picture. */
  times: number
}

/** A figure less tall than this gets an inset, CSS px. */
const TOO_SMALL_PX = 40

/** Null where no inset is needed. */
export function insetFor(place: Place, half: PictureSize, fieldDeg: number): Inset | null {
  if (night.getState().station !== 'lamp' || (place.kind !== 'person' && place.kind !== 'boat')) return null
  const about = currentStation(place, half, fieldDeg)
  const pxPerTan = half.width / 2 / about.halfWidth
  if ((pxPerTan * 1.75) / place.distanceM > TOO_SMALL_PX) return null
  const side = Math.round(Math.min(0.34 * half.width, 0.42 * half.height))
  const size = { width: side, height: side }
  const station = insetStation(place, about.eye)
  return { x: half.width - side - 12, y: 12, size, station, times: side / 2 / station.halfWidth / pxPerTan }
}
