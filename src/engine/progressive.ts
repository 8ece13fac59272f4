// Progressive backward estimates of a scene, on a graphics device where there is one for it, else on the pool. Ray i is the same ray on both, so an
// estimate may change from one to the other on the way; on one of them it has the same bits however far each step goes.

import { Cancelled } from '../num/scheduler.ts'
import { BATCHES, type TallyShape } from '../run/types.ts'
import type { Scene } from '../scene/scene.ts'
import type { Aim } from './backward/aim.ts'
import { type BackwardEstimate, estimateFrom } from './backward/estimate.ts'
import { makeBackwardKernel, SUMS } from './backward/estimator.ts'
import { backwardUnsupported, sourcesOf } from './backward/sources.ts'
import type { KernelOptions } from './forward/kernel.ts'
import type { BackwardTracer } from './gpu/backwardTracer.ts'
import type { Pool } from './workers/pool.ts'

interface ProgressiveEstimate {
  /** On to so many rays in each batch; the estimate so far. */
  upTo(raysEach: number): Promise<BackwardEstimate>
  close(): void
}

/** Backward estimates of one scene, of as many aims as are requested. */
export interface BackwardEstimates {
  /** Rays of a batch for an aim of which nothing is known yet: a device traces many before the pool has traced a few. */
  firstRays(): number
  /** `idle`: behind whatever waits, instead of before it. `from`: without the rays of each batch below this, by which the aim was chosen, say. */
  at(aim: Aim, idle?: boolean, from?: number): Pick<ProgressiveEstimate, 'upTo'>
  close(): void
}

/** On the pool, before the first sheet; on a device, where the searchlight's axis is then known to ± 1 %. */
const POOL_FIRST = 256
const DEVICE_FIRST = 1 << 13

/**
 * Null when something of the scene can't be traced backwards. With the options of a run that is traced at the same time the workers get the
 * scene once for both. `device`: traces instead of the pool, while there is one.
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
  let closed = false

  /** Rays [from, to) of every batch. What a device loses on the way the pool traces again, from where the device began. */
  async function chunk(aim: Aim, from: number, to: number, idle: boolean): Promise<Float64Array[]> {
    const backwardTracer = device()
    if (backwardTracer) {
      try {
        return await backwardTracer.trace(aim, from, to)
      } catch (error) {
        if (closed || error instanceof Cancelled) throw error
      }
    }
    return Promise.all(Array.from({ length: BATCHES }, (_, batch) => loaded.traceBackward(aim, batch, from, to, idle)))
  }

  return {
    firstRays: () => (device() ? DEVICE_FIRST : POOL_FIRST),
    at(aim, idle = false, first = 0) {
      const scale = makeBackwardKernel(scene, aim, options.seed, sources)
      const sums = Array.from({ length: BATCHES }, () => new Float64Array(SUMS))
      let done = 0
      return {
        async upTo(raysEach) {
          const from = done
          if (raysEach > from) {
            done = raysEach
            const parts = await chunk(aim, first + from, first + raysEach, idle)
            for (const [batch, part] of parts.entries()) for (let i = 0; i < SUMS; i++) sums[batch]![i]! += part[i]!
          }
          return estimateFrom(scale, sums, done)
        },
      }
    },
    close() {
      closed = true
      loaded.unload()
    },
  }
}

export { type BackwardEstimate, combine, TRUSTED } from './backward/estimate.ts'
export { backwardUnsupported } from './backward/sources.ts'
