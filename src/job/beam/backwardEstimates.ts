// What the far end is asked beside the axis: places near the axis where the forward run has few rays, and a direction that it has found. Each
// answer joins the forward one by their variances. Asked from the second look on, behind the work that waits, and only for as long as a
// backward ray tells more than the forward rays that its time would buy.
import type { Beam } from '../../beam/beam.ts'
import type { Profile } from '../../beam/profile.ts'
import { centreDiscM, type TargetReading } from '../../beam/target.ts'
import type { Aim } from '../../engine/backward/estimator.ts'
import { type BackwardEstimate, type BackwardEstimates, combine, TRUSTED } from '../../engine/progressive.ts'
import { frontZMm } from '../../lamp/front.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { jackknife } from '../../run/batches.ts'
import type { Figure } from '../../run/figure.ts'
import { BATCHES, type TallyShape } from '../../run/types.ts'
import type { ForwardBackward } from './sheet.ts'

const RAD = Math.PI / 180

/** One aim beside the axis and what it has seen so far. */
export interface AimEstimate {
  of: 'profile' | 'peak' | 'target'
  aim: Aim
  estimate: BackwardEstimate
}

/** What the forward run says where the far end may be asked. */
export interface Forward {
  rays: number
  beam: Beam
  target: TargetReading
}

export interface AimEstimates {
  /** Decide by a reading what to ask, and order it. */
  order(forward: Forward): void
  /** Everything ordered so far, once it is there. */
  take(): Promise<AimEstimate[]>
}

/** Rings of the profile: at one to so many cones from the axis. */
const RINGS = 4
/** All views together get one backward ray for so many forward ones. */
const FORWARD_FOR_ONE = 16
/** A view gets no more rays than this many times those of the first asking. */
const MOST_TIMES_FIRST = 32
/** A backward ray must tell as much as this many forward ones: it takes three times their time. */
const WORTH = 6
/** Better than this share (one standard error) nobody has asked for. */
const FINE_ENOUGH = 5e-4
/** A peak that moves by more than this part of the cone is a new one. */
const MOVED = 0.5
/** The map's cells and the two places of its halves put the forward peak off by as much. */
const PEAK_SLACK = 0.01
/** Profiles are tables, linear between nodes and in single precision: they hold a profile to about 2e-5, whatever the rays say. */
const TABLE = 2e-5
/** The forward error is to be trusted from so many telling rays on: (value / se)². */
const COMPARABLE = 100

interface AimProgress {
  of: AimEstimate['of']
  aim: Aim
  progressive: ReturnType<BackwardEstimates['at']>
  raysEach: number
  seen: BackwardEstimate | null
  coming: Promise<BackwardEstimate> | null
}

export function makeAimEstimates(far: BackwardEstimates, shape: TallyShape, lamp: Lamp): AimEstimates {
  const asked: AimProgress[] = []
  const cone = shape.axialConeHalfRad
  const ask = (of: AimEstimate['of'], aim: Aim) =>
    asked.push({ of, aim, progressive: far.at(aim, true), raysEach: 0, seen: null, coming: null })

  function begin({ beam }: Forward): void {
    for (const j of ringNodes(beam.smoothed, shape))
      ask('profile', { kind: 'ring', thetaRad: beam.smoothed!.thetaRad[j]!, halfRad: cone })
    const discMm = 2000 * centreDiscM(lamp.target, cone)
    ask('target', { kind: 'disc', xMm: 0, yMm: 0, zMm: frontZMm(lamp) + 1000 * lamp.target.distanceM, discMm })
  }

  /** The peak off the axis: kept while it stays where it was found. */
  function followPeak({ beam }: Forward): void {
    const aim = peakAim(beam, cone)
    const at = asked.findIndex((a) => a.of === 'peak')
    if (at >= 0 && aim && near(asked[at]!.aim, aim, MOVED * cone)) return
    if (at >= 0) asked.splice(at, 1)
    if (aim) ask('peak', aim)
  }

  return {
    order(forward) {
      if (!forward.beam.smoothed) return
      if (asked.length === 0) begin(forward)
      followPeak(forward)
      const first = far.firstRays()
      const going = asked.filter((a) => worthGoingOn(a, forward, first))
      for (const a of going) {
        const each = a.seen ? Math.floor(forward.rays / BATCHES / FORWARD_FOR_ONE / going.length) : 0
        a.raysEach = Math.max(a.raysEach, Math.min(MOST_TIMES_FIRST * first, Math.max(first, each)))
        a.coming = a.progressive.upTo(a.raysEach)
        a.coming.catch(() => {}) // awaited by take; a stop may come first
      }
    },
    async take() {
      for (const a of asked) {
        if (!a.coming) continue
        a.seen = await a.coming
        a.coming = null
      }
      return asked.flatMap(({ of, aim, seen }) => (seen ? [{ of, aim, estimate: seen }] : []))
    },
  }
}

