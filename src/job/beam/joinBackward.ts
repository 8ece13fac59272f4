// A forward reading joined with the backward estimates of its axis, its peak, its crossings, its profile near the axis and its target's centre.
import { type Angles, type PeakLevel, type Ring, readAngles, TABLE } from '../../beam/angles.ts'
import { type Beam, forwardPeak, readByPeak } from '../../beam/beam.ts'
import { type Hedged, hedge, hedgeUnseen, isSurelyBrighter } from '../../beam/hedge.ts'
import { choosePeak, type Direction, findRivals, type Peak } from '../../beam/peak.ts'
import type { TargetReading } from '../../beam/target.ts'
import { readCone, windowCellRad } from '../../beam/windowMap.ts'
import type { Aim } from '../../engine/backward/aim.ts'
import { type BackwardEstimate, combine, TRUSTED } from '../../engine/progressive.ts'
import { fold, jackknife, weightsError } from '../../run/batches.ts'
import type { Figure } from '../../run/figure.ts'
import { BATCHES } from '../../run/types.ts'
import { type AimEstimate, type Forward, MOVED, near, nodeAt, peakAim } from './aims.ts'
import { FIRST_RAYS, TELLS_FROM } from './scouting.ts'
import type { ForwardBackward } from './sheet.ts'

const RAD = Math.PI / 180
/** The map's cells put the forward peak off by as much. */
const PEAK_SLACK = 0.01
/** The forward error is to be trusted from so many telling rays on: (value / se)². */
const COMPARABLE = 100

export interface Joined {
  beam: Beam
  target: TargetReading
  forwardBackward: ForwardBackward[]
}

type Join = (
  figure: ForwardBackward['figure'],
  forward: Figure,
  back: BackwardEstimate,
  /** A searched place: the forward intensity in the cone of the backward estimate. */
  inCone?: Figure | null,
) => Figure | null

/** The beam of a run as `readLight` has it. */
type ForwardBeam = Pick<Forward, 'run' | 'beam'>

/** The reading joined with the backward estimates. */
export function joinBackward(forward: Forward, axis: BackwardEstimate | null, aims: AimEstimate[]): Joined {
  const forwardBackward: ForwardBackward[] = []
  const join = joinInto(forwardBackward)
  const beam = joinBeam(forward, axis, aims, join)
  const target = joinCentre(forward.target, aims, join)
  return { beam, target, forwardBackward: forwardBackward.concat(profileEnds(forward.beam, aims)) }
}

/** The beam alone, joined with the backward estimate of its axis. */
export const joinAxis = (forward: ForwardBeam, axis: BackwardEstimate | null): Beam =>
  joinBeam(forward, axis, [], joinInto([]))

/** Joins figures, and lists those that are known from either end. */
function joinInto(forwardBackward: ForwardBackward[]): Join {
  return (figure, forward, back, inCone) => {
    const both = combine(forward, back)
    if (both.apart === null) return both.backwardShare > 0 ? both : null
    const backward = { value: back.value, se: back.se }
    if (forward.value ** 2 >= COMPARABLE * forward.se ** 2)
      forwardBackward.push(
        inCone ? comparePlaces(figure, forward, inCone, backward) : compare(figure, forward, backward),
      )
    return atLeast(both)
  }
}

function joinBeam(forward: ForwardBeam, axis: BackwardEstimate | null, aims: AimEstimate[], join: Join): Beam {
  const { beam, run } = forward
  const { axial, peak } = joinPeak(forward, axis, aims, join)
  if (!peak) return beam
  const joined = readByPeak(beam, run, peak, ringsOf(aims))
  const figures = { ...joined.figures, ...(axial && { axialIntensityCd: axial }) }
  const floors = { ...joined.floors, ...(axial && { axialIntensityCd: TABLE * axial.value }) }
  const absent = { ...joined.absent }
  if (axial) delete absent.axialIntensityCd
  const profile = { ...joinProfile(beam, axis, aims), byDirection: joined.profile.byDirection }
  return { ...joined, figures, floors, absent, profile }
}

