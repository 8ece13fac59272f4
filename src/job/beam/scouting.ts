// Where off the axis the peak is: a few backward rays towards each place where the forward rays may have it, then towards the neighbours of the
// brightest, nearer and nearer. All of them sample by the same numbers of rays, so that most of their noise is in common. What the peak is worth
// there is measured by other rays (`FRESH_FROM`): the brightest of many is chosen for its noise too.
import { type Direction, findBrightPlaces } from '../../beam/peak.ts'
import type { Aim } from '../../engine/backward/aim.ts'
import type { BackwardEstimate, BackwardEstimates } from '../../engine/progressive.ts'
import { fold } from '../../run/batches.ts'
import { BATCHES } from '../../run/types.ts'
import { type Forward, type Found, near, peakAim } from './aims.ts'

/** Rays of a batch from this one on were never used to choose a place. */
export const FRESH_FROM = 1 << 14
/** Rays of a batch for one sample: so many at first, then one for so many forward ones. */
const FIRST_SHARE = 1 / 4
const FORWARD_FOR_ONE = 1024
const MOST_EACH = 1 << 12
/** New places at most each time that the run has doubled; of a grained beam, where any cell may hold the peak. */
const MOST_PLACES = 5
const MOST_GRAINED = 24
/** Steps to the neighbours, as parts of the cone: from here to there. */
const FIRST_STEP = 0.5
const LAST_STEP = 0.2
/** A sample tells nothing when it comes from fewer rays than this, (Σs)²/Σs²; where no device traces, the first ones are of so many rays. */
export const TELLS_FROM = 30
export const FIRST_RAYS = 1024
/** Nearer to the axis than this part of the cone it is the axis. */
const ON_AXIS = 0.25
/** Places beyond the axis's cone that may all be the peak get so many times the rays, again and again, as long as they take one ray for so many forward ones in all … */
const RACE_TIMES = 4
const RACE_FOR_ONE = 16
/** … and the brightest isn't known to this share yet (one standard error). A place that is darker than another by so many errors is out. */
const RACE_ENOUGH = 0.005
const OUT_SIGMAS = 2

interface Place {
  at: Direction
  aim: Aim
}

interface Sample extends Place {
  progressive: ReturnType<BackwardEstimates['at']>
  estimate: BackwardEstimate
}

export interface Scouting {
  /** Rays of a batch that the next samples take in all. A place darker than the axis (`axisCd`) for sure has its neighbours left alone. */
  request(forward: Forward, axisCd: number): number
  take(): Promise<void>
  /** The brightest place off the axis; null before the first samples have come, and where they tell nothing. */
  found(): Found | null
}

