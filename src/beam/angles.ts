// Beam and field angle and the spill outside them: where the azimuth mean falls through a half and a tenth of the peak, for good.
import { T95 } from '../num/stats.ts'
import { type Folded, jackknife, type Tally, weightsError } from '../run/batches.ts'
import type { Figure } from '../run/figure.ts'
import { type Crossing, findOutermostCrossing } from './crossing.ts'
import { type Profile, thetaEdges, unevenInBin, weightInside } from './profile.ts'

const DEG = 180 / Math.PI
/** Tables of profiles are linear between nodes and in single precision: no angle is known better than this share. */
export const TABLE = 2e-5

export interface HalfAngle {
  rad: number
  without: number[]
  /** Of what does not come from the batches: a peak and rings by backward tracing, noise that their spread lacks, and the width of bins; rad, one standard error. */
  ownSe: number
  /** What the forward rays know of the intensity there, cd, one standard error. */
  forwardSeCd: number
}
export interface Angles {
  beam?: HalfAngle
  field?: HalfAngle
}

/** The peak that the levels are shares of, cd. */
export interface PeakLevel extends Figure {
  /** Without one batch each; the value itself where it comes from elsewhere, and then the error is its own. */
  without: readonly number[]
  isOwn: boolean
  /** Its ± goes to the ends of what is possible (`hedge`): where the truth lies at one of them the angle's other errors add to it in full. */
  toEnds?: true
  /** What more rays leave of its error, cd. */
  floorSe?: number
}

/** The azimuth mean at one angle by backward tracing, smoothed with the axial cone, cd. */
export interface Ring extends Figure {
  thetaRad: number
}

export interface AngleReading {
  angles: Angles
  figures: Partial<Record<AngleFigure, Figure>>
  absent: Partial<Record<AngleFigure, string>>
  /** What more rays leave of their standard errors. */
  floors: Partial<Record<AngleFigure, number>>
  patterned: boolean
}
type AngleFigure = 'beamAngleDeg' | 'fieldAngleDeg' | 'spillOutsideBeam' | 'spillOutsideField'

/** Angles at shares of a peak that is known less well than this (95 %) may be anywhere: their errors are of first order. Our choice. */
const PEAK_KNOWN = 0.4
/** Nor is an angle given that is known less well than this itself: it may be of another ring of the pattern. */
const ANGLE_KNOWN = 0.4

export const ANGLES = [
  { share: 0.5, angle: 'beamAngleDeg', spill: 'spillOutsideBeam', key: 'beam' },
  { share: 0.1, angle: 'fieldAngleDeg', spill: 'spillOutsideField', key: 'field' },
] as const

/**
 * Full angles, degrees, by the outermost crossing of 50 % and 10 % of the peak (choices of the model), and the share of the light outside
 * each, 0 to 1. A ring near the crossing moves it by (I − level) / slope, weighted against the forward profile by their variances. The
 * errors hold the profile's, the level's, the ring's and the bins' share. What can't be read is in `absent`, in words.
 */
export function readAngles(
  folded: Folded,
  profile: Profile,
  peak: PeakLevel,
  rings: Partial<Record<keyof Angles, Ring>> = {},
): AngleReading {
  const out: AngleReading = { angles: {}, figures: {}, absent: {}, floors: {}, patterned: false }
  if (T95 * peak.se > PEAK_KNOWN * peak.value) {
    const why = `The peak is known to ± ${Math.ceil((100 * T95 * peak.se) / peak.value)} % only so far: angles at shares of it come with more rays.`
    for (const { angle, spill } of ANGLES) out.absent[angle] = out.absent[spill] = why
    return out
  }
  const coarse = mergePairs(profile)
  for (const { share, angle, spill, key } of ANGLES) {
    const level = share * peak.value
    const found = findOutermostCrossing(
      profile,
      level,
      peak.without.map((v) => share * v),
      share * peak.se,
    )
    const why = whyNoAngle(found, share)
    out.patterned ||= found?.inner ?? false
    if (!found || why) {
      out.absent[angle] = why
      out.absent[spill] = why
      continue
    }
    const wide = findOutermostCrossing(coarse, level, [])
    // Second order: bins twice as wide are off by four times as much. An edge within a few bins is not of second order.
    const spreadSe = jackknife(found.halfRad, found.without).se
    const binsSe = Math.max(
      wide ? Math.abs(wide.halfRad - found.halfRad) / 3 : 0,
      Math.abs(found.straightRad - found.halfRad),
      found.fitSe,
    )
    const besidesSe = Math.hypot(binsSe, Math.sqrt(Math.max(0, found.noiseSe ** 2 - spreadSe ** 2)))
    const { half, forwardShare } = joinRing(found, level, besidesSe, peak.isOwn ? rings[key] : undefined)
    const spread = jackknife(half.rad, half.without).se
    // The crossing follows its level no further than the points that it is fitted to: what the batches' own levels make of it may show in the slope only.
    const own = peak.isOwn ? peak.se : jackknife(peak.value, peak.without).se
    const byLevel = own > 0 ? Math.max(found.radPerCd * share * own, found.levelEndsSe) : 0
    const levelSe = Math.sqrt(Math.max(0, byLevel ** 2 - (peak.isOwn ? 0 : spread ** 2)))
    const besides = Math.hypot(half.ownSe, found.otherSe, TABLE * half.rad)
    half.ownSe = peak.toEnds
      ? Math.sqrt((levelSe + Math.hypot(spread, besides)) ** 2 - spread ** 2)
      : Math.hypot(besides, levelSe)
    const se = Math.hypot(spread, half.ownSe)
    if (T95 * se > ANGLE_KNOWN * half.rad) {
      out.absent[angle] = out.absent[spill] = whyUnknown(share, (T95 * se) / half.rad)
      continue
    }
    out.angles[key] = half
    out.figures[angle] = { value: 2 * DEG * half.rad, se: 2 * DEG * se }
    const levelFloor = found.radPerCd * share * (peak.floorSe ?? 0)
    const floorRad = Math.hypot(forwardShare * binsSe, TABLE * half.rad, levelFloor)
    const outside = readSpill(folded, half, floorRad)
    out.figures[spill] = outside.figure
    out.floors = { ...out.floors, [angle]: 2 * DEG * floorRad, [spill]: outside.floor }
  }
  return out
}

