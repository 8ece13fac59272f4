// Backward estimates of a scene, carried on by and by, on a graphics device where there is one for it, else on the pool. Ray i is the same ray on
// both, so a look may change hands on the way; on one of them it has the same bits however far each step goes.
import { BATCHES, type TallyShape } from '../run/types.ts'
import type { Scene } from '../scene/scene.ts'
import { type BackwardEstimate, estimateFrom } from './backward/estimate.ts'
import { type Aim, makeBackwardKernel, SUMS } from './backward/estimator.ts'
import { backwardUnsupported, sourcesOf } from './backward/sources.ts'
import type { KernelOptions } from './forward/kernel.ts'
import type { BackwardTracer } from './gpu/backwardTracer.ts'
import { Cancelled, type Pool } from './workers/pool.ts'

export interface ProgressiveEstimate {
  /** On to so many rays in each batch; the estimate so far. */
  upTo(raysEach: number): Promise<BackwardEstimate>
  drop(): void
}

/** One scene seen from the far end, by as many aims as are asked for. */
export interface BackwardEstimates {
  /** Rays of a batch that an aim is worth before anything is known of it: a device has seen many before the pool has seen a few. */
  firstRays(): number
  /** `idle`: behind whatever waits, instead of before it. */
  at(aim: Aim, idle?: boolean): Pick<ProgressiveEstimate, 'upTo'>
  drop(): void
}

/** On the pool, before the first sheet; on a device, where the searchlight's axis is then known to ± 1 %. */
const POOL_FIRST = 256
const DEVICE_FIRST = 1 << 13

/**
 * Null when something of the scene can't be traced from that end. With the options of a run that is traced at the same time the workers
 * get the scene once for both. `device`: who looks instead of the pool, while there is one.
 */
export function makeBackwardEstimates(
  pool: Pool,
  scene: Scene,
  shape: TallyShape,
  options: KernelOptions,
  device: () => BackwardTracer | null = () => null,
): BackwardEstimates | null {
  if (!(scene.emittedW > 0) || backwardUnsupported(scene).length > 0) return null
  const loaded = pool.load(scene, shape, options)
  const sources = sourcesOf(scene)
  let dropped = false

  /** Rays [from, to) of every batch. What a device loses on the way the pool looks at again, from where the device began. */
  async function chunk(aim: Aim, from: number, to: number, idle: boolean): Promise<Float64Array[]> {
    const backwardTracer = device()
    if (backwardTracer) {
      try {
        return await backwardTracer.trace(aim, from, to)
      } catch (error) {
        if (dropped || error instanceof Cancelled) throw error
      }
    }
    return Promise.all(Array.from({ length: BATCHES }, (_, batch) => loaded.traceBackward(aim, batch, from, to, idle)))
  }

  return {
    firstRays: () => (device() ? DEVICE_FIRST : POOL_FIRST),
    at(aim, idle = false) {
      const scale = makeBackwardKernel(scene, aim, options.seed, sources)
      const sums = Array.from({ length: BATCHES }, () => new Float64Array(SUMS))
      let done = 0
      return {
        async upTo(raysEach) {
          const from = done
          if (raysEach > from) {
            done = raysEach
            const parts = await chunk(aim, from, raysEach, idle)
            for (const [batch, part] of parts.entries()) for (let i = 0; i < SUMS; i++) sums[batch]![i]! += part[i]!
          }
          return estimateFrom(scale, sums, done)
        },
      }
    },
    drop() {
      dropped = true
      loaded.unload()
    },
  }
}

/** One aim alone. */
export function makeProgressiveEstimate(
  pool: Pool,
  scene: Scene,
  shape: TallyShape,
  aim: Aim,
  options: KernelOptions,
): ProgressiveEstimate | null {
  const far = makeBackwardEstimates(pool, scene, shape, options)
  return far && { ...far.at(aim), drop: far.drop }
}

export { type BackwardEstimate, combine, DEFECT, TRUSTED } from './backward/estimate.ts'
export { backwardUnsupported } from './backward/sources.ts'