export function makeScouting(estimates: BackwardEstimates, cone: number): Scouting {
  let raysEach = 0
  let firstEach = 0
  let lookedAt = 0
  let step = FIRST_STEP
  let samples: Sample[] = []
  let pending: Promise<Sample>[] = []
  const best = () =>
    samples
      .filter(({ at }) => at.thetaRad >= ON_AXIS * cone)
      .reduce<Sample | null>((a, b) => (a && a.estimate.value >= b.estimate.value ? a : b), null)
  let taken = 0
  let askedNeighbours = false
  const sample = async (place: Place & { progressive?: Sample['progressive'] }): Promise<Sample> => {
    const { at, aim, progressive = estimates.at(aim, true) } = place
    return { at, aim, progressive, estimate: await progressive.upTo(raysEach) }
  }
  /** Those that more rays must distinguish; none where that is decided, or rays are used up. */
  const racing = (rays: number, axisCd: number): Sample[] => {
    const top = best()
    if (!top || top.at.thetaRad <= cone || isDarker(top.estimate, axisCd)) return []
    const { value, se } = top.estimate
    const rivals = samples.filter(
      (s) => s.at.thetaRad > cone && value - s.estimate.value <= OUT_SIGMAS * Math.hypot(se, s.estimate.se),
    )
    const decided = rivals.length === 1 && value - axisCd > DARKER_SIGMAS * se
    const each = raysEach * RACE_TIMES
    const affordable = taken + rivals.length * (each - raysEach) <= rays / BATCHES / RACE_FOR_ONE
    return decided || se <= RACE_ENOUGH * value || each > FRESH_FROM || !affordable ? [] : rivals
  }

  return {
    request(forward, axisCd) {
      const { beam, run, rays } = forward
      const doubled = rays >= 2 * lookedAt
      const from = best()
      const places: Place[] = []
      // Of a forward peak its direction alone: what it is worth there, other rays tell.
      const add = ({ thetaRad, azimuthRad, around }: Direction, apartRad: number) => {
        const at = { thetaRad, azimuthRad, around }
        const aim = peakAim(at, cone)
        if (aim && !places.some((p) => near(p.aim, aim, apartRad))) places.push({ at, aim })
      }
      let again: Sample[] = []
      askedNeighbours = false
      if (doubled && beam.smoothed) {
        lookedAt = rays
        const share = Math.max(estimates.firstRays() * FIRST_SHARE, rays / BATCHES / FORWARD_FOR_ONE)
        raysEach = firstEach = Math.floor(Math.min(MOST_EACH, share))
        samples = []
        step = FIRST_STEP
        if (from) add(from.at, 0)
        const { spot, ring } = beam.peaks ?? { spot: null, ring: null }
        for (const at of [spot, ring]) if (at) add(at, cone / 2)
        const wanted = beam.peaks?.grained ? MOST_GRAINED : MOST_PLACES
        const most = wanted + (from ? 1 : 0)
        for (const at of findBrightPlaces(fold(run), beam.smoothed, Math.ceil(wanted / 2)))
          if (places.length < most) add(at, cone / 2)
      } else {
        again = racing(rays, axisCd)
        const affordable = raysEach <= firstEach || taken + 4 * raysEach <= (2 * rays) / BATCHES / RACE_FOR_ONE
        if (again.length === 0 && from && step >= LAST_STEP && affordable && !isDarker(from.estimate, axisCd)) {
          askedNeighbours = true
          for (const at of neighbours(from.at, step * cone)) add(at, 0)
        }
      }
      const before = raysEach
      if (again.length > 0) {
        raysEach *= RACE_TIMES
        samples = samples.filter((s) => !again.includes(s))
      }
      const fresh = places.filter(({ aim }) => !samples.some((l) => near(l.aim, aim, cone / 20)))
      pending = [...again, ...fresh].map(sample)
      for (const p of pending) p.catch(() => {}) // awaited by take; a stop may come first
      const rayCount = again.length * (raysEach - before) + fresh.length * raysEach
      taken += rayCount
      return rayCount
    },
    async take() {
      if (pending.length === 0) return
      const before = best()
      const known = samples.length > 1
      samples = samples.concat((await Promise.all(pending)).filter(({ estimate }) => estimate.effective >= TELLS_FROM))
      pending = []
      if (askedNeighbours && known && best() === before) step /= 2
    },
    found() {
      const top = best()
      return top && { at: top.at, besideCd: besideOf(top, samples, cone) }
    },
  }
}

/** A place that is darker than the axis by so many standard errors is not the peak. */
const DARKER_SIGMAS = 3
export const isDarker = ({ value, se }: BackwardEstimate, axisCd: number): boolean =>
  value + DARKER_SIGMAS * se < axisCd

/** One step inwards and outwards; of a place that is no ring also to both sides. */
function neighbours({ thetaRad, azimuthRad, around }: Direction, stepRad: number): Direction[] {
  if (around)
    return [-1, 1].map((s) => ({ thetaRad: thetaRad + s * stepRad, azimuthRad, around })).filter((d) => d.thetaRad > 0)
  const [x, y] = [thetaRad * Math.cos(azimuthRad), thetaRad * Math.sin(azimuthRad)]
  const steps: [number, number][] = [
    [stepRad, 0],
    [-stepRad, 0],
    [0, stepRad],
    [0, -stepRad],
  ]
  return steps.map(([dx, dy]) => ({
    thetaRad: Math.hypot(x + dx, y + dy),
    azimuthRad: Math.atan2(y + dy, x + dx),
    around,
  }))
}

/**
 * About its top the intensity falls with the square of the distance. Where the nearest neighbours, a step away, are darker by d, the top lies within
 * half a step in each direction and is brighter by d/4 at most, on average by a third of that: taken as one standard error.
 */
function besideOf(top: Sample, samples: readonly Sample[], cone: number): number {
  let about = samples.filter((l) => l !== top)
  for (const reach of [FIRST_STEP, FIRST_STEP / 2, FIRST_STEP / 4].map((step) => 1.01 * step * cone)) {
    const nearer = about.filter((l) => near(l.aim, top.aim, reach))
    if (nearer.length > 0) about = nearer
  }
  return Math.max(0, ...about.map((l) => top.estimate.value - l.estimate.value)) / 12
}
