// Backward estimates beside the axis: places near the axis where the forward run has few rays, and a direction that it has found. Each joins
// the forward value by their variances. Requested from the second reading on, behind the work that waits, and only for as long as a backward
// ray tells more than the forward rays that would take the same time.
import { ANGLES } from '../../beam/angles.ts'
import type { Peak } from '../../beam/peak.ts'
import type { Profile } from '../../beam/profile.ts'
import { centreDiscM } from '../../beam/target.ts'
import type { Aim } from '../../engine/backward/aim.ts'
import { type BackwardEstimate, type BackwardEstimates, TRUSTED } from '../../engine/progressive.ts'
import { frontZMm } from '../../lamp/front.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { jackknife } from '../../run/batches.ts'
import type { Figure } from '../../run/figure.ts'
import { BATCHES, type TallyShape } from '../../run/types.ts'
import { type AimEstimate, type Forward, type Found, MOVED, near, nodeAt, peakAim } from './aims.ts'
import { joinedAngles } from './joinBackward.ts'
import { FRESH_FROM, isDarker, makeScouting } from './scouting.ts'

export interface AimEstimates {
  /** Choose aims by a reading and request rays for them. */
  request(forward: Forward, axis: BackwardEstimate | null): void
  /** Everything requested so far, once it has been traced. */
  take(): Promise<AimEstimate[]>
}

/** Rings of the profile: at one to so many cones from the axis. */
const RINGS = 4
/** All aims together, and the search for the peak, get one backward ray for so many forward ones. */
const FORWARD_FOR_ONE = 16
/** A view gets no more rays than this many times those of the first asking. */
const MOST_TIMES_FIRST = 32
/** A backward ray must tell as much as this many forward ones: it takes three times their time. */
const WORTH = 6
/** Better than this share (one standard error) nobody needs. */
const FINE_ENOUGH = 5e-4
/** An aim at a crossing follows it when it has moved by more than so many of its errors, or this part of the cone. */
const MOVED_ERRORS = 2
const MOVED_RING = 0.1
/** One at a peak that backward rays have found follows it when it has moved by this part of the cone. */
const MOVED_FOUND = 0.2
/** The forward rays alone leave the lamp: a ring further out than this is not aimed at, rad. */
const WIDEST_RING = 1.5

interface AimProgress {
  of: AimEstimate['of']
  aim: Aim
  progressive: ReturnType<BackwardEstimates['at']>
  raysEach: number
  latest: BackwardEstimate | null
  pending: Promise<BackwardEstimate> | null
  found?: Found
}

