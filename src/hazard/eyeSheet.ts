// How far an eye must keep away, wherever the beam points: at the worst place of each distance, and at the worst so far off
// the axis; with field glasses; for a blink, ten seconds, and longer.
import { frontZMm } from '../lamp/front.ts'
import type { Lamp } from '../lamp/schema.ts'
import type { TimeSliced } from '../num/scheduler.ts'
import { collectPassing, type EyeReading, type Passing, type RoomyPlace, readEye, SPARSE_RAD } from './eye.ts'
import {
  blueSeconds,
  FIELDS_RAD,
  type FieldRadiance,
  type SourceRadiance,
  thermalSeconds,
  throughGlasses,
} from './eyeLimits.ts'
import { brightestPatches, isWider } from './eyePatches.ts'
import {
  brightestPlaces,
  type Crossings,
  crossAside,
  crossAt,
  type DenseSpot,
  type Hull,
  hullOf,
  type Place3,
  placeAtAngle,
  sparsePlace,
} from './eyePlaces.ts'
import { type EyeRays, type LeavingLight, type PerWatt, thinned, weighRays } from './eyeRays.ts'
import { type RiskScreening, screenRisk } from './eyeRisk.ts'
import { lampUltraviolet, type Ultraviolet } from './eyeUltraviolet.ts'
import { type Flicker, readFlicker } from './flicker.ts'
import { greatestPerWatt, sourceRadiance } from './sourceRadiance.ts'
import { type Interference, readInterference } from './visualInterference.ts'

/**
 * Exposures, s, that distances are read for: the blink that turns the eye away, ten seconds of staring, the longest
 * field of a glance.
 */
const EXPOSURES = { blink: 0.25, tenSeconds: 10, hundredSeconds: 100 } as const

export interface EyeDistances {
  /** 0: everywhere; else only places so far off the axis or farther. */
  angleDeg: number
  /** Beyond it an exposure of so many seconds stays below both limits; upper ends. 0: anywhere past 200 mm. */
  metres: Record<keyof typeof EXPOSURES, number>
  /** Beyond it no limit of blue light is reached at all, within 10 000 s. */
  noLimitM: number
}

export interface EyeSheet {
  source: SourceRadiance
  /** At the worst place of each distance, near to far; then of each angle. */
  readings: EyeReading[]
  distances: readonly [EyeDistances, ...EyeDistances[]]
  /** The worst place of all, through field glasses. */
  glasses: EyeDistances
  /** The same distances without ±: what lies between is the ± at 95 %. */
  means: { distances: readonly EyeDistances[]; glasses: EyeDistances }
  /** At the nearest distance that the standard reads at, 200 mm. */
  nearest: EyeReading
  /** Screened at 200 mm, and where the beam gives 500 lx. */
  risk: { at200: RiskScreening; at500lx: RiskScreening }
  interference: Interference
  flicker: Flicker[]
}

const NEAREST_MM = 200
const FARTHEST_MM = 400_000
/** Farther off a pupil may be so wide that a third of the rays is enough. */
const FAR_MM = 1000
const GROWTH = 1.3
const ANGLES_DEG = [10, 20, 30, 45, 70, 110, 150]
/** Angles up to here are always read; the others only where light goes. */
const ALWAYS_DEG = 45
/** Steps beyond the last reading, by the inverse-square law: to 40 km. */
const FARTHER = 18
const ASIDE_EVERY = 3
const CANDIDATES = 3
const CANDIDATES_ASIDE = 2
const GENERAL_LIGHTING_LX = 500
const WIDEST_FIELD_RAD = FIELDS_RAD[3]

export interface EyeInput {
  frontZMm: number
  source: SourceRadiance
  perWatt: PerWatt
  ultraviolet: Ultraviolet
  flicker: Flicker[]
}

/**
 * What the eyes' reader takes from the lamp itself: its front (mm), the radiance of its emitters at `emitterW` (radiant watts in
 * placeEmitters order), what a watt of theirs weighs, its ultraviolet, its flicker.
 */
export const eyeInput = (lamp: Lamp, emitterW: ArrayLike<number>): EyeInput => ({
  frontZMm: frontZMm(lamp),
  source: sourceRadiance(lamp, emitterW),
  perWatt: greatestPerWatt(lamp),
  ultraviolet: lampUltraviolet(lamp),
  flicker: readFlicker(lamp),
})

/**
 * What eyes meet of all the light that leaves a lamp: readings from 200 mm to 400 m, at the worst place of each distance and of places 10° and more off the axis, and
 * the distances (m) beyond which an exposure stays below both limits; risk group by screening, field glasses, visual
 * interference. Time-sliced. Angles and steps: our choice; limits: IEC 62471:2006.
 */
