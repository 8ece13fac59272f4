// Reflectors of a known curve as tunnels: a paraboloid about a focus, and a compound parabolic concentrator. The curve is inscribed by
// straight stretches so short that the slope of neighbours differs by less than 0.2°; what comes out is an ordinary tunnel, to be edited on.
// References: [1] W. T. Welford, R. Winston, High Collection Nonimaging Optics (1989), chapter 4 and appendix G (parabola in polar
// coordinates, r = 2f/(1 − cosφ)). [2] R. Winston, J. C. Miñano, P. Benítez, Nonimaging Optics (2005), chapter 4: the edge-ray principle.
// Formulas from memory, derived again in the comments and held by tests to what defines them.
import { type Finish, stretchesOf } from '../lamp/assembly.ts'
import { LIMITS } from '../lamp/limits.ts'
import type { Tunnel } from '../lamp/schema.ts'
import { brent } from '../num/roots.ts'

/** `worstStepDeg`: largest change of slope from a stretch to the next. */
export type MadeReflector = { ok: true; tunnel: Tunnel; worstStepDeg: number } | { ok: false; why: string }

export interface ParaboloidOrder {
  focalMm: number
  /** Height of the focus: where the emitters' light starts. */
  focusZMm: number
  /** Diameter of the neck, the end at the face. */
  inMm: number
  /** Diameter of the rim. */
  outMm: number
  finish: Finish
}

export interface ConcentratorOrder {
  /** Half the angle of the cone that a source filling the small end is put into. */
  acceptanceDeg: number
  /** The small end, at the face: diameter, or across flats. */
  inMm: number
  zInMm: number
  /** Share of the full length that is kept, from the small end on: the mouth of the full one is nearly a cylinder. */
  keptShare: number
  /** 0: round. */
  sides: Tunnel['sides']
  finish: Finish
}

const STEP_DEG = 0.2
const DEG = Math.PI / 180

type Curve = (u: number) => { zMm: number; radiusMm: number }

/**
 * Tunnel (mm) on the paraboloid z − z_focus = r²/4f − f, neck and rim by their diameters; or a sentence that says why there is none.
 * A chord from r₁ to r₂ has the slope of the curve at their mean, dr/dz = 2f/r, so even steps of γ = atan(2f/r) keep the steps even.
 */
export function paraboloidTunnel({ focalMm: f, focusZMm, inMm, outMm, finish }: ParaboloidOrder): MadeReflector {
  if (!(f > 0 && inMm > 0)) return refuse('the focal length and the neck must be above 0.')
  if (!(outMm > inMm)) return refuse(`a rim of ${outMm} mm is no wider than the neck of ${inMm} mm.`)
  const slope = (diameterMm: number) => Math.atan2(4 * f, diameterMm)
  const curve: Curve = (gamma) => {
    const radiusMm = (2 * f) / Math.tan(gamma)
    return { zMm: focusZMm - f + radiusMm ** 2 / (4 * f), radiusMm }
  }
  const behindMm = -curve(slope(inMm)).zMm
  if (behindMm > 1e-9)
    return refuse(
      `a neck of ${inMm} mm would lie ${short(behindMm)} mm behind the face; raise the focus, or take a wider neck (from ${short(4 * Math.sqrt(f * Math.max(0, f - focusZMm)))} mm on).`,
    )
  return inscribe(curve, [slope(inMm), slope(outMm)], (slope(inMm) - slope(outMm)) / DEG, 0, finish)
}

/**
 * Tunnel (mm) of a compound parabolic concentrator used as a reflector: acceptance half-angle θ, 0 < θ < 90°, small end a', mouth
 * a = a'/sinθ, full length (a + a')/tanθ. Its right-hand wall is a parabola whose focus is the left edge of the small end and whose axis
 * leans by θ, so that light of that edge leaves at θ (edge rays) [1, 2]: f = a'(1 + sinθ), r = 2f sin(φ − θ)/(1 − cosφ) − a',
 * z = 2f cos(φ − θ)/(1 − cosφ), φ from 90° + θ at the small end to 2θ at the mouth, slope φ/2 − θ. Ideal for a trough; of revolution
 * it turns some skew rays back inside θ. Or a sentence that says why there is none.
 */
export function concentratorTunnel(order: ConcentratorOrder): MadeReflector {
  const { acceptanceDeg, inMm, zInMm, keptShare, sides, finish } = order
  if (!(acceptanceDeg > 0 && acceptanceDeg < 90)) return refuse('the acceptance angle lies between 0° and 90°.')
  if (!(keptShare > 0 && keptShare <= 1))
    return refuse('the share of the length that is kept lies above 0 and is at most 1.')
  if (!(inMm > 0)) return refuse('the small end must be above 0.')
  const theta = acceptanceDeg * DEG
  const small = inMm / 2
  const focal = small * (1 + Math.sin(theta))
  const curve: Curve = (phi) => {
    const reach = (2 * focal) / (1 - Math.cos(phi))
    return { zMm: zInMm + reach * Math.cos(phi - theta), radiusMm: reach * Math.sin(phi - theta) - small }
  }
  const from = Math.PI / 2 + theta
  const cutMm = zInMm + keptShare * concentratorSize(order).lengthMm
  const to = keptShare === 1 ? 2 * theta : (brent((phi) => curve(phi).zMm - cutMm, 2 * theta, from, 1e-12) ?? 2 * theta)
  return inscribe(curve, [from, to], (from - to) / 2 / DEG, sides, finish)
}

