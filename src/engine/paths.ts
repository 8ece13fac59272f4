// A few hundred paths with their corners, for the views: the first rays of the run, traced again. The run lets weights fall; a drawn path
// ends where it is absorbed, by a draw of its own, so that the losses are seen in their true share.
import { keepCode } from '../num/keepCode.ts'
import { mix, unit } from '../optics/draws.ts'
import { BATCHES, type TallyShape } from '../run/types.ts'
import type { Scene } from '../scene/scene.ts'
import { makeKernel } from './forward/kernel.ts'

export interface TracedPaths {
  start: Uint32Array
  xyz: Float32Array
  fate: Uint8Array
  emitter: Uint32Array
}

export function tracePaths(scene: Scene, shape: TallyShape, seed: number, count: number): TracedPaths {
  const start: number[] = [0]
  const xyz: number[] = []
  const fate: number[] = []
  const emitter: number[] = []
  if (scene.emittedW > 0) {
    const kernel = makeKernel(scene, shape, { seed, plainRandom: false, exitsBelow: 0 })
    let steps = seed
    const trail = {
      point(x: number, y: number, z: number) {
        const n = xyz.length
        const from = start[start.length - 1]! * 3
        if (n > from && xyz[n - 3] === x && xyz[n - 2] === y && xyz[n - 1] === z) return
        xyz.push(x, y, z)
      },
      stops(share: number) {
        if (share <= 0) return false
        steps = mix(steps + 1)
        return unit(mix(steps)) < share
      },
      end(f: number, e: number) {
        start.push(xyz.length / 3)
        fate.push(f)
        emitter.push(e)
      },
    }
    // Batch by batch: each has its own scramble to set up.
    for (let batch = 0; batch < BATCHES; batch++) {
      for (let i = batch; i < count; i += BATCHES) kernel.retrace(batch, (i - batch) / BATCHES, trail)
    }
    keepCode('paths', { kernel, trail })
  }
  return {
    start: Uint32Array.from(start),
    xyz: Float32Array.from(xyz),
    fate: Uint8Array.from(fate),
    emitter: Uint32Array.from(emitter),
  }
}