export function* readEyes(lights: readonly LeavingLight[], input: EyeInput): TimeSliced<EyeSheet> {
  const { source, ultraviolet, flicker } = input
  const all = weighRays(lights, input.perWatt)
  const few = thinned(all)
  const raysFor = (distanceMm: number) => (distanceMm > FAR_MM ? few : all)
  const hull = hullOf(all, input.frontZMm)
  yield
  const everywhere: EyeReading[] = []
  const aside = anglesWithLight(all).map((angleDeg) => ({ angleDeg, readings: [] as EyeReading[] }))
  let step = 0
  for (let d = NEAREST_MM; d < FARTHEST_MM; d *= GROWTH, step++) {
    yield
    const rays = raysFor(d)
    const at = crossAt(rays, hull, d)
    yield
    const rows = [{ angleDeg: 0, readings: everywhere }, ...(step % ASIDE_EVERY === 0 ? aside : [])].map((row) => {
      const places = choosePlaces(at, hull, row.angleDeg)
      // Where light is so rare no ray is left out.
      return places.length > 0
        ? { ...row, rays, places }
        : { ...row, rays: all, places: rarePlaces(all, hull, d, row.angleDeg) }
    })
    const passing = new Map(
      [...new Set([rays, all])].flatMap((of) => {
        const places = rows.filter((row) => row.rays === of).flatMap((row) => row.places)
        return collectPassing(of, places, d).map((found, k) => [places[k], found] as const)
      }),
    )
    let farther: EyeReading[] = []
    // From the widest angle inwards: a place so far off the axis is one of each row of lesser angles.
    for (const row of rows.toReversed()) {
      yield
      farther = [...readAt(row.rays, hull, d, source, row.places, passing), ...farther]
      row.readings.push(worstOf(farther, source))
    }
  }
  const peakCd = everywhere.reduce((most, r) => Math.max(most, r.illuminanceLx * (r.distanceMm / 1000) ** 2), 0)
  yield
  const far = Math.max(NEAREST_MM, 1000 * Math.sqrt(peakCd / GENERAL_LIGHTING_LX))
  const rays = raysFor(far)
  const bright = choosePlaces(crossAt(rays, hull, far), hull, 0)
  const places = bright.length > 0 ? bright : rarePlaces(rays, hull, far, 0)
  const at500 = worstOf(readAt(rays, hull, far, source, places), source)
  const nearest = everywhere[0]!
  const throughBoth = everywhere.map((r) => {
    const through = withFields(r, throughGlasses(r.fields, source), source)
    return { ...through, means: throughGlasses(r.means, source) }
  })
  const anywhere = readDistances(everywhere, source, 0)
  const others = aside.map((row) => readDistances(row.readings, source, row.angleDeg))
  const meanDistances = (readings: readonly EyeReading[], angleDeg: number) =>
    distancesBetween(
      readings.map((r) => withFields(r, r.means, source)),
      source,
      angleDeg,
    )
  const meanAnywhere = meanDistances(everywhere, 0)
  const meanOthers = aside.map((row) => meanDistances(row.readings, row.angleDeg))
  return {
    source,
    readings: [...everywhere, ...aside.flatMap((row) => row.readings)],
    distances: [anywhere, ...others.map((row) => noFarther(row, anywhere))],
    glasses: readDistances(throughBoth, source, 0),
    means: {
      distances: [meanAnywhere, ...meanOthers.map((row) => noFarther(row, meanAnywhere))],
      glasses: meanDistances(throughBoth, 0),
    },
    nearest,
    risk: { at200: screenRisk(nearest, source, ultraviolet), at500lx: screenRisk(at500, source, ultraviolet) },
    interference: readInterference(everywhere, peakCd),
    flicker,
  }
}

/** Those up to 45°, and wider ones that light leaves by. */
function anglesWithLight(rays: EyeRays): number[] {
  let least = 1
  for (let i = 0; i < rays.count; i++) if (rays.watts[i]! > 0) least = Math.min(least, rays.dz[i]!)
  return ANGLES_DEG.filter((a) => a <= ALWAYS_DEG || least < Math.cos((a * Math.PI) / 180))
}

const withFields = (r: EyeReading, fields: FieldRadiance[], source: SourceRadiance): EyeReading => ({
  ...r,
  fields,
  blueSeconds: blueSeconds(fields, source),
  thermalSeconds: thermalSeconds(fields, source),
})

