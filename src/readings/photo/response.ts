// How far a camera's own tone curve lies from the standard one, from several exposures of one scene.
// The curve is a correction to the logarithm of the standard curve's light: three numbers with a width known beforehand, which the exposures narrow. One
// exposure alone leaves that width as it is.
// References: P. E. Debevec, J. Malik, "Recovering high dynamic range radiance maps from photographs", SIGGRAPH 1997, 369; T. Mitsunaga, S. K. Nayar,
// "Radiometric self calibration", CVPR 1999, 374 (both from memory): ratios of known exposures fix a camera's response. Here as Bayesian least squares,
// JCGM 101:2008, 6.4 for the prior.
import { symmetricEigen } from '../../num/symmetricEigen.ts'
import { birgeRatio } from '../agreement.ts'
import { MASK, type Picture } from './pixels.ts'

export interface Exposed {
  picture: Picture
  /** Of the light that fell on the sensor, natural logarithm, against any level that all share. */
  logExposure: number
}

/** Where on the curve light was read: linear luminance by the standard curve, and the number of the exposure. */
export interface OnCurve {
  luminance: number
  exposure: number
}

export interface Response {
  /** Logarithm of the light, of linear luminance by the standard curve, 0 to 1. */
  logLight(luminance: number): number
  /** Standard uncertainty of the logarithm of the ratio of two lights: of the curve, and of the exposures between them. */
  doubtBetween(a: OnCurve, b: OnCurve): number
  /** Mean slope of logarithm against logarithm over what a picture shows: 1 is the standard curve. */
  exponent: { value: number; u: number }
  /** Scatter of the ratios about the fitted curve, as a share; null: one exposure, nothing to tell by. */
  scatter: number | null
  /** Exposures as they best agree, natural logarithm. */
  logExposures: number[]
}

/** Below this linear luminance a byte is a fifteenth of the light or more: not used for ratios. Our choice. */
const LEAST = 0.005
/** Levels of which the ratios are averaged. */
const LEVELS = 24
/** Places that are compared, about: means over levels need no more. */
const USED = 200_003
/** Places of a level at least. */
const LEVEL_PLACES = 30
/** A mean over a level is no better: shading, glare. Our choice. */
const LEVEL_DOUBT = 0.01
/** Standard uncertainty of the logarithm of an exposure's ratio: nominal times (1/60 for 1/64) and a shutter's own error. Our choice. */
const RATIO_DOUBT = 0.03
/** Share of what is corrected that stays as standard uncertainty: a curve may differ from place to place in the picture. Our choice. */
const TRUSTED = 0.25
/** The curve reaches over so much of the logarithm on either side of its middle. */
const HALF = 3.2
/**
 * Widths of the three numbers beforehand: a change of slope of 0.15 evenly, 0.15 at both ends in opposite ways, 0.15 at both ends against the middle.
 * Contrast of a telephone's pictures: common practice, no source.
 */
const PRIOR = [0.15 * HALF, (0.15 * HALF) / 3, (0.15 * HALF) / 6] as const

/** Legendre polynomials 1 to 3 over the logarithm of the luminance. */
function shapes(luminance: number): [number, number, number] {
  const z = Math.max(-1, Math.min(1, 1 + Math.log(Math.max(luminance, 1e-9)) / HALF))
  return [z, (3 * z * z - 1) / 2, (5 * z * z * z - 3 * z) / 2]
}

/** What is fitted: ln R = Δ ln D + Σ θ_k Δ P_k − δ, one line for each level of each pair of exposures. */
interface Equation {
  row: number[]
  right: number
  u: number
}

/**
 * Response of the camera that made the exposures (any order, the same scene, the same size; at least one). Neighbours in exposure are compared level by
 * level where both say something. Luminance by the standard curve, logarithms natural.
 */
export function fitResponse(exposures: readonly Exposed[]): Response {
  const order = exposures.map((_, i) => i).sort((a, b) => logOf(exposures, a) - logOf(exposures, b))
  const pairs = order.slice(1).map((longer, k) => [order[k] ?? longer, longer] as const)
  const size = 3 + pairs.length
  const equations = pairs.flatMap(([shorter, longer], k) => {
    const [a, b] = [exposures[shorter], exposures[longer]]
    return a && b ? levelsOf(a, b, 3 + k, size) : []
  })
  const prior = Array.from({ length: size }, (_, i) => PRIOR[i] ?? RATIO_DOUBT)
  const { values: theta, covariance } = solve(equations, prior)
  const chi2 = equations.reduce((sum, e) => sum + (residual(e, theta) / e.u) ** 2, 0)
  const squares = equations.reduce((sum, e) => sum + residual(e, theta) ** 2, 0)
  const birge = equations.length > 0 ? Math.max(1, birgeRatio(chi2, equations.length - size)) : 1
  const logExposures = exposures.map((e) => e.logExposure)
  /** Of each exposure, which of the pairs' errors its own is the sum of. */
  const summed = exposures.map(() => 0)
  for (const [k, [shorter, longer]] of pairs.entries()) {
    const step = logOf(exposures, longer) - logOf(exposures, shorter)
    logExposures[longer] = (logExposures[shorter] ?? 0) + step + (theta[3 + k] ?? 0)
    summed[longer] = k + 1
  }
  const correction = (luminance: number) => shapes(luminance).reduce((sum, p, k) => sum + (theta[k] ?? 0) * p, 0)
  const effects = ({ luminance, exposure }: OnCurve) => [
    ...shapes(luminance),
    ...pairs.map((_, k) => (k < (summed[exposure] ?? 0) ? -1 : 0)),
  ]
  const doubtBetween = (a: OnCurve, b: OnCurve) => {
    const [ea, eb] = [effects(a), effects(b)]
    const variance = quadraticForm(
      covariance,
      ea.map((e, k) => e - (eb[k] ?? 0)),
    )
    const corrected = correction(a.luminance) - correction(b.luminance)
    return Math.hypot(birge * Math.sqrt(Math.max(0, variance)), TRUSTED * corrected)
  }
  const logLight = (luminance: number) => Math.log(Math.max(luminance, 1e-9)) + correction(luminance)
  const [dim, bright] = [0.02, 0.8]
  const span = Math.log(bright / dim)
  const u = doubtBetween({ luminance: bright, exposure: 0 }, { luminance: dim, exposure: 0 }) / span
  return {
    logLight,
    doubtBetween,
    exponent: { value: (logLight(bright) - logLight(dim)) / span, u },
    scatter: equations.length > 0 ? Math.sqrt(squares / equations.length) : null,
    logExposures,
  }
}

