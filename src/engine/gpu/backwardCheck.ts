// Before a device's backward estimates are trusted: a few backward rays on both engines.
import { RAY_SIZE, W } from '../../optics/records.ts'
import { BATCHES } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'
import type { Aim } from '../backward/aim.ts'
import { makeBackwardKernel, SUM_W, SUMS } from '../backward/estimator.ts'
import { sourcesOf } from '../backward/sources.ts'
import { RECORD_FLOATS } from './readBack.ts'

/** Numbers of a backward ray's record (shaders/kernels/backward.wgsl). */
export const BACK_WEIGHT = 6
export const BACK_DRAWS = 9
export const BACK_SCORE = 10

/** Of a hundred rays so many may differ: near an edge, single precision may fall on its other side. */
const DIFFERENT_MOST = 0.01
/** A score, or a weight, is the same within this part, or so many of its steps. */
const SAME_TO = 1e-2
const SAME_STEPS = 64

export interface BackwardEnd {
  /** The ray where it ended: slots of optics/records.ts. */
  ray: Float64Array
  draws: number
  /** In the steps of the sums, whole. */
  score: number
}

/** How the processor's backward rays end, one at a time. */
export function backwardEnds(
  scene: Scene,
  aim: Aim,
  seed: number,
  ray: Float64Array = new Float64Array(RAY_SIZE),
): (batch: number, index: number) => BackwardEnd {
  const stream = new Int32Array(3)
  const kernel = makeBackwardKernel(scene, aim, seed, sourcesOf(scene), { ray, stream })
  const sums = new Float64Array(SUMS)
  return (batch, index) => {
    ray.fill(0)
    ray[W] = 1
    sums.fill(0)
    kernel.traceBatch(batch, index, index + 1, sums)
    return { ray, draws: stream[2]!, score: sums[SUM_W]! }
  }
}

/** Null when both engines agree; else what they differ in. `records`: of rays 0 and on. */
export function backwardAgrees(scene: Scene, aim: Aim, seed: number, records: Float32Array): string | null {
  const rays = records.length / RECORD_FLOATS
  const endOf = backwardEnds(scene, aim, seed)
  let different = 0
  for (let i = 0; i < rays; i++) {
    const { ray, draws, score } = endOf(i % BATCHES, Math.floor(i / BATCHES))
    const at = i * RECORD_FLOATS
    const near = (a: number, b: number, step: number) => Math.abs(a - b) <= SAME_TO * Math.abs(b) + step
    const same =
      records[at + BACK_DRAWS] === draws &&
      near(records[at + BACK_WEIGHT]!, ray[W]!, 1e-6) &&
      near(records[at + BACK_SCORE]!, score, SAME_STEPS)
    if (!same) different++
  }
  if (different <= DIFFERENT_MOST * rays) return null
  return `${different} of ${rays} rays traced backwards differ from the processor’s`
}
