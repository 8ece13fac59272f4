// A day in the sun: a lamp at a latitude on a date, its lens pointing somewhere, and the path of the sun's spot inside it.
import type { SunPlace } from '../lamp/danger.ts'
import type { Lamp } from '../lamp/schema.ts'
import { criticalAt, ignitionMaterial, ignitionSeconds } from '../library/ignition.ts'
import { lensesOf } from '../library/lensSystem.ts'
import { steadyTemperatureC } from './balance.ts'
import { upperKWm2 } from './discs.ts'
import { clearSkyWm2, julianDay, sunAt, sunDeclinationDeg, toLampFrame } from './solar.ts'
import type { SunMapPoint } from './sunMap.ts'

/** On its back in midsummer at 45°: a fair day of the middle latitudes (our choice). */
export const USUAL_SUN: SunPlace = {
  latitudeDeg: 45,
  month: 6,
  day: 21,
  heightM: 0,
  lensUpDeg: 90,
  lensTowardsDeg: 180,
  strength: 'clear-sky',
}

interface SunMoment {
  /** Solar time: 12 when the sun is highest. */
  hour: number
  upDeg: number
  towardsDeg: number
  tiltDeg: number
  azimuthDeg: number
  sunWm2: number
  /** Upper end of the worst spot inside; 0 where no sun comes in. */
  kWm2: number
  lands: SunMapPoint['lands'] | null
  board: string | null
  xMm: number
  yMm: number
  zMm: number
}

export interface SunDay {
  place: SunPlace
  declinationDeg: number
  moments: SunMoment[]
  worst: SunMoment | null
  /** With the lens turned to where the sun passes at its strongest, at the worst tilt of the map; null: no sun, or nothing comes in. */
  turned: { kWm2: number; tiltDeg: number; plasticSeconds: number | null } | null
  /** Hours of the day in which the spot is strong enough to light plastic, and to char wood in time. */
  hoursOverPlastic: number
  hoursOverWood: number
  /** At the worst moment: seconds to ignition of what lies there; null: never. */
  plasticSeconds: number | null
  woodSeconds: number | null
  /** Time for the spot to move by the width of the disc. */
  staysSeconds: number | null
  /** Temperature of a black opaque cover in the same sun; no light gets past it. */
  coverC: number
}

/** The sun moves a quarter of a degree in a minute: half of its own disc. */
const STEPS_AN_HOUR = 60
/** The date's declination differs from year to year by up to 0.4°: that of a year in the middle of the four. */
const YEAR = 2026

/**
 * The sun's spot inside through a day, every minute while the sun is up: kW/m² (upper end), where it lands,
 * seconds to ignition at the worst moment. `map` was traced with mapWm2 W/m². Between the angles traced the stronger
 * neighbour holds: the hot side.
 */
export function readSunDay(lamp: Lamp, map: readonly SunMapPoint[], mapWm2: number, place: SunPlace): SunDay {
  const declinationDeg = sunDeclinationDeg(julianDay(YEAR, place.month, place.day))
  const axis = { upDeg: place.lensUpDeg, towardsDeg: place.lensTowardsDeg }
  const strongest = makeNeighbourLookup(map)
  const moments: SunMoment[] = []
  for (let step = 0; step < 24 * STEPS_AN_HOUR; step++) {
    const hour = step / STEPS_AN_HOUR
    const sun = sunAt(place.latitudeDeg, declinationDeg, hour)
    if (sun.upDeg <= 0) continue
    const seen = toLampFrame(axis, sun)
    const sunWm2 = place.strength === 'flat' ? mapWm2 : clearSkyWm2(sun.upDeg, place.heightM)
    const spot = strongest(seen.tiltDeg, seen.azimuthDeg)
    moments.push({
      hour,
      ...sun,
      ...seen,
      sunWm2,
      kWm2: spot ? (upperKWm2(spot) * sunWm2) / mapWm2 : 0,
      lands: spot?.lands ?? null,
      board: spot?.board ?? null,
      xMm: spot?.xMm ?? 0,
      yMm: spot?.yMm ?? 0,
      zMm: spot?.zMm ?? 0,
    })
  }
  const worst = moments.reduce<SunMoment | null>((a, b) => (b.kWm2 > (a?.kWm2 ?? 0) ? b : a), null)
  const [plastic, wood] = [ignitionMaterial('abs'), ignitionMaterial('wood-long')]
  const hoursOver = (kWm2: number) => moments.filter((m) => m.kWm2 >= kWm2).length / STEPS_AN_HOUR
  const { ambientC } = lamp.reading
  const brightest = moments.reduce((most, m) => Math.max(most, m.sunWm2), 0)
  const hottest = map.reduce<SunMapPoint | null>((a, b) => (a && upperKWm2(a) >= upperKWm2(b) ? a : b), null)
  const turnedKWm2 = hottest ? (upperKWm2(hottest) * brightest) / mapWm2 : 0
  const turned =
    hottest && turnedKWm2 > 0
      ? {
          kWm2: turnedKWm2,
          tiltDeg: hottest.tiltDeg,
          plasticSeconds: ignitionSeconds(plastic, turnedKWm2, ambientC),
        }
      : null
  return {
    place,
    declinationDeg,
    moments,
    worst,
    turned,
    hoursOverPlastic: hoursOver(criticalAt(plastic, ambientC)),
    hoursOverWood: hoursOver(criticalAt(wood, ambientC)),
    plasticSeconds: worst && ignitionSeconds(plastic, worst.kWm2, ambientC),
    woodSeconds: worst && ignitionSeconds(wood, worst.kWm2, ambientC),
    staysSeconds: worst && staysSeconds(lamp, worst),
    coverC: steadyTemperatureC({ takenKWm2: brightest / 1000, ambientC }),
  }
}

/** The sun goes 15° an hour, at the solstices by cos 23.44° less: the slow side. */
function staysSeconds(lamp: Lamp, { zMm }: SunMoment): number | null {
  const lenses = lensesOf(lamp)
  if (lenses.length === 0) return null
  // Of several the one that the spot wanders behind most slowly: it stays the longer.
  const away = Math.max(1, Math.min(...lenses.map((lens) => lens.zMm - zMm)))
  const perSecond = ((15 * Math.PI) / 180 / 3600) * Math.cos((23.44 * Math.PI) / 180)
  return lamp.reading.hotDiscMm / (away * perSecond)
}

/** The strongest of the traced points about a tilt and azimuth; beyond the last tilt that tilt's; null from 90° on. */
function makeNeighbourLookup(map: readonly SunMapPoint[]): (tiltDeg: number, azimuthDeg: number) => SunMapPoint | null {
  const tilts = [...new Set(map.map((p) => p.tiltDeg))].sort((a, b) => a - b)
  const gap = 360 / Math.max(...tilts.map((t) => map.filter((p) => p.tiltDeg === t).length))
  return (tiltDeg, azimuthDeg) => {
    if (tiltDeg >= 90) return null
    const next = tilts.findIndex((t) => t >= tiltDeg)
    const about = next < 0 ? tilts.slice(-1) : tilts.slice(Math.max(0, next - 1), next + 1)
    const near = map.filter(
      (p) => about.includes(p.tiltDeg) && (p.tiltDeg === 0 || turnBetween(p.azimuthDeg, azimuthDeg) <= gap),
    )
    return near.reduce<SunMapPoint | null>((a, b) => (a && upperKWm2(a) >= upperKWm2(b) ? a : b), null)
  }
}

const turnBetween = (a: number, b: number): number => Math.abs(((((a - b) % 360) + 540) % 360) - 180)