export function makeAimEstimates(estimates: BackwardEstimates, shape: TallyShape, lamp: Lamp): AimEstimates {
  const progress: AimProgress[] = []
  const cone = shape.axialConeHalfRad
  const scouting = makeScouting(estimates, cone)
  /** Rays of a batch that the scouting has taken. */
  let scouted = 0
  let axisCd = 0
  const forwardAt: Partial<Record<AimEstimate['of'], Figure>> = {}
  /** What the forward rays know of the same. */
  function forwardOf({ of, aim }: Pick<AimEstimate, 'of' | 'aim'>, { beam, target }: Forward): Figure | undefined {
    if (of === 'target') return target.figures.targetCentreLx
    if (of !== 'profile') return forwardAt[of]
    const j = aim.kind === 'ring' ? nodeAt(beam.smoothed, aim.thetaRad) : -1
    return j > 0 ? { value: beam.smoothed!.cd[j]!, se: beam.smoothed!.seCd[j]! } : undefined
  }
  const follow = (of: AimEstimate['of'], aim: Aim, raysEach = 0) =>
    progress.push({
      ...{ of, aim, raysEach, latest: null, pending: null },
      progressive: estimates.at(aim, true, of === 'peak' ? FRESH_FROM : 0),
    })

  function begin({ beam }: Forward): void {
    for (const j of ringNodes(beam.smoothed, shape))
      follow('profile', { kind: 'ring', thetaRad: beam.smoothed!.thetaRad[j]!, halfRad: cone })
    const discMm = 2000 * centreDiscM(lamp.target, cone)
    follow('target', { kind: 'disc', xMm: 0, yMm: 0, zMm: frontZMm(lamp) + 1000 * lamp.target.distanceM, discMm })
  }

  /** The same aim while it stays near where it was found. */
  function followAim(of: AimEstimate['of'], aim: Aim | null, movedRad: number): void {
    const at = progress.findIndex((a) => a.of === of)
    if (at >= 0 && aim && near(progress[at]!.aim, aim, movedRad)) return
    const [before] = at >= 0 ? progress.splice(at, 1) : []
    // As many rays at once as the aim before it had.
    if (aim) follow(of, aim, before?.raysEach)
  }

  /** The peak off the axis, where backward rays have found it or else the forward rays may have it. */
  function followPeak(offAxis: Peak | null): void {
    const found = scouting.found()
    followAim('peak', peakAim(found?.at ?? offAxis, cone), (found ? MOVED_FOUND : MOVED) * cone)
    const aimed = progress.find(({ of }) => of === 'peak')
    if (aimed) {
      if (found) aimed.found = found
      else delete aimed.found
    }
    if (offAxis && !found) forwardAt.peak = offAxis
    else delete forwardAt.peak
  }

  /** That, and where the profile falls through a half and a tenth of the peak. */
  function followBeam(forward: Forward, axis: BackwardEstimate | null): void {
    const known = joinedAngles(forward, axis, latestOf(progress))
    followPeak(known.offAxis)
    axisCd = known.axisCd
    for (const { key } of ANGLES) {
      const half = known.angles[key]
      const aim =
        half && half.rad + cone < WIDEST_RING ? ({ kind: 'ring', thetaRad: half.rad, halfRad: cone } as const) : null
      const errorRad = half ? Math.hypot(half.ownSe, jackknife(half.rad, half.without).se) : 0
      followAim(key, aim, Math.max(MOVED_ERRORS * errorRad, MOVED_RING * cone))
      if (half) forwardAt[key] = { value: 0, se: half.forwardSeCd }
    }
  }

  return {
    request(forward, axis) {
      if (!forward.beam.smoothed) return
      if (progress.length === 0) begin(forward)
      followBeam(forward, axis)
      scouted += scouting.request(forward, axisCd)
      const first = estimates.firstRays()
      const budget = Math.max(0, forward.rays / BATCHES / FORWARD_FOR_ONE - scouted)
      const going = progress.filter((a) => worthGoingOn(a, forwardOf(a, forward), forward.rays, first, axisCd))
      for (const a of going) {
        const each = a.latest ? Math.floor(budget / going.length) : 0
        a.raysEach = Math.max(a.raysEach, Math.min(MOST_TIMES_FIRST * first, Math.max(first, each)))
        a.pending = a.progressive.upTo(a.raysEach)
        a.pending.catch(() => {}) // awaited by take; a stop may come first
      }
    },
    async take() {
      await scouting.take()
      for (const a of progress) {
        if (!a.pending) continue
        a.latest = await a.pending
        a.pending = null
      }
      return latestOf(progress)
    },
  }
}

const latestOf = (progress: AimProgress[]): AimEstimate[] =>
  progress.flatMap(({ of, aim, latest, found }) =>
    latest ? [{ of, aim, estimate: latest, ...(found && { found }) }] : [],
  )

/** Per ray, the view tells more than the forward run does of the same figure; or nobody knows yet. A place darker than the axis (cd) is decided. */
function worthGoingOn(
  a: AimProgress,
  forward: Figure | undefined,
  rays: number,
  first: number,
  axisCd: number,
): boolean {
  if (!a.latest) return true
  const { latest } = a
  if (latest.effective < TRUSTED) return a.raysEach < 4 * first
  if (latest.se < FINE_ENOUGH * latest.value) return false
  if (a.found && isDarker(latest, axisCd)) return false
  return !forward || !(forward.se > 0) || latest.se ** 2 * latest.rays * WORTH < forward.se ** 2 * rays
}

/** The bins of the profile nearest to whole numbers of cones; none where bins are wider than the cone, or the cone as wide as the beam. */
function ringNodes(profile: Profile | null, shape: TallyShape): number[] {
  const cone = shape.axialConeHalfRad
  const bin = shape.fineHalfRad / shape.fineBins
  if (!profile || cone < 2 * bin) return []
  const most = Math.min(RINGS, Math.floor(shape.fineHalfRad / cone) - 1)
  return Array.from({ length: Math.max(0, most) }, (_, k) => 1 + Math.round(((k + 1) * cone) / bin - 0.5))
}
