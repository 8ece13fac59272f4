// The graphics device as the far end's eye in one run: it looks as soon as it is ready, and its failures are told, not thrown.
import type { TallyShape } from '../run/types.ts'
import type { Scene } from '../scene/scene.ts'
import type { Graphics } from './choice.ts'
import { prepareLookout, prepareLookoutAtOnce } from './gpu/backwardEngine.ts'
import type { Lookout } from './gpu/backwardTracer.ts'
import { wordsOf } from './gpu/device.ts'
import { Dropped } from './workers/pool.ts'

export interface FarHelper {
  /** Resolves when the device is ready for this scene or will not be. Never rejects. */
  ready: Promise<void>
  /** The device's eye, while it has one. */
  lookout(): Lookout | null
  /** Why a device that is there does not look, in words; '' while nothing is amiss. */
  fault(): string
  close(): void
}

export function makeFarHelper(given: Graphics | undefined, scene: Scene, shape: TallyShape, seed: number): FarHelper {
  let lookout: Lookout | null = null
  let fault = ''
  let closed = false
  // A hand that stands in for the device's has no eye.
  const graphics = given?.standIn ? undefined : given

  const machine = graphics?.machine()
  const atOnce = machine && !machine.software ? prepareLookoutAtOnce(machine, scene, shape, seed) : null
  if (atOnce) lookout = watched(atOnce)
  const ready = lookout || !graphics ? Promise.resolve() : begin(graphics)

  async function begin(from: Graphics): Promise<void> {
    const found = await from.ready
    // One that the processor computes would look a hundred times slower than the processor by itself, and the first sheet waits for the look.
    if (!found || found.software || closed) return
    const prepared = await prepareLookout(found, scene, shape, seed)
    if (!prepared.ok) fault = prepared.why
    else if (closed) prepared.lookout.close()
    else lookout = watched(prepared.lookout)
  }

  /** Lets it go when it fails. */
  function watched(one: Lookout): Lookout {
    return {
      ...one,
      async look(aim, from, to) {
        try {
          return await one.look(aim, from, to)
        } catch (error) {
          if (!(error instanceof Dropped)) {
            fault = wordsOf(error)
            lookout?.close()
            lookout = null
          }
          throw error
        }
      },
    }
  }

  return {
    ready,
    lookout: () => (graphics?.machine() ? lookout : null),
    fault: () => fault,
    close() {
      closed = true
      lookout?.close()
      lookout = null
    },
  }
}