/** `forwardShare`: of the forward crossing's errors, 0 to 1. */
interface JoinedHalf {
  half: HalfAngle
  forwardShare: number
}

function joinRing(found: Crossing, level: number, besidesSe: number, ring: Ring | undefined): JoinedHalf {
  const { halfRad, without, radPerCd: perCd, slopeSe } = found
  const forwardSe = Math.hypot(jackknife(halfRad, without).se, besidesSe)
  const half = { rad: halfRad, without, ownSe: besidesSe, forwardSeCd: perCd > 0 ? forwardSe / perCd : 0 }
  const alone = { half, forwardShare: 1 }
  if (!ring || !(perCd > 0)) return alone
  const move = (ring.value - level) * perCd
  const rad = ring.thetaRad + move
  const se = Math.hypot(ring.se * perCd, Math.hypot(SLOPE_ERROR, slopeSe) * move)
  if (!(rad > 0) || !(se + forwardSe > 0)) return alone
  const weight = forwardSe ** 2 / (forwardSe ** 2 + se ** 2)
  const joined = (forward: number) => forward + weight * (rad - forward)
  const ownSe = Math.hypot(weight * se * weightsError(weight), (1 - weight) * besidesSe)
  return {
    half: { ...half, rad: joined(halfRad), without: without.map(joined), ownSe },
    forwardShare: 1 - weight,
  }
}

/** The slope is the forward profile's, a secant: besides its noise it is right to a tenth (our choice). */
const SLOPE_ERROR = 0.1

/** What the angle's own error makes of f(angle): at the ends of its ±, since light is not spread evenly over it. In the unit of f, one standard error. */
export function atEnds(f: (rad: number) => number, { rad, ownSe }: Pick<HalfAngle, 'rad' | 'ownSe'>): number {
  const ends = [Math.max(0, rad - T95 * ownSe), Math.min(Math.PI, rad + T95 * ownSe)]
  return Math.max(...ends.map((end) => Math.abs(f(end) - f(rad)))) / T95
}

/** Share of the light outside the half angle; `floorRad`: what more rays leave of that angle's error. */
function readSpill({ all, without, layout, run }: Folded, half: HalfAngle, floorRad: number) {
  const edges = thetaEdges(run.shape)
  const from = layout.profileLm
  const whole = (t: Tally) => weightInside(t.data, from, edges, Math.PI)
  const outside = (t: Tally, rad: number) => 1 - weightInside(t.data, from, edges, rad) / whole(t)
  const spread = jackknife(
    outside(all, half.rad),
    without.map((t, b) => outside(t, half.without[b]!)),
  )
  const byAngle = (ownSe: number) => atEnds((rad) => outside(all, rad), { rad: half.rad, ownSe })
  const binSe = unevenInBin(all.data, from, edges, half.rad) / whole(all)
  return {
    figure: { value: spread.value, se: Math.hypot(spread.se, byAngle(half.ownSe), binSe) },
    floor: Math.hypot(byAngle(floorRad), binSe),
  }
}

/** The same profile in bins twice as wide, by which the width of bins is judged. */
function mergePairs({ thetaRad, cd, seCd }: Profile): Profile {
  const n = 1 + ((cd.length - 1) >> 1)
  const merged = { thetaRad: new Float64Array(n), cd: new Float64Array(n), seCd: new Float64Array(n), without: [] }
  merged.cd[0] = cd[0]!
  merged.seCd[0] = seCd[0]!
  for (let j = 1; j < n; j++) {
    const [a, b] = [2 * j - 1, 2 * j]
    merged.thetaRad[j] = (thetaRad[a]! + thetaRad[b]!) / 2
    merged.cd[j] = (cd[a]! + cd[b]!) / 2
    merged.seCd[j] = Math.hypot(seCd[a]!, seCd[b]!) / 2
  }
  return merged
}

const whyUnknown = (share: number, known: number) =>
  `Where the mean over azimuth falls through ${share * 100} % of the peak for good is known to ± ${Math.ceil(100 * known)} % only so far: more rays tell.`

function whyNoAngle(found: Crossing | null, share: number): string {
  const level = `${share * 100} % of the peak`
  if (!found)
    return `The mean over azimuth does not fall through ${level}: the peak is a small spot off the axis, or the light goes everywhere.`
  return found.halfRad > Math.PI / 2 ? `The intensity falls through ${level} only behind the lamp, beyond 180°.` : ''
}
