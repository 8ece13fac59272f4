// How far an eye must keep away: straight into the beam and from the side, for a blink, ten seconds, and longer.

import type { TimeSliced } from '../num/scheduler.ts'
import type { Run } from '../run/types.ts'
import { type EyeRays, type EyeReading, makeEyeRays, readEye, type SourceRadiance } from './eye.ts'
import { makeCrowdFinder } from './planes.ts'

/**
 * Exposures, s, that distances are read for: the blink that turns the eye away, ten seconds of staring, the longest
 * field of a glance.
 */
const EXPOSURES = [0.25, 10, 100] as const

export interface EyeDistances {
  angleDeg: number
  /** Beyond it an exposure of so many seconds stays below both limits; upper ends. 0: anywhere past 200 mm. */
  metres: Record<'blink' | 'tenSeconds' | 'hundredSeconds', number>
  /** Beyond it no limit of blue light is reached at all, within 10 000 s. */
  noLimitM: number
}

export interface EyeSheet {
  source: SourceRadiance
  /** Straight into the beam, near to far; then each angle. */
  readings: EyeReading[]
  distances: EyeDistances[]
  /** At the nearest distance that the standard reads at, 200 mm, straight in. */
  nearest: EyeReading
}

const NEAREST_MM = 200
const FARTHEST_MM = 400_000
const GROWTH = 1.45
const ANGLES_DEG = [10, 20, 30, 45]
const AZIMUTHS = 6
/** Even enough to be averaged: straight in a beam of a few degrees, and at its flank. */
const WIDEN = { straight: 0.003, aside: 0.03 }
const ASIDE_GROWTH = 2.2

/**
 * Readings of an eye from 200 mm to 400 m, straight into the beam and at 10 to 45° off the axis, and the distances
 * (m) beyond which an exposure stays below both limits. Time-sliced. Angles and steps: our choice.
 */
export function* readEyes(run: Run, frontZMm: number, source: SourceRadiance): TimeSliced<EyeSheet> {
  const rays = makeEyeRays(run, frontZMm)
  const straight: EyeReading[] = []
  for (let d = NEAREST_MM; d < FARTHEST_MM; d *= GROWTH) {
    yield
    straight.push(readEye(rays, { ...findWorstPlace(rays, d), distanceMm: d }, 0, source, WIDEN.straight))
  }
  const readings = [...straight]
  const distances = [readDistances(straight, 0)]
  for (const angleDeg of ANGLES_DEG) {
    const aside: EyeReading[] = []
    for (let d = NEAREST_MM; d < FARTHEST_MM; d *= ASIDE_GROWTH) {
      yield
      aside.push(findWorstAside(rays, d, angleDeg, source))
    }
    readings.push(...aside)
    distances.push(readDistances(aside, angleDeg))
  }
  return { source, readings, distances, nearest: straight[0]! }
}

const EYE_DISC_MM = 40

function findWorstPlace(rays: EyeRays, distanceMm: number): { xMm: number; yMm: number } {
  const columns = { ...rays, zMm: 0, lumens: rays.watts }
  const every = { index: Uint32Array.from({ length: rays.count }, (_, i) => i), factor: 1, batches: 16 }
  const disc = Math.max(EYE_DISC_MM, WIDEN.straight * distanceMm)
  // The beam's middle: places farther out than this see less than a part of it.
  const found = makeCrowdFinder(columns, every, disc)(distanceMm, Math.max(300, 0.1 * distanceMm))
  return found ?? { xMm: 0, yMm: 0 }
}

/** A passer-by at a distance from the middle of the lamp's front, on the side that sees most. */
function findWorstAside(rays: EyeRays, distanceMm: number, angleDeg: number, source: SourceRadiance): EyeReading {
  const theta = (angleDeg * Math.PI) / 180
  const all = Array.from({ length: AZIMUTHS }, (_, k) => {
    const turn = (2 * Math.PI * k) / AZIMUTHS
    const r = distanceMm * Math.sin(theta)
    const at = { xMm: r * Math.cos(turn), yMm: r * Math.sin(turn), distanceMm: distanceMm * Math.cos(theta) }
    return { ...readEye(rays, at, angleDeg, source, WIDEN.aside), distanceMm }
  })
  return all.reduce((a, b) => (b.fields[1]!.blueWm2sr > a.fields[1]!.blueWm2sr ? b : a))
}

const soonestLimit = (r: EyeReading): number => Math.min(r.blueSeconds ?? Infinity, r.thermalSeconds ?? Infinity)

function readDistances(readings: readonly EyeReading[], angleDeg: number): EyeDistances {
  const [blink, tenSeconds, hundredSeconds] = EXPOSURES.map((t) => keepAwayMm(readings, soonestLimit, t) / 1000)
  return {
    angleDeg,
    metres: { blink: blink!, tenSeconds: tenSeconds!, hundredSeconds: hundredSeconds! },
    noLimitM: keepAwayMm(readings, (r) => r.blueSeconds ?? Infinity, 1e5) / 1000,
  }
}

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
