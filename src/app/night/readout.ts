// The reading at a point of the picture, as text.

import { M_PER_FOOT } from '../../num/unitSystem.ts'
import { significant } from '../common/lengthText.ts'
import { unitSystem } from '../store/unitSystem.ts'
import { metres } from './drawMarks.ts'
import { insetFor } from './inset.ts'
import { knownLevel } from './model/reach.ts'
import { type PictureSize, type Place, type Station, type Triple, viewDirection } from './model/scene.ts'
import { airAlong, type Seen, seenAlong, type ViewedScene } from './model/seen.ts'
import { airFor, currentScene, currentStation, type SceneLight } from './scene.ts'
import { splitScene } from './split.ts'
import { night } from './state.ts'

const ON: Record<Seen['on'], string> = {
  wall: 'on the wall',
  earth: 'on the ground',
  grass: 'on the grass',
  water: 'on the water',
  figure: 'on the figure',
}

/** Empty while there is no probe. */
export function currentReading(size: PictureSize): string {
  const { probe } = night.getState()
  if (!probe) return ''
  const at = probe.u * size.width
  const cells = splitScene.cells(size)
  const which = cells.findLastIndex(({ x }) => at >= x)
  const [of, cell] = [splitScene.lights()[which], cells[which]]
  return of && cell ? readingIn(of, cell.size, at - cell.x, probe.v * size.height, splitScene.fieldDeg()) : ''
}

/** What is seen at a place of a lamp's picture, CSS px from its upper left corner. */
export function readingIn(of: SceneLight, size: PictureSize, x: number, y: number, fieldDeg: number): string {
  const { place, figure } = currentScene()
  const { station, direction } = viewAt(place, size, x, y, fieldDeg)
  const scene: ViewedScene = { place, figure, light: of.sheet, air: airFor(of) }
  const seen = seenAlong(scene, station.eye, direction)
  const air = airAlong(scene, station.eye, direction, seen)
  return wordsOf(seen, air, place.lampM)
}

/** Uses the inset where it covers the picture. */
function viewAt(
  place: Place,
  half: PictureSize,
  x: number,
  y: number,
  fieldDeg: number,
): { station: Station; direction: Triple } {
  const inset = insetFor(place, half, fieldDeg)
  const inside =
    inset && x >= inset.x && x <= inset.x + inset.size.width && y >= inset.y && y <= inset.y + inset.size.height
  if (inside)
    return { station: inset.station, direction: viewDirection(inset.station, inset.size, x - inset.x, y - inset.y) }
  const station = currentStation(place, half, fieldDeg)
  return { station, direction: viewDirection(station, half, x, y) }
}

/** Illuminance as it is written where lengths are in feet, beside the lux: 1 fc is 1 lm/ft². */
const candles = (lx: number): string =>
  unitSystem() === 'inch' ? ` (${significant(lx * M_PER_FOOT ** 2, lx < 1e-3 ? 1 : 3)} fc)` : ''

const luminance = (cdM2: number) => `${significant(cdM2, cdM2 < 1e-3 ? 1 : 2)} cd/m²`

function wordsOf(seen: Seen | null, air: number, lampM: number): string {
  const haze = air > 0 ? `${luminance(air)} of haze before it` : ''
  if (!seen) return `Sky: nothing to light${haze ? `; ${haze}` : ''}.`
  const [x, y, z] = seen.at
  if (z <= 0) return 'Behind the lamp.'
  const where =
    seen.on === 'wall'
      ? `, ${far(Math.abs(x))} ${x < 0 ? 'left' : 'right'}, ${far(y + lampM)} up`
      : seen.on === 'figure'
        ? `, ${far(y + lampM)} up`
        : `, ${far(Math.hypot(x, z))} away`
  const lx = `${significant(seen.lx, seen.lx < 1e-4 ? 1 : 3)} lx${candles(seen.lx)} ${ON[seen.on]}${where}, like ${knownLevel(seen.lx)}`
  return `${lx}; ${luminance(seen.cdM2)}${haze ? `, ${haze}` : ''}`
}

const far = (m: number): string => metres(round(m), unitSystem())
const round = (m: number) => (m >= 100 ? Math.round(m) : m >= 5 ? Math.round(m * 10) / 10 : Math.round(m * 100) / 100)
