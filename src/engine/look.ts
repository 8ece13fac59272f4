// Backward estimates of a scene, carried on by and by on the pool: the same bits however far each step goes.
import { BATCHES, type TallyShape } from '../run/types.ts'
import type { Scene } from '../scene/scene.ts'
import { type Aim, makeBackward, SUMS } from './cpu/backward.ts'
import { type BackwardEstimate, estimateFrom } from './cpu/backwardEstimate.ts'
import { backwardLacks, findSources } from './cpu/backwardSources.ts'
import type { KernelOptions } from './cpu/kernel.ts'
import type { Pool } from './cpu/pool.ts'

export interface Look {
  /** On to so many rays in each batch; the estimate so far. */
  upTo(raysEach: number): Promise<BackwardEstimate>
  drop(): void
}

/** One scene seen from the far end, by as many aims as are asked for. */
export interface FarEnd {
  /** `idle`: behind whatever waits, instead of before it. */
  at(aim: Aim, idle?: boolean): Pick<Look, 'upTo'>
  drop(): void
}

/**
 * Null when something of the scene can't be traced from that end. With the options of a run that is traced at the same time the workers
 * get the scene once for both.
 */
export function makeFarEnd(pool: Pool, scene: Scene, shape: TallyShape, options: KernelOptions): FarEnd | null {
  if (!(scene.emittedW > 0) || backwardLacks(scene).length > 0) return null
  const loaded = pool.load(scene, shape, options)
  const sources = findSources(scene)
  return {
    at(aim, idle = false) {
      const scale = makeBackward(scene, aim, options.seed, sources)
      const sums = Array.from({ length: BATCHES }, () => new Float64Array(SUMS))
      let done = 0
      return {
        async upTo(raysEach) {
          const from = done
          if (raysEach > from) {
            done = raysEach
            const parts = await Promise.all(sums.map((_, batch) => loaded.look(aim, batch, from, raysEach, idle)))
            for (const [batch, part] of parts.entries()) for (let i = 0; i < SUMS; i++) sums[batch]![i]! += part[i]!
          }
          return estimateFrom(scale, sums, done)
        },
      }
    },
    drop: () => loaded.drop(),
  }
}

/** One aim alone. */
export function makeLook(pool: Pool, scene: Scene, shape: TallyShape, aim: Aim, options: KernelOptions): Look | null {
  const far = makeFarEnd(pool, scene, shape, options)
  return far && { ...far.at(aim), drop: far.drop }
}

export { type BackwardEstimate, combine, DEFECT, TRUSTED } from './cpu/backwardEstimate.ts'