interface JoinedPeak {
  axial: Figure | undefined
  /** Off the axis where the forward rays have the peak, against the joined axis, or may have it. */
  offAxis: Peak | null
  peak: (PeakLevel & Pick<Peak, 'thetaRad' | 'azimuthRad' | 'around' | 'cell'>) | null
}

/** A place beyond the axis's cone may be the peak unless it is darker by so many standard errors; one within it shares much of its light, so that their difference is known better. */
const MAYBE_SIGMAS = 2

/** Backward rays distinguish places as far as a few of them meet light on the axis. */
const seesPlaces = (axis: BackwardEstimate | null): boolean =>
  axis !== null && axis.effective * FIRST_RAYS >= TELLS_FROM * axis.rays

const holdsAgainst = (place: Figure, found: Figure): boolean =>
  isSurelyBrighter(place, found) || (found.se > place.se && !isSurelyBrighter(found, place))

/** The axis and the peak, each from both directions of tracing where both know it; the peak is never below the axis. */
function joinPeak(forward: ForwardBeam, axis: BackwardEstimate | null, aims: AimEstimate[], join: Join): JoinedPeak {
  const { beam } = forward
  const forwardAxial = beam.figures.axialIntensityCd
  const alone = axis && axis.effective >= TRUSTED ? atLeast(axis) : null
  const joinedAxial = axis && forwardAxial ? join('axialIntensityCd', forwardAxial, axis) : alone
  const axial = joinedAxial ?? forwardAxial
  if (!beam.peaks) return { axial, offAxis: null, peak: null }
  const onAxis = { ...beam.peaks.axis, ...joinedAxial }
  const candidates = { ...beam.peaks, axis: onAxis }
  const place = choosePeak(candidates)
  const rivals = findRivals(candidates, place)
  const rival = rivals.reduce<Peak | null>((best, p) => (best && best.value >= p.value ? best : p), null)
  const offAxis = place.thetaRad > 0 ? place : rival
  const own = (
    { value, se, toEnds }: Hedged,
    { thetaRad, azimuthRad, around }: Peak,
    besideCd = 0,
  ): JoinedPeak['peak'] => {
    const without = new Array<number>(BATCHES).fill(value)
    const floorSe = Math.hypot(TABLE * value, besideCd)
    return { value, se, floorSe, thetaRad, azimuthRad, around, without, isOwn: true, ...(toEnds && { toEnds }) }
  }
  // The greater of two that are alike would be chosen for its noise.
  const unlessBrighter = (at: Direction, figure: Figure) => {
    const sigmas = at.thetaRad > candidates.coneRad ? -MAYBE_SIGMAS : 1
    const maybe = figure.value - onAxis.value > sigmas * Math.hypot(figure.se, onAxis.se)
    const { thetaRad, azimuthRad, around } = at
    return own(maybe ? hedge(onAxis, [{ ...onAxis, thetaRad, azimuthRad, around, ...figure }]) : onAxis, onAxis)
  }
  const found = joinFound(forward, offAxis, aims, join)
  // A place that the forward rays know to be brighter, and no worse than it is known itself, stands against it; whatever only may be is decided by it.
  if (found && !(place.thetaRad > 0 && holdsAgainst(place, found.figure))) {
    const there = { ...onAxis, ...found.at }
    const isBrighter = isSurelyBrighter(found.figure, onAxis)
    return {
      axial,
      offAxis,
      peak: isBrighter ? own(found.withBeside, there, found.besideCd) : unlessBrighter(found.at, found.figure),
    }
  }
  const joined = offAxis && joinPlace(forward, offAxis, aims, join)
  if (place.thetaRad === 0) {
    if (joined && offAxis) {
      const isBrighter = isSurelyBrighter(joined, onAxis)
      return { axial, offAxis, peak: isBrighter ? own(joined, offAxis) : unlessBrighter(offAxis, joined) }
    }
    const byForward = joinedAxial && !rival ? null : forwardPeak(onAxis, rivals)
    const here: Hedged = byForward ?? onAxis
    const wider = rival || seesPlaces(axis) ? here : hedgeUnseen(here, beam.peaks)
    return { axial, offAxis, peak: byForward && wider === here ? byForward : own(wider, onAxis) }
  }
  if (joinedAxial && joinedAxial.value >= (joined ?? place).value)
    return { axial, offAxis, peak: own(joinedAxial, onAxis) }
  return { axial, offAxis, peak: joined ? own(joined, place) : forwardPeak(place, rivals) }
}