/**
 * Mouth (mm, as wide as `inMm` is meant), full length (mm) and concentration a²/a'² = 1/sin²θ of the whole concentrator, 0 < θ < 90°:
 * by étendue the most that any reflector with that cone can have [1].
 */
export function concentratorSize({ acceptanceDeg, inMm }: Pick<ConcentratorOrder, 'acceptanceDeg' | 'inMm'>): {
  outMm: number
  lengthMm: number
  concentration: number
} {
  const theta = acceptanceDeg * DEG
  const outMm = inMm / Math.sin(theta)
  return { outMm, lengthMm: (inMm + outMm) / 2 / Math.tan(theta), concentration: 1 / Math.sin(theta) ** 2 }
}

const refuse = (why: string): MadeReflector => ({ ok: false, why: why.charAt(0).toUpperCase() + why.slice(1) })
const short = (x: number) => Number(x.toPrecision(4))
/** A nanometre: shorter files, and slopes within 0.001° on stretches of 0.1 mm. */
const rounded = (x: number) => Math.round(x * 1e6) / 1e6

/** The fewest stretches between points of the curve that keep each change of slope under 0.2°; the slope is even in u. */
function inscribe(
  curve: Curve,
  [from, to]: readonly [number, number],
  spanDeg: number,
  sides: Tunnel['sides'],
  finish: Finish,
): MadeReflector {
  const least = Math.max(1, Math.ceil(spanDeg / STEP_DEG))
  const most = LIMITS.joints + 1
  for (let n = least; n <= most; n++) {
    const us = Array.from({ length: n + 1 }, (_, i) => from + ((to - from) * i) / n)
    const made = tunnelThrough(curve, us, sides, finish)
    const fault = findSizeFault(made)
    if (fault) return refuse(fault)
    const worstStepDeg = worstStep(made)
    if (worstStepDeg < STEP_DEG) return { ok: true, tunnel: made, worstStepDeg }
  }
  return refuse(
    `its slope turns by ${short(spanDeg)}°: with at most ${LIMITS.joints} joints neighbours would differ by ${STEP_DEG}° or more; cut off the steep part by a wider neck.`,
  )
}

function tunnelThrough(curve: Curve, us: readonly number[], sides: Tunnel['sides'], finish: Finish): Tunnel {
  const at = (u: number) => {
    const { zMm, radiusMm } = curve(u)
    return { zMm: Math.max(0, rounded(zMm)), widthMm: rounded(2 * radiusMm) }
  }
  const [first, last] = [at(us[0] ?? 0), at(us.at(-1) ?? 0)]
  const joints = us.slice(1, -1).map((u) => {
    const { zMm, widthMm } = at(u)
    return { zMm, belowMm: widthMm, aboveMm: widthMm, ...finish }
  })
  return {
    ...{ sides, inMm: first.widthMm, outMm: last.widthMm, zInMm: first.zMm, zOutMm: last.zMm, ...finish },
    ...(joints.length > 0 ? { joints } : {}),
  }
}

function findSizeFault(made: Tunnel): string | null {
  const { inMm, outMm, zInMm, zOutMm } = made
  if (inMm < 1) return `an end of ${short(inMm)} mm is narrower than 1 mm.`
  if (outMm > LIMITS.lensMm) return `a mouth of ${short(outMm)} mm is wider than ${LIMITS.lensMm} mm.`
  if (zInMm > LIMITS.lengthMm || zOutMm > LIMITS.lengthMm)
    return `it would reach ${short(zOutMm)} mm ahead, more than ${LIMITS.lengthMm} mm.`
  if (zOutMm - zInMm < 0.1) return 'it would be shorter than 0.1 mm.'
  return stretchesOf(made).some((s) => s.zOutMm - s.zInMm < LIMITS.stretchMm)
    ? `stretches at its neck would be shorter than ${LIMITS.stretchMm} mm; take a wider neck.`
    : null
}

function worstStep(made: Tunnel): number {
  const slopes = stretchesOf(made).map((s) => Math.atan2((s.outMm - s.inMm) / 2, s.zOutMm - s.zInMm) / DEG)
  return slopes.reduce(
    (worst, slope, i) => (i > 0 ? Math.max(worst, Math.abs(slope - (slopes[i - 1] ?? slope))) : worst),
    0,
  )
}
