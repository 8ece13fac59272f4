// What is read off at a place of the picture, in words.

import { significant } from '../common/lengthText.ts'
import { metres } from './drawMarks.ts'
import { glassIn } from './inset.ts'
import { type PictureSize, type Place, type Station, sightThrough, type Triple } from './model/scene.ts'
import { airAlong, type Seen, type SightOf, seenAlong } from './model/seen.ts'
import { likeLux } from './model/tone.ts'
import { halvesOf } from './paint.ts'
import { airFor, litNow, sceneNow, stationNow } from './scene.ts'
import { night } from './state.ts'

const ON: Record<Seen['on'], string> = {
  wall: 'on the wall',
  earth: 'on the ground',
  grass: 'on the grass',
  water: 'on the water',
  figure: 'on the figure',
}

/** Empty while nothing is pointed at. */
export function readingNow(size: PictureSize): string {
  const { probe } = night.getState()
  if (!probe) return ''
  const at = probe.u * size.width
  const halves = halvesOf(size)
  const which = halves.length === 2 && at >= halves[1]!.x ? 1 : 0
  const of = litNow()[which]
  const half = halves[which]!
  if (!of) return ''
  const { place, figure } = sceneNow()
  const { station, sight } = sightAt(place, half.size, at - half.x, probe.v * size.height)
  const scene: SightOf = { place, figure, light: of.sheet, air: airFor(of) }
  const seen = seenAlong(scene, station.eye, sight)
  const air = airAlong(scene, station.eye, sight, seen)
  return wordsOf(seen, air, place.lampM)
}

/** Through the glass where it lies over the picture. */
function sightAt(place: Place, half: PictureSize, x: number, y: number): { station: Station; sight: Triple } {
  const glass = glassIn(place, half)
  const inside =
    glass && x >= glass.x && x <= glass.x + glass.size.width && y >= glass.y && y <= glass.y + glass.size.height
  if (inside)
    return { station: glass.station, sight: sightThrough(glass.station, glass.size, x - glass.x, y - glass.y) }
  const station = stationNow(place, half)
  return { station, sight: sightThrough(station, half, x, y) }
}

const luminance = (cdM2: number) => `${significant(cdM2, cdM2 < 1e-3 ? 1 : 2)} cd/m²`

function wordsOf(seen: Seen | null, air: number, lampM: number): string {
  const haze = air > 0 ? `${luminance(air)} of haze before it` : ''
  if (!seen) return `Sky: nothing to light${haze ? `; ${haze}` : ''}.`
  const [x, y, z] = seen.at
  if (z <= 0) return 'Behind the lamp.'
  const where =
    seen.on === 'wall'
      ? `, ${metres(round(Math.abs(x)))} ${x < 0 ? 'left' : 'right'}, ${metres(round(y + lampM))} up`
      : seen.on === 'figure'
        ? `, ${metres(round(y + lampM))} up`
        : `, ${metres(round(Math.hypot(x, z)))} away`
  const lx = `${significant(seen.lx, seen.lx < 1e-4 ? 1 : 3)} lx ${ON[seen.on]}${where}, ${likeLux(seen.lx)}`
  return `${lx}; ${luminance(seen.cdM2)}${haze ? `, ${haze}` : ''}`
}

const round = (m: number) => (m >= 100 ? Math.round(m) : m >= 5 ? Math.round(m * 10) / 10 : Math.round(m * 100) / 100)
