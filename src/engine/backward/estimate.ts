// Backward estimates, with their errors, and how they join with the forward ones.
import { mean, standardError } from '../../num/stats.ts'
import { weightsError } from '../../run/batches.ts'
import type { Figure } from '../../run/figure.ts'
import { BATCHES } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'
import type { Aim } from './aim.ts'
import { type BackwardKernel, SUM_LM, SUM_SQUARES, SUM_W, SUMS } from './estimator.ts'
import { sourcesOf } from './sources.ts'
import { fastBackwardKernel } from './wasm/fastKernel.ts'

export interface BackwardEstimate {
  /** cd, or lx of a disc. */
  value: number
  se: number
  batches: number[]
  /** The same in W/sr, or W/m². */
  watts: Figure
  rays: number
  /** How many rays of equal score would tell as much, (Σs)²/Σs²: under a few hundred the error itself is not to be trusted. */
  effective: number
}

/** Fewer than this, and a backward estimate says nothing: its rays have hardly met the light that matters. */
export const TRUSTED = 400

/** Sums of the batches, `SUMS` numbers each, all of the same number of rays. */
export function estimateFrom(
  kernel: Pick<BackwardKernel, 'perLm' | 'perW'>,
  sums: Float64Array[],
  raysEach: number,
): BackwardEstimate {
  const batches = sums.map((s) => (s[SUM_LM]! * kernel.perLm) / raysEach)
  const watts = sums.map((s) => (s[SUM_W]! * kernel.perW) / raysEach)
  let sum = 0
  let squares = 0
  for (const s of sums) {
    sum += s[SUM_LM]!
    squares += s[SUM_SQUARES]!
  }
  return {
    value: mean(batches),
    se: standardError(batches),
    batches,
    watts: { value: mean(watts), se: standardError(watts) },
    rays: raysEach * sums.length,
    effective: squares > 0 ? (sum * sum) / squares : 0,
  }
}

export interface BackwardOptions {
  seed: number
  /** Rounded up to a multiple of the batches. */
  rays: number
}

/** Any aim, in this thread. */
export function backwardEstimate(scene: Scene, aim: Aim, { seed, rays }: BackwardOptions): BackwardEstimate {
  const kernel = fastBackwardKernel(scene, aim, seed, sourcesOf(scene))
  const each = Math.max(1, Math.ceil(rays / BATCHES))
  const sums = Array.from({ length: BATCHES }, (_, batch) => {
    const s = new Float64Array(SUMS)
    kernel.traceBatch(batch, 0, each, s)
    return s
  })
  return estimateFrom(kernel, sums, each)
}

export interface TowardsDirection extends BackwardOptions {
  thetaRad: number
  phiRad: number
  /** Mean over a cone of this half angle. */
  coneHalfRad: number
}

/** Intensity towards a direction, mean over a small cone, cd. */
export function backwardIntensity(scene: Scene, o: TowardsDirection): BackwardEstimate & { cd: number } {
  const aim: Aim = { kind: 'cone', thetaRad: o.thetaRad, phiRad: o.phiRad, halfRad: o.coneHalfRad }
  const estimate = backwardEstimate(scene, aim, o)
  return { ...estimate, cd: estimate.value }
}

/** The profile, mean over azimuth and over the small cone, at these angles to the axis. */
export function backwardProfile(
  scene: Scene,
  thetasRad: readonly number[],
  o: BackwardOptions & { coneHalfRad: number },
): BackwardEstimate[] {
  return thetasRad.map((thetaRad) => backwardEstimate(scene, { kind: 'ring', thetaRad, halfRad: o.coneHalfRad }, o))
}

/** Illuminance on a plane square to the axis, mean over a disc about a point in front of the lamp, lx. */
export function backwardIlluminance(
  scene: Scene,
  point: { xMm: number; yMm: number; zMm: number },
  discMm: number,
  o: BackwardOptions,
): BackwardEstimate & { lx: number } {
  const estimate = backwardEstimate(scene, { kind: 'disc', ...point, discMm }, o)
  return { ...estimate, lx: estimate.value }
}

export interface Combined extends Figure {
  /** How far forward and backward are apart, in standard errors of their difference; null where only one of them speaks. */
  apart: number | null
  /** Share of the backward estimate in the value. */
  backwardShare: number
}

/**
 * Forward and backward together, weighted by inverse variance: of all weighted means the one of least variance. A backward estimate from too few
 * telling rays stays out, since its error is then worth nothing.
 */
export function combine(forward: Figure, backward: Figure & { effective?: number }): Combined {
  if ((backward.effective ?? TRUSTED) < TRUSTED) return { ...forward, apart: null, backwardShare: 0 }
  if (!(forward.se > 0) && !(forward.value > 0))
    return { value: backward.value, se: backward.se, apart: null, backwardShare: 1 }
  const both = Math.hypot(forward.se, backward.se)
  const off = Math.abs(forward.value - backward.value)
  const apart = both > 0 ? off / both : off > 1e-9 * Math.abs(forward.value) ? Number.POSITIVE_INFINITY : 0
  const backwardShare = both > 0 ? (forward.se / both) ** 2 : 0.5
  return {
    value: forward.value + backwardShare * (backward.value - forward.value),
    se: both > 0 ? ((forward.se * backward.se) / both) * weightsError(backwardShare) : 0,
    apart,
    backwardShare,
  }
}