/** The brightest places; where the source is wider than the widest field, also those that see its brightest patch. None where too few rays pass to tell. */
function choosePlaces(at: Crossings, hull: Hull, angleDeg: number): RoomyPlace[] {
  const most = angleDeg === 0 ? CANDIDATES : CANDIDATES_ASIDE
  const places = brightestPlaces(at, hull, most, angleDeg)
  const patches =
    places.length > 0 && isWider(hull, at.distanceMm, WIDEST_FIELD_RAD)
      ? brightestPatches(at, hull, WIDEST_FIELD_RAD, { most, leastOffDeg: angleDeg })
      : []
  // Light that fades with the angle is strongest where the row begins, and the middle of what passes beyond lies farther off.
  const edges =
    angleDeg === 0 ? [] : places.slice(0, 1).map((p) => ({ ...p, ...placeAtAngle(hull, at.distanceMm, angleDeg, p) }))
  return withRoom([...places, ...patches, ...edges], hull, at.distanceMm, angleDeg)
}

/** Of all rays there: the brightest places, else where most of the few pass, else any. */
function rarePlaces(all: EyeRays, hull: Hull, distanceMm: number, angleDeg: number): RoomyPlace[] {
  const at = crossAside(all, hull, distanceMm, angleDeg)
  const places = choosePlaces(at, hull, angleDeg)
  if (places.length > 0) return places
  const sparse = sparsePlace(at, hull, angleDeg)
  const offDeg = angleDeg === 0 ? 0 : angleDeg + SPARSE_RAD / RAD
  const dark = { ...darkPlace(hull, distanceMm, offDeg), raysPerMm2: 0 }
  return withRoom(sparse.length > 0 ? sparse : [dark], hull, distanceMm, angleDeg)
}

/** With the way to where places of a row begin, mm: stronger light may lie beyond. */
const withRoom = (places: readonly DenseSpot[], hull: Hull, distanceMm: number, angleDeg: number): RoomyPlace[] =>
  places.map((p) => ({
    ...p,
    roomMm: angleDeg === 0 ? Infinity : distanceMm * RAD * Math.max(0, angleOff(hull, p) - angleDeg),
  }))

const RAD = Math.PI / 180

const readAt = (
  rays: EyeRays,
  hull: Hull,
  distanceMm: number,
  source: SourceRadiance,
  places: readonly Place3[],
  passing?: ReadonlyMap<Place3 | undefined, Passing>,
): EyeReading[] =>
  places.map((p) => readEye(rays, p, { distanceMm, angleDeg: angleOff(hull, p) }, source, passing?.get(p)))

/** Readings of several places in one: the greatest of each figure, at the place with the soonest limit, whose values without ± they keep. */
function worstOf(all: readonly EyeReading[], source: SourceRadiance): EyeReading {
  const worst = all.reduce((a, b) => (soonestLimit(b) < soonestLimit(a) ? b : a))
  const greatest = (of: (r: EyeReading) => number) => all.reduce((m, r) => Math.max(m, of(r)), 0)
  const fields = worst.fields.map((f, k) => ({
    ...f,
    blueWm2sr: greatest((r) => r.fields[k]!.blueWm2sr),
    thermalWm2sr: greatest((r) => r.fields[k]!.thermalWm2sr),
  }))
  return {
    ...withFields(worst, fields, source),
    irradianceWm2: greatest((r) => r.irradianceWm2),
    illuminanceLx: greatest((r) => r.illuminanceLx),
    blueIrradianceWm2: greatest((r) => r.blueIrradianceWm2),
    thermalIrradianceWm2: greatest((r) => r.thermalIrradianceWm2),
  }
}

/** Where no ray goes, for a reading of zero. */
const darkPlace = (hull: Hull, distanceMm: number, offDeg: number): Place3 => {
  const off = (offDeg * Math.PI) / 180
  const away = distanceMm + hull.radiusMm
  return { xMm: away * Math.sin(off), yMm: 0, zMm: hull.toZMm + away * Math.cos(off) }
}

const angleOff = (hull: Hull, { xMm, yMm, zMm }: Place3): number =>
  (Math.atan2(Math.hypot(xMm, yMm), zMm - hull.toZMm) * 180) / Math.PI

const soonestLimit = (r: EyeReading): number => Math.min(r.blueSeconds ?? Infinity, r.thermalSeconds ?? Infinity)

/** Distances of a row of readings, near to far. */
function readDistances(near: readonly EyeReading[], source: SourceRadiance, angleDeg: number): EyeDistances {
  const readings = [...near, ...fartherThan(near, source)]
  return distancesBy(angleDeg, (limit, seconds) => keepAwayMm(readings, limit, seconds))
}

/** Past the last reading light of one field falls as 1/d². */
const fartherThan = (near: readonly EyeReading[], source: SourceRadiance): EyeReading[] =>
  near.slice(-1).flatMap((last) =>
    Array.from({ length: FARTHER }, (_, k) => {
      const by = GROWTH ** (k + 1)
      return withFields({ ...last, distanceMm: last.distanceMm * by }, dimmed(last.fields, 1 / by ** 2), source)
    }),
  )

