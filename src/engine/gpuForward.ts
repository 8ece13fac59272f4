// The graphics device in one run: it takes rounds as soon as it is ready, and its failures are values, not exceptions.

import { Cancelled } from '../num/scheduler.ts'
import { inThousands } from '../num/thousands.ts'
import { BATCHES, type TallyShape } from '../run/types.ts'
import type { Scene } from '../scene/scene.ts'
import { ASKED_FOR, type Graphics } from './choice.ts'
import { messageOf } from './gpu/device.ts'
import { prepare, prepareSync } from './gpu/gpuEngine.ts'
import type { GpuOptions, GpuTracer } from './gpu/types.ts'

export interface EngineUse {
  engine: 'cpu' | 'gpu'
  /** The device, or why the processor traces instead. */
  engineWhy: string
}

export interface GpuForward {
  /** Resolves when the device is ready for this scene or will not be. Never rejects. */
  ready: Promise<void>
  /** The device's tracer, while there is one. */
  tracer(): GpuTracer | null
  /** The pool's speed, to compare it with. */
  measurePool(raysPerMs: number): void
  engineUse(): EngineUse
  close(): void
}

export function makeGpuForward(
  graphics: Graphics | undefined,
  scene: Scene,
  shape: TallyShape,
  options: GpuOptions,
  /** Not the run itself but one beside it: a drill doesn't count its rays. */
  beside = false,
): GpuForward {
  let gpuTracer: GpuTracer | null = null
  let fault = ''
  let traced = 0
  let closed = false
  let slower = false

  const machine = graphics?.machine()
  const runToEnd =
    graphics && machine ? (graphics.stub?.(scene, shape) ?? prepareSync(machine, scene, shape, options)) : null
  if (graphics && runToEnd) gpuTracer = watchedTracer(graphics, runToEnd)
  const ready = gpuTracer || !graphics ? Promise.resolve() : begin(graphics)

  async function begin(from: Graphics): Promise<void> {
    const found = await from.ready
    if (!found || closed) return
    const prepared = await prepare(found, scene, shape, options)
    if (!prepared.ok) fault = prepared.why
    else if (closed) prepared.gpuTracer.close()
    else gpuTracer = watchedTracer(from, prepared.gpuTracer)
  }

  /** Counts what it has traced, and lets it go when it fails. */
  function watchedTracer(from: Graphics, one: GpuTracer): GpuTracer {
    const failing = async <T>(work: Promise<T>): Promise<T> => {
      try {
        return await work
      } catch (error) {
        if (!(error instanceof Cancelled)) {
          fault = messageOf(error)
          gpuTracer?.close()
          gpuTracer = null
        }
        throw error
      }
    }
    return {
      ...one,
      async trace(start, end, exitsBelow) {
        const partials = failing(one.trace(start, end, exitsBelow))
        if (!beside) from.countRays((end - start) * BATCHES)
        const done = await partials
        traced += (end - start) * BATCHES
        return done
      },
      exits: (start, end) => failing(one.exits(start, end)),
    }
  }

  function why(): string {
    if (!graphics) return ASKED_FOR
    const failed = fault || (graphics.machine() ? '' : graphics.why())
    if (failed) return traced > 0 ? `${failed} after ${inThousands(traced)} rays; the run goes on here` : failed
    if (slower) return `the graphics device (${graphics.machine()?.name}) is slower here than the processor`
    return 'the graphics device is being made ready for this lamp'
  }

  return {
    ready,
    tracer() {
      if (!graphics?.machine() || !gpuTracer) return null
      slower = !graphics.worth(gpuTracer.raysPerMs())
      return slower ? null : gpuTracer
    },
    measurePool: (raysPerMs) => graphics?.measurePool(raysPerMs),
    engineUse() {
      const device = graphics?.machine()
      if (device && gpuTracer && traced > 0 && !slower) return { engine: 'gpu', engineWhy: device.name }
      return { engine: 'cpu', engineWhy: why() }
    },
    close() {
      closed = true
      gpuTracer?.close()
      gpuTracer = null
    },
  }
}