/** Per ray, the view tells more than the forward run does of the same figure; or nobody knows yet. */
function worthGoingOn(a: AimProgress, forward: Forward, first: number): boolean {
  if (!a.seen) return true
  const { seen } = a
  if (seen.effective < TRUSTED) return a.raysEach < 4 * first
  if (seen.se < FINE_ENOUGH * seen.value) return false
  const figure = forwardOf(a, forward)
  return !figure || !(figure.se > 0) || seen.se ** 2 * seen.rays * WORTH < figure.se ** 2 * forward.rays
}

function forwardOf({ of, aim }: Pick<AimEstimate, 'of' | 'aim'>, { beam, target }: Forward): Figure | undefined {
  if (of === 'peak') return beam.figures.peakIntensityCd
  if (of === 'target') return target.figures.targetCentreLx
  const j = aim.kind === 'ring' ? nodeAt(beam.smoothed, aim.thetaRad) : -1
  return j > 0 ? { value: beam.smoothed!.cd[j]!, se: beam.smoothed!.seCd[j]! } : undefined
}

/** The bins of the profile nearest to whole numbers of cones; none where bins are wider than the cone, or the cone as wide as the beam. */
function ringNodes(profile: Profile | null, shape: TallyShape): number[] {
  const cone = shape.axialConeHalfRad
  const bin = shape.fineHalfRad / shape.fineBins
  if (!profile || cone < 2 * bin) return []
  const most = Math.min(RINGS, Math.floor(shape.fineHalfRad / cone) - 1)
  return Array.from({ length: Math.max(0, most) }, (_, k) => 1 + Math.round(((k + 1) * cone) / bin - 0.5))
}

const nodeAt = (profile: Profile | null, thetaRad: number) => profile?.thetaRad.indexOf(thetaRad) ?? -1

function peakAim(beam: Beam, halfRad: number): Aim | null {
  const thetaRad = beam.peakAt.thetaDeg * RAD
  if (!beam.figures.peakIntensityCd || thetaRad === 0) return null
  return beam.peakAt.around
    ? { kind: 'ring', thetaRad, halfRad }
    : { kind: 'cone', thetaRad, phiRad: beam.peakAt.azimuthDeg * RAD, halfRad }
}

function near(a: Aim, b: Aim, rad: number): boolean {
  if (a.kind === 'ring' && b.kind === 'ring') return Math.abs(a.thetaRad - b.thetaRad) < rad
  if (a.kind !== 'cone' || b.kind !== 'cone') return false
  const across = (t: 'cos' | 'sin') => a.thetaRad * Math[t](a.phiRad) - b.thetaRad * Math[t](b.phiRad)
  return Math.hypot(across('cos'), across('sin')) < rad
}

export interface Joined {
  beam: Beam
  target: TargetReading
  forwardBackward: ForwardBackward[]
}

/** The reading with what the far end has seen. */
export function joinBackward({ beam, target }: Forward, axis: BackwardEstimate | null, views: AimEstimate[]): Joined {
  const forwardBackward: ForwardBackward[] = []
  const join = (
    figure: ForwardBackward['figure'],
    forward: Figure,
    back: BackwardEstimate,
    slack = 0,
  ): Figure | null => {
    const both = combine(forward, back)
    if (both.apart === null) return both.backwardShare > 0 ? both : null
    const apart = slackened(forward, back, slack)
    if (forward.value ** 2 >= COMPARABLE * forward.se ** 2)
      forwardBackward.push({ figure, forward, backward: { value: back.value, se: back.se }, apart })
    return { value: both.value, se: Math.max(both.se, TABLE * both.value) }
  }
  const figures = { ...beam.figures }
  const axial = beam.figures.axialIntensityCd
  if (axis && axial) {
    const joined = join('axialIntensityCd', axial, axis)
    if (joined) {
      figures.axialIntensityCd = joined
      if (figures.peakIntensityCd?.value === axial.value) putPeak(figures, joined)
    }
  }
  const peak = views.find((v) => v.of === 'peak')
  if (peak && beam.figures.peakIntensityCd && beam.peakAt.thetaDeg > 0) {
    const joined = join('peakIntensityCd', beam.figures.peakIntensityCd, peak.estimate, PEAK_SLACK)
    if (joined) putPeak(figures, joined)
  }
  const profile = joinProfile(beam, axis, views)
  return {
    beam: { ...beam, figures, profile },
    target: joinCentre(target, views, join),
    forwardBackward: forwardBackward.concat(profileEnds(beam, views)),
  }
}