const dimmed = (fields: readonly FieldRadiance[], by: number): FieldRadiance[] =>
  fields.map((f) => ({ ...f, blueWm2sr: f.blueWm2sr * by, thermalWm2sr: f.thermalWm2sr * by }))

const untilBlue = (r: EyeReading): number => r.blueSeconds ?? Infinity

function distancesBy(
  angleDeg: number,
  awayMm: (limit: (r: EyeReading) => number, seconds: number) => number,
): EyeDistances {
  const away = (seconds: number) => awayMm(soonestLimit, seconds) / 1000
  return {
    angleDeg,
    metres: {
      blink: away(EXPOSURES.blink),
      tenSeconds: away(EXPOSURES.tenSeconds),
      hundredSeconds: away(EXPOSURES.hundredSeconds),
    },
    noLimitM: awayMm(untilBlue, NO_LIMIT_SECONDS) / 1000,
  }
}

const NO_LIMIT_SECONDS = 1e5

/**
 * The same not in steps: between the last distance that fails and the next, where the light would reach the limit that falls outwards as a power of the distance, by the factors that
 * set it apart from the limit at both.
 */
function distancesBetween(near: readonly EyeReading[], source: SourceRadiance, angleDeg: number): EyeDistances {
  const readings = [...near, ...fartherThan(near, source)]
  return distancesBy(angleDeg, (limit, seconds) => {
    const last = readings.findLastIndex((r) => limit(r) < seconds)
    const [here, next] = [readings[last], readings[last + 1]]
    if (!here || !next) return keepAwayMm(readings, limit, seconds)
    const [over, under] = [here, next].map((r) => marginOf(r, source, limit, seconds)) as [number, number]
    const step = Math.log(next.distanceMm / here.distanceMm)
    return next.distanceMm * Math.exp((-step * under) / (over + under))
  })
}

const MOST_MARGIN = Math.log(1e6)

/** By how much (log) the light of a reading may be dimmed or has to be raised until the limit is just reached. */
function marginOf(
  reading: EyeReading,
  source: SourceRadiance,
  limit: (r: EyeReading) => number,
  seconds: number,
): number {
  const fails = (by: number) => limit(withFields(reading, dimmed(reading.fields, Math.exp(by)), source)) < seconds
  const sign = fails(0) ? -1 : 1
  let [low, high] = [0, MOST_MARGIN]
  for (let step = 0; step < 20; step++) {
    const by = (low + high) / 2
    if (fails(sign * by) === sign < 0) low = by
    else high = by
  }
  return high
}

/** Aside the steps are wider: no farther than the worst place of all. */
const noFarther = (d: EyeDistances, than: EyeDistances): EyeDistances => ({
  angleDeg: d.angleDeg,
  metres: {
    blink: Math.min(d.metres.blink, than.metres.blink),
    tenSeconds: Math.min(d.metres.tenSeconds, than.metres.tenSeconds),
    hundredSeconds: Math.min(d.metres.hundredSeconds, than.metres.hundredSeconds),
  },
  noLimitM: Math.min(d.noLimitM, than.noLimitM),
})

/**
 * Distance, mm, beyond which `limit` (s) is never below `seconds`; 0 where it is nowhere below. The next reading
 * after the last that fails; beyond the last reading 1/d², as radiance averaged over a field falls. Readings near to
 * far.
 */
export function keepAwayMm(readings: readonly EyeReading[], limit: (r: EyeReading) => number, seconds: number): number {
  for (let i = readings.length - 1; i >= 0; i--) {
    if (limit(readings[i]!) >= seconds) continue
    const next = readings[i + 1]
    return next ? next.distanceMm : readings[i]!.distanceMm * Math.sqrt(seconds / limit(readings[i]!))
  }
  return 0
}

/** The longest of the four distances that applies, in m, and its time: null is beyond any limit; without any, 0 m. */
export interface EyeLead {
  metres: number
  seconds: number | null
}

/** The longest distance (m) of a row that is reached, with the exposure (s) that it is for; null: no limit beyond. */
export function leadOf({ metres, noLimitM }: EyeDistances): EyeLead {
  const all: EyeLead[] = [
    { metres: noLimitM, seconds: null },
    { metres: metres.hundredSeconds, seconds: 100 },
    { metres: metres.tenSeconds, seconds: 10 },
    { metres: metres.blink, seconds: 0.25 },
  ]
  return all.reduce((a, b) => (b.metres > a.metres ? b : a))
}