interface FoundPeak {
  figure: Figure
  /** The same, with what its neighbours tell in the error. */
  withBeside: Figure
  besideCd: number
  at: Direction
}

/** The place that backward rays have found, measured by others, joined with the forward rays where they mean the same place. */
function joinFound(forward: ForwardBeam, offAxis: Peak | null, aims: AimEstimate[], join: Join): FoundPeak | null {
  const peak = aims.find(({ of, found }) => of === 'peak' && found)
  if (!peak?.found || !('halfRad' in peak.aim) || peak.estimate.effective < TRUSTED) return null
  const there = peakAim(offAxis, peak.aim.halfRad)
  const same = offAxis && there && near(there, peak.aim, MOVED * peak.aim.halfRad) && seesCone(forward, peak.aim)
  const both = same
    ? join('peakIntensityCd', { value: offAxis.value, se: offAxis.se }, peak.estimate, inCone(forward, peak.aim))
    : null
  const { value, se } = both ?? atLeast(peak.estimate)
  const { at, besideCd } = peak.found
  return { figure: { value, se }, withBeside: { value, se: Math.hypot(se, besideCd) }, besideCd, at }
}

/** A place off the axis, joined with the backward estimate of it where there is one. */
function joinPlace(forward: ForwardBeam, place: Peak, aims: AimEstimate[], join: Join): Figure | null {
  const aim = aims.find(({ of, aim: at }) => {
    const here = 'halfRad' in at ? peakAim(place, at.halfRad) : null
    return of === 'peak' && 'halfRad' in at && here !== null && near(at, here, MOVED * at.halfRad)
  })
  if (!aim) return null
  if (!seesCone(forward, aim.aim)) return aim.estimate.effective >= TRUSTED ? atLeast(aim.estimate) : null
  return join('peakIntensityCd', { value: place.value, se: place.se }, aim.estimate, inCone(forward, aim.aim))
}

/** What the forward rays say of the very cone of a backward estimate; null of a ring, or beyond the window. */
const inCone = ({ run }: ForwardBeam, aim: Aim): Figure | null =>
  aim.kind === 'cone' ? readCone(fold(run), aim.thetaRad, aim.phiRad, aim.halfRad) : null

/** Whether the cells of the window tell such a cone from its neighbours: where they are wider, the forward rays say nothing of it. */
const seesCone = ({ run }: ForwardBeam, aim: Aim): boolean =>
  aim.kind !== 'cone' || windowCellRad(run.shape) <= 2 * aim.halfRad

const compare = (figure: ForwardBackward['figure'], forward: Figure, backward: Figure): ForwardBackward => ({
  figure,
  forward,
  backward,
  apart: slackened(forward, backward, figure === 'peakIntensityCd' ? PEAK_SLACK : 0),
})

/**
 * A place that was searched for: measured in the other half of the rays, which is the mean of two places and no brighter than the brightest, and in
 * the backward estimate's own cone, which noise may have helped to be chosen. Between the two nothing is apart.
 */