function slackened(a: Figure, b: Figure, slack: number): number {
  const off = Math.abs(a.value - b.value)
  const error = Math.hypot(a.se, b.se, slack * a.value)
  return error > 0 ? off / error : off > 1e-9 * Math.abs(a.value) ? Number.POSITIVE_INFINITY : 0
}

/** FL 1: the beam distance is 2 √I; its error to first order. */
function putPeak(figures: Beam['figures'], peak: Figure): void {
  figures.peakIntensityCd = peak
  figures.beamDistanceM = { value: 2 * Math.sqrt(peak.value), se: peak.se / Math.sqrt(peak.value) }
}

/** The centre of the target. Too few exit rays there and the forward run reads a wider disc, or the far field: then the far end speaks alone. */
function joinCentre(
  target: TargetReading,
  views: AimEstimate[],
  join: (figure: 'targetCentreLx', forward: Figure, back: BackwardEstimate) => Figure | null,
): TargetReading {
  const view = views.find((v) => v.of === 'target')
  const forward = target.figures.targetCentreLx
  if (view?.aim.kind !== 'disc' || !forward || view.estimate.effective < TRUSTED) return target
  const same =
    target.centreRadiusM !== null && Math.abs(2000 * target.centreRadiusM - view.aim.discMm) < 1e-6 * view.aim.discMm
  const { value, se } = view.estimate
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

function nodesOf(beam: Beam, axis: BackwardEstimate | null, views: AimEstimate[]): Node[] {
  const profile = beam.smoothed
  if (!profile) return []
  const node = (at: number, back: BackwardEstimate): Node[] => {
    const both = combine({ value: profile.cd[at]!, se: profile.seCd[at]! }, back)
    return at >= 0 && both.apart !== null ? [{ at, rad: profile.thetaRad[at]!, share: both.backwardShare, back }] : []
  }
  const rings = views.flatMap(({ of, aim, estimate }) =>
    of === 'profile' && aim.kind === 'ring' ? node(nodeAt(profile, aim.thetaRad), estimate) : [],
  )
  return [...(axis ? node(0, axis) : []), ...rings].sort((a, b) => a.rad - b.rad)
}

function profileEnds(beam: Beam, views: AimEstimate[]): ForwardBackward[] {
  const profile = beam.smoothed
  return nodesOf(beam, null, views).flatMap(({ at, rad, back }) => {
    const forward = { value: profile!.cd[at]!, se: profile!.seCd[at]! }
    if (forward.value ** 2 < COMPARABLE * forward.se ** 2) return []
    const backward = { value: back.value, se: back.se }
    return [
      { figure: 'profileCd' as const, thetaDeg: rad / RAD, forward, backward, apart: slackened(forward, back, 0) },
    ]
  })
}

/**
 * The profile F is smoothed with a cone: its noise at a node is, mostly, its noise within a cone of it, but the larger the nearer to the axis. So
 * the step from F to the joined value at each node, s (B − F), is taken in full there and less and less to one cone off, as a share of the
 * noise here: F(θ) + Σ h s (B − F(node)). Linear in F and B: the error is that of its parts.
 */
function joinProfile(beam: Beam, axis: BackwardEstimate | null, views: AimEstimate[]): Beam['profile'] {
  const profile = beam.smoothed
  const nodes = nodesOf(beam, axis, views)
  if (!profile || nodes.length === 0) return beam.profile
  const cd = beam.profile.cd.slice()
  const seCd = beam.profile.seCd.slice()
  const ring = views.find(({ of }) => of === 'profile')?.aim
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
    seCd[j] = Math.hypot(forward.se, ...parts.map(({ node, weight }) => weight * node.back.se), TABLE * cd[j]!)
  }
  return { ...beam.profile, cd, seCd }
}