const quadraticForm = (matrix: readonly (readonly number[])[], v: readonly number[]): number =>
  v.reduce((sum, vi, i) => sum + v.reduce((part, vj, j) => part + vi * vj * (matrix[i]?.[j] ?? 0), 0), 0)

const logOf = (exposures: readonly Exposed[], i: number): number => exposures[i]?.logExposure ?? 0

function residual({ row, right }: Equation, theta: readonly number[]): number {
  return right - row.reduce((sum, f, k) => sum + f * (theta[k] ?? 0), 0)
}

/** One equation for each level of brightness that both exposures show. */
function levelsOf(shorter: Exposed, longer: Exposed, ofPair: number, size: number): Equation[] {
  const sums = Array.from({ length: LEVELS }, () => ({ n: 0, a: 0, b: 0, dd: 0 }))
  const [lows, highs] = [shorter.picture.luminance, longer.picture.luminance]
  const step = Math.max(1, Math.round(lows.length / USED))
  for (let i = 0; i < lows.length; i += step) {
    const [low, high] = [lows[i] ?? 0, highs[i] ?? 0]
    if (low < LEAST || high < LEAST) continue
    if (shorter.picture.mask[i] !== MASK.fine || longer.picture.mask[i] !== MASK.fine) continue
    const [a, b] = [Math.log(low), Math.log(high)]
    const level = sums[Math.min(LEVELS - 1, Math.floor(((a + b) / 2 / Math.log(LEAST)) * LEVELS))]
    if (!level) continue
    level.n++
    level.a += a
    level.b += b
    level.dd += (b - a) ** 2
  }
  const ratio = longer.logExposure - shorter.logExposure
  return sums.flatMap(({ n, a, b, dd }): Equation[] => {
    if (n < LEVEL_PLACES) return []
    const [meanA, meanB] = [a / n, b / n]
    const variance = Math.max(0, dd / n - (meanB - meanA) ** 2)
    const [pa, pb] = [shapes(Math.exp(meanA)), shapes(Math.exp(meanB))]
    const row = new Array<number>(size).fill(0)
    for (const [k, p] of pb.entries()) row[k] = p - (pa[k] ?? 0)
    row[ofPair] = -1
    return [{ row, right: ratio - (meanB - meanA), u: Math.hypot(LEVEL_DOUBT, Math.sqrt(variance / n)) }]
  })
}

/** Least squares with a normal prior of mean 0 on each number: the inverse of Σ f fᵀ/u² + 1/prior², in units of the prior. */
function solve(equations: readonly Equation[], prior: readonly number[]) {
  const matrix = prior.map((_, i): number[] => prior.map((__, j) => (i === j ? 1 : 0)))
  const right = new Array<number>(prior.length).fill(0)
  for (const { row, right: value, u } of equations)
    for (const [i, pi] of prior.entries()) {
      const fi = ((row[i] ?? 0) * pi) / u
      right[i] = (right[i] ?? 0) + (fi * value) / u
      const line = matrix[i]
      if (line) for (const [j, pj] of prior.entries()) line[j] = (line[j] ?? 0) + (fi * (row[j] ?? 0) * pj) / u
    }
  const { values, vectors } = symmetricEigen(matrix)
  const inverse = prior.map((_, i) =>
    prior.map((__, j) =>
      vectors.reduce((sum, v, k) => sum + ((v[i] ?? 0) * (v[j] ?? 0)) / Math.max(1, values[k] ?? 1), 0),
    ),
  )
  const scaled = inverse.map((line) => line.reduce((sum, entry, j) => sum + entry * (right[j] ?? 0), 0))
  return {
    values: scaled.map((value, i) => value * (prior[i] ?? 0)),
    covariance: inverse.map((line, i) => line.map((entry, j) => entry * (prior[i] ?? 0) * (prior[j] ?? 0))),
  }
}
