// The graphics device of one trace, in both directions, and which engine its sheets name.
import type { BackwardTracer } from '../../engine/gpu/backwardTracer.ts'
import { makeGpuBackward } from '../../engine/gpuBackward.ts'
import { type EngineUse, type GpuForward, makeGpuForward } from '../../engine/gpuForward.ts'
import { backwardUnsupported } from '../../engine/progressive.ts'
import type { PreparedTrace } from './prepare.ts'
import { type JobOptions, NoDevice } from './sheet.ts'
import { EXITS_KEPT } from './types.ts'

export interface TraceEngines {
  forward: GpuForward
  /** The device's backward tracer. A device that is no use to the run is none to the estimates beside it. */
  backward(): BackwardTracer | null
  inUse(): EngineUse
  /** Waits for the device where the options ask for it; throws `NoDevice` where they insist on one that can't trace. */
  settle(): Promise<void>
  close(): void
}

export const kernelOptions = (o: Pick<JobOptions, 'seed' | 'plainRandom'>) => ({
  seed: o.seed,
  plainRandom: o.plainRandom ?? false,
  exitsBelow: EXITS_KEPT,
})

export function openEngines({ scene, shape }: PreparedTrace, options: JobOptions): TraceEngines {
  const graphics = scene.emittedW > 0 ? options.graphics : undefined
  const forward = makeGpuForward(graphics, scene, shape, kernelOptions(options))
  const backward = makeGpuBackward(graphics, scene, shape, options.seed)
  return {
    forward,
    backward: () => (forward.tracer() ? backward.tracer() : null),
    inUse() {
      const { engine, engineWhy } = forward.engineUse()
      const onlyForward = engine === 'gpu' && backward.fault() && backwardUnsupported(scene).length === 0
      return onlyForward
        ? { engine, engineWhy: `${engineWhy}; the processor traces backwards: ${backward.fault()}` }
        : { engine, engineWhy }
    },
    async settle() {
      // On the command line the first estimate waits too: the same order gives the same sheet.
      if (options.graphicsFirst || options.graphicsOnly) await Promise.all([forward.ready, backward.ready])
      if (options.graphicsOnly && !forward.tracer()) throw new NoDevice(forward.engineUse().engineWhy)
    },
    close() {
      forward.close()
      backward.close()
    },
  }
}
