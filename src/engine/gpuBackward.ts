// The graphics device as the backward tracer of one run: it traces as soon as it is ready, and its failures are values, not exceptions.

import { Cancelled } from '../num/scheduler.ts'
import type { TallyShape } from '../run/types.ts'
import type { Scene } from '../scene/scene.ts'
import type { Graphics } from './choice.ts'
import { prepareBackward, prepareBackwardSync } from './gpu/backwardEngine.ts'
import type { BackwardTracer } from './gpu/backwardTracer.ts'
import { messageOf } from './gpu/device.ts'

export interface GpuBackward {
  /** Resolves when the device is ready for this scene or will not be. Never rejects. */
  ready: Promise<void>
  /** The device's backward tracer, while there is one. */
  tracer(): BackwardTracer | null
  /** Why a device that is there does not trace backwards, in words; '' while nothing is amiss. */
  fault(): string
  close(): void
}

export function makeGpuBackward(
  available: Graphics | undefined,
  scene: Scene,
  shape: TallyShape,
  seed: number,
): GpuBackward {
  let backwardTracer: BackwardTracer | null = null
  let fault = ''
  let closed = false
  // A stub of the forward tracer has no backward one.
  const graphics = available?.stub ? undefined : available

  const machine = graphics?.machine()
  const runToEnd = machine && !machine.software ? prepareBackwardSync(machine, scene, shape, seed) : null
  if (runToEnd) backwardTracer = watched(runToEnd)
  const ready = backwardTracer || !graphics ? Promise.resolve() : begin(graphics)

  async function begin(from: Graphics): Promise<void> {
    const found = await from.ready
    // A software device would be a hundred times slower than the processor by itself, and the first sheet waits for the estimate.
    if (!found || found.software || closed) return
    const prepared = await prepareBackward(found, scene, shape, seed)
    if (!prepared.ok) fault = prepared.why
    else if (closed) prepared.backwardTracer.close()
    else backwardTracer = watched(prepared.backwardTracer)
  }

  /** Lets it go when it fails. */
  function watched(one: BackwardTracer): BackwardTracer {
    return {
      ...one,
      async trace(aim, from, to) {
        try {
          return await one.trace(aim, from, to)
        } catch (error) {
          if (!(error instanceof Cancelled)) {
            fault = messageOf(error)
            backwardTracer?.close()
            backwardTracer = null
          }
          throw error
        }
      },
    }
  }

  return {
    ready,
    tracer: () => (graphics?.machine() ? backwardTracer : null),
    fault: () => fault,
    close() {
      closed = true
      backwardTracer?.close()
      backwardTracer = null
    },
  }
}
