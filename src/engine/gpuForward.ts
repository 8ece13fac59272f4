// The graphics device as the helper of one run: it takes rounds as soon as it is ready, and its failures are told, not thrown.
import { BATCHES, type TallyShape } from '../run/types.ts'
import type { Scene } from '../scene/scene.ts'
import { ASKED_FOR, type Graphics } from './choice.ts'
import { wordsOf } from './gpu/device.ts'
import { prepare, prepareAtOnce } from './gpu/gpuEngine.ts'
import type { GpuOptions, Guest } from './gpu/types.ts'
import { Dropped } from './workers/pool.ts'

export interface Standing {
  engine: 'cpu' | 'gpu'
  /** The device, or why the processor traces instead. */
  engineWhy: string
}

export interface Helper {
  /** Resolves when the device is ready for this scene or will not be. Never rejects. */
  ready: Promise<void>
  /** The device's hand, while it has one. */
  guest(): Guest | null
  /** The pool's speed, to compare it with. */
  poolDid(raysPerMs: number): void
  standing(): Standing
  close(): void
}

export function makeHelper(
  graphics: Graphics | undefined,
  scene: Scene,
  shape: TallyShape,
  options: GpuOptions,
  /** Not the run itself but one beside it: a drill doesn't count its rays. */
  beside = false,
): Helper {
  let guest: Guest | null = null
  let fault = ''
  let traced = 0
  let closed = false
  let slower = false

  const machine = graphics?.machine()
  const atOnce =
    graphics && machine ? (graphics.standIn?.(scene, shape) ?? prepareAtOnce(machine, scene, shape, options)) : null
  if (graphics && atOnce) guest = watchedGuest(graphics, atOnce)
  const ready = guest || !graphics ? Promise.resolve() : begin(graphics)

  async function begin(from: Graphics): Promise<void> {
    const found = await from.ready
    if (!found || closed) return
    const prepared = await prepare(found, scene, shape, options)
    if (!prepared.ok) fault = prepared.why
    else if (closed) prepared.guest.close()
    else guest = watchedGuest(from, prepared.guest)
  }

  /** Counts what it has traced, and lets it go when it fails. */
  function watchedGuest(from: Graphics, one: Guest): Guest {
    const failing = async <T>(work: Promise<T>): Promise<T> => {
      try {
        return await work
      } catch (error) {
        if (!(error instanceof Dropped)) {
          fault = wordsOf(error)
          guest?.close()
          guest = null
        }
        throw error
      }
    }
    return {
      ...one,
      async trace(start, end, exitsBelow) {
        const shares = failing(one.trace(start, end, exitsBelow))
        if (!beside) from.gives((end - start) * BATCHES)
        const done = await shares
        traced += (end - start) * BATCHES
        return done
      },
      exits: (start, end) => failing(one.exits(start, end)),
    }
  }

  function why(): string {
    if (!graphics) return ASKED_FOR
    const failed = fault || (graphics.machine() ? '' : graphics.why())
    if (failed)
      return traced > 0 ? `${failed} after ${traced.toLocaleString('en-GB')} rays; the run goes on here` : failed
    if (slower) return `the graphics device (${graphics.machine()?.name}) is slower here than the processor`
    return 'the graphics device is being made ready for this lamp'
  }

  return {
    ready,
    guest() {
      if (!graphics?.machine() || !guest) return null
      slower = !graphics.worth(guest.raysPerMs())
      return slower ? null : guest
    },
    poolDid: (raysPerMs) => graphics?.poolDid(raysPerMs),
    standing() {
      const device = graphics?.machine()
      if (device && guest && traced > 0 && !slower) return { engine: 'gpu', engineWhy: device.name }
      return { engine: 'cpu', engineWhy: why() }
    },
    close() {
      closed = true
      guest?.close()
      guest = null
    },
  }
}
