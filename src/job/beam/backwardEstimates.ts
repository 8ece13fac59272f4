// Backward estimates beside the axis: places near the axis where the forward run has few rays, and a direction that it has found. Each joins
// the forward value by their variances. Requested from the second reading on, behind the work that waits, and only for as long as a backward
// ray tells more than the forward rays that would take the same time.
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

/** One aim beside the axis and what it has latest so far. */
export interface AimEstimate {
  of: 'profile' | 'peak' | 'target'
  aim: Aim
  estimate: BackwardEstimate
}

/** What the forward run says where a backward estimate may join it. */
export interface Forward {
  rays: number
  beam: Beam
  target: TargetReading
}

export interface AimEstimates {
  /** Choose aims by a reading and request rays for them. */
  request(forward: Forward): void
  /** Everything requested so far, once it has been traced. */
  take(): Promise<AimEstimate[]>
}

/** Rings of the profile: at one to so many cones from the axis. */
const RINGS = 4
/** All aims together get one backward ray for so many forward ones. */
const FORWARD_FOR_ONE = 16
/** A view gets no more rays than this many times those of the first asking. */
const MOST_TIMES_FIRST = 32
/** A backward ray must tell as much as this many forward ones: it takes three times their time. */
const WORTH = 6
/** Better than this share (one standard error) nobody needs. */
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
  latest: BackwardEstimate | null
  pending: Promise<BackwardEstimate> | null
}

export function makeAimEstimates(estimates: BackwardEstimates, shape: TallyShape, lamp: Lamp): AimEstimates {
  const progress: AimProgress[] = []
  const cone = shape.axialConeHalfRad
  const follow = (of: AimEstimate['of'], aim: Aim) =>
    progress.push({ of, aim, progressive: estimates.at(aim, true), raysEach: 0, latest: null, pending: null })

  function begin({ beam }: Forward): void {
    for (const j of ringNodes(beam.smoothed, shape))
      follow('profile', { kind: 'ring', thetaRad: beam.smoothed!.thetaRad[j]!, halfRad: cone })
    const discMm = 2000 * centreDiscM(lamp.target, cone)
    follow('target', { kind: 'disc', xMm: 0, yMm: 0, zMm: frontZMm(lamp) + 1000 * lamp.target.distanceM, discMm })
  }

  /** The peak off the axis: the same aim while it stays where it was found. */
  function followPeak({ beam }: Forward): void {
    const aim = peakAim(beam, cone)
    const at = progress.findIndex((a) => a.of === 'peak')
    if (at >= 0 && aim && near(progress[at]!.aim, aim, MOVED * cone)) return
    if (at >= 0) progress.splice(at, 1)
    if (aim) follow('peak', aim)
  }

  return {
    request(forward) {
      if (!forward.beam.smoothed) return
      if (progress.length === 0) begin(forward)
      followPeak(forward)
      const first = estimates.firstRays()
      const going = progress.filter((a) => worthGoingOn(a, forward, first))
      for (const a of going) {
        const each = a.latest ? Math.floor(forward.rays / BATCHES / FORWARD_FOR_ONE / going.length) : 0
        a.raysEach = Math.max(a.raysEach, Math.min(MOST_TIMES_FIRST * first, Math.max(first, each)))
        a.pending = a.progressive.upTo(a.raysEach)
        a.pending.catch(() => {}) // awaited by take; a stop may come first
      }
    },
    async take() {
      for (const a of progress) {
        if (!a.pending) continue
        a.latest = await a.pending
        a.pending = null
      }
      return progress.flatMap(({ of, aim, latest }) => (latest ? [{ of, aim, estimate: latest }] : []))
    },
  }
}

/** Per ray, the view tells more than the forward run does of the same figure; or nobody knows yet. */
function worthGoingOn(a: AimProgress, forward: Forward, first: number): boolean {
  if (!a.latest) return true
  const { latest } = a
  if (latest.effective < TRUSTED) return a.raysEach < 4 * first
  if (latest.se < FINE_ENOUGH * latest.value) return false
  const figure = forwardOf(a, forward)
  return !figure || !(figure.se > 0) || latest.se ** 2 * latest.rays * WORTH < figure.se ** 2 * forward.rays
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

/** The reading joined with the backward estimates. */
export function joinBackward({ beam, target }: Forward, axis: BackwardEstimate | null, aims: AimEstimate[]): Joined {
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
  const peak = aims.find((v) => v.of === 'peak')
  if (peak && beam.figures.peakIntensityCd && beam.peakAt.thetaDeg > 0) {
    const joined = join('peakIntensityCd', beam.figures.peakIntensityCd, peak.estimate, PEAK_SLACK)
    if (joined) putPeak(figures, joined)
  }
  const profile = joinProfile(beam, axis, aims)
  return {
    beam: { ...beam, figures, profile },
    target: joinCentre(target, aims, join),
    forwardBackward: forwardBackward.concat(profileEnds(beam, aims)),
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

/** The centre of the target. Too few exit rays there and the forward run reads a wider disc, or the far field: then the backward estimate stands alone. */
function joinCentre(
  target: TargetReading,
  aims: AimEstimate[],
  join: (figure: 'targetCentreLx', forward: Figure, back: BackwardEstimate) => Figure | null,
): TargetReading {
  const view = aims.find((v) => v.of === 'target')
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
    seCd[j] = Math.hypot(forward.se, ...parts.map(({ node, weight }) => weight * node.back.se), TABLE * cd[j]!)
  }
  return { ...beam.profile, cd, seCd }
}