function comparePlaces(figure: ForwardBackward['figure'], searched: Figure, inCone: Figure, backward: Figure) {
  const [low, high] = searched.value < inCone.value ? [searched, inCone] : [inCone, searched]
  const nearest = backward.value < low.value ? low : backward.value > high.value ? high : null
  return nearest ? compare(figure, nearest, backward) : { figure, forward: inCone, backward, apart: 0 }
}

/** The azimuth mean near the crossings of the beam and the field angle. */
function ringsOf(aims: AimEstimate[]): Partial<Record<keyof Angles, Ring>> {
  const rings: Partial<Record<keyof Angles, Ring>> = {}
  for (const { of, aim, estimate } of aims)
    if ((of === 'beam' || of === 'field') && aim.kind === 'ring' && estimate.effective >= TRUSTED)
      rings[of] = { thetaRad: aim.thetaRad, value: estimate.value, se: estimate.se }
  return rings
}

/**
 * Half angles of beam and field as far as they are known, the place off the axis where the forward rays have the peak, or may have it, and the
 * axis, cd: what the next aims are chosen by.
 */
export function joinedAngles(
  forward: Forward,
  axis: BackwardEstimate | null,
  aims: AimEstimate[],
): { offAxis: Peak | null; axisCd: number; angles: Angles } {
  const { smoothed } = forward.beam
  const { axial, offAxis, peak } = joinPeak(forward, axis, aims, (_, f, back) => {
    const both = combine(f, back)
    return both.backwardShare > 0 ? atLeast(both) : null
  })
  const axisCd = axial?.value ?? 0
  if (!peak || !smoothed) return { offAxis: null, axisCd, angles: {} }
  const { angles } = readAngles(fold(forward.run), smoothed, peak, ringsOf(aims))
  return { offAxis, axisCd, angles }
}

/** No better than the tables of profiles. */
const atLeast = ({ value, se }: Figure): Figure => ({ value, se: Math.max(se, TABLE * value) })

function slackened(a: Figure, b: Figure, slack: number): number {
  const off = Math.abs(a.value - b.value)
  const error = Math.hypot(a.se, b.se, slack * a.value)
  return error > 0 ? off / error : off > 1e-9 * Math.abs(a.value) ? Number.POSITIVE_INFINITY : 0
}

/** The centre of the target. Too few exit rays there and the forward run reads a wider disc, or the far field: then the backward estimate stands alone. */
function joinCentre(
  target: TargetReading,
  aims: AimEstimate[],
  join: (figure: 'targetCentreLx', forward: Figure, back: BackwardEstimate) => Figure | null,
): TargetReading {
  const view = aims.find((v) => v.of === 'target')
  const forward = target.figures.targetCentreLx
  if (view?.aim.kind !== 'disc' || view.estimate.effective < TRUSTED) return target
  const same =
    target.centreRadiusM !== null && Math.abs(2000 * target.centreRadiusM - view.aim.discMm) < 1e-6 * view.aim.discMm
  const { value, se } = view.estimate
  if (!forward) {
    const { targetCentreLx: _, ...absent } = target.absent
    return { ...target, absent, figures: { ...target.figures, targetCentreLx: { value, se } } }
  }
  const centre = same
    ? join('targetCentreLx', forward, view.estimate)
    : se * forward.value < forward.se * value
      ? { value, se }
      : null
  return centre ? { ...target, figures: { ...target.figures, targetCentreLx: centre } } : target
}

interface Node {
  at: number
  rad: number
  share: number
  back: BackwardEstimate
}

function nodesOf(beam: Beam, axis: BackwardEstimate | null, aims: AimEstimate[]): Node[] {
  const profile = beam.smoothed
  if (!profile) return []
  const node = (at: number, back: BackwardEstimate): Node[] => {
    const both = combine({ value: profile.cd[at]!, se: profile.seCd[at]! }, back)
    return at >= 0 && both.apart !== null ? [{ at, rad: profile.thetaRad[at]!, share: both.backwardShare, back }] : []
  }
  const rings = aims.flatMap(({ of, aim, estimate }) =>
    of === 'profile' && aim.kind === 'ring' ? node(nodeAt(profile, aim.thetaRad), estimate) : [],
  )
  return [...(axis ? node(0, axis) : []), ...rings].sort((a, b) => a.rad - b.rad)
}

function profileEnds(beam: Beam, aims: AimEstimate[]): ForwardBackward[] {
  const profile = beam.smoothed
  return nodesOf(beam, null, aims).flatMap(({ at, rad, back }) => {
    const forward = { value: profile!.cd[at]!, se: profile!.seCd[at]! }
    if (forward.value ** 2 < COMPARABLE * forward.se ** 2) return []
    const backward = { value: back.value, se: back.se }
    const apart = slackened(forward, back, smearing(profile!.cd, at) / forward.value)
    return [{ figure: 'profileCd' as const, thetaDeg: rad / RAD, forward, backward, apart }]
  })
}

/** What the mean over a bin may be off the value at its centre, cd: b² I″ / 24, twice, since the second difference is itself smeared. */
const smearing = (cd: Float64Array, at: number): number =>
  at > 0 && at < cd.length - 1 ? Math.abs(cd[at - 1]! - 2 * cd[at]! + cd[at + 1]!) / 12 : 0

/**
 * The profile F is smoothed with a cone: its noise at a node is, mostly, its noise within a cone of it, but the larger the nearer to the axis. So
 * the step from F to the joined value at each node, s (B − F), is taken in full there and less and less to one cone off, as a share of the
 * noise here: F(θ) + Σ h s (B − F(node)). Linear in F and B: the error is that of its parts.
 */
function joinProfile(beam: Beam, axis: BackwardEstimate | null, aims: AimEstimate[]): Beam['profile'] {
  const profile = beam.smoothed
  const nodes = nodesOf(beam, axis, aims)
  if (!profile || nodes.length === 0) return beam.profile
  const cd = beam.profile.cd.slice()
  const seCd = beam.profile.seCd.slice()
  const ring = aims.find(({ of }) => of === 'profile')?.aim
  const cone = ring?.kind === 'ring' ? ring.halfRad : 0
  /** Down to 0 at the next node, or one cone off. */
  const hat = (k: number, rad: number) => {
    const off = rad - nodes[k]!.rad
    if (off === 0) return 1
    const next = nodes[off < 0 ? k - 1 : k + 1]
    const width = Math.min(cone, next ? Math.abs(next.rad - nodes[k]!.rad) : cone)
    return width > 0 ? Math.max(0, 1 - Math.abs(off) / width) : 0
  }
  const without = new Array<number>(profile.without.length)
  const last = nodes.at(-1)!.rad + cone
  for (let j = 0; j < profile.cd.length && profile.thetaRad[j]! <= last; j++) {
    const parts = nodes.flatMap((node, k) => {
      const noise = Math.min(1, profile.seCd[j]! / profile.seCd[node.at]!)
      const weight = node.share * hat(k, profile.thetaRad[j]!) * noise
      return weight > 0 ? [{ node, weight }] : []
    })
    if (parts.length === 0) continue
    const rest = (from: Float64Array) =>
      parts.reduce((sum, { node, weight }) => sum - weight * from[node.at]!, from[j]!)
    for (let b = 0; b < without.length; b++) without[b] = rest(profile.without[b]!)
    const forward = jackknife(rest(profile.cd), without)
    cd[j] = parts.reduce((sum, { node, weight }) => sum + weight * node.back.value, forward.value)
    const ofParts = Math.hypot(forward.se, ...parts.map(({ node, weight }) => weight * node.back.se))
    seCd[j] = Math.hypot(ofParts * Math.max(...parts.map(({ weight }) => weightsError(weight))), TABLE * cd[j]!)
  }
  return { ...beam.profile, cd, seCd }
}
