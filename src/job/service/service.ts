// The desk in its own thread: one lamp in hand at a time, the newest, and the first looks of those before it still being read.
import type { Graphics } from '../../engine/choice.ts'
import type { Pool } from '../../engine/workers/pool.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { type FirstSheetReaders, makeFirstSheetReaders, type ReadingWorker } from '../beam/firstSheet.ts'
import type { JobOptions, Sheet } from '../beam/sheet.ts'
import { traceLamp } from '../beam/trace.ts'

export interface DeskHere {
  /** Resolves when the trace has ended or another has taken its place. `onHanded`: its first look is being read elsewhere, and comes even so. */
  trace(lamp: Lamp, options: JobOptions, onSheet: (sheet: Sheet) => void, onHanded: () => void): Promise<void>
  /** As the desk does by itself once the first lamp has settled. */
  startReaders(): void
  pause(): void
  resume(): void
  close(): void
}

/** So many first looks a thread until the engine that runs this code has compiled it well (`npm run bench -- first`). */
const WARM_LOOKS = 16
const FIRST_LOOK_RAYS = 16_384

/** DeviceQueue of the event loop, so that a newer order comes in before this one goes on; timers would wait 4 ms each. */
function makeLoopTurns() {
  const { port1, port2 } = new MessageChannel()
  const waiting: (() => void)[] = []
  port1.onmessage = () => waiting.shift()?.()
  const next = () =>
    new Promise<void>((turn) => {
      waiting.push(turn)
      port2.postMessage(null)
    })
  return { next, close: () => port1.close() }
}

/** `readers`: starts the threads that read first looks, not before the first lamp has settled; none: the desk reads them. `graphics`: who traces, if not the pool. */
export function makeDeskHere(
  pool: Pool,
  readers: () => ReadingWorker[],
  graphics: () => Graphics | undefined = () => undefined,
): DeskHere {
  const turns = makeLoopTurns()
  let turn = 0
  /** Ends the wait of the trace that was in hand. */
  let replace: (nothing: null) => void = () => {}
  let paused: Promise<void> | null = null
  let unpause: () => void = () => {}
  let looks: FirstSheetReaders | undefined
  let warm = false

  /**
   * Once, when the page's first lamp has settled and nothing is asked for: its first look again and again, for nobody. The hand that then
   * takes hold of a part finds its sheet almost twice as soon.
   */
  async function warmUp(lamp: Lamp, options: JobOptions, stopped: () => boolean, ready: () => Promise<void>) {
    warm = true
    startReaders()
    const first = { ...options, maxRays: 2 * FIRST_LOOK_RAYS, background: false }
    for (let i = 0; i < WARM_LOOKS * (looks?.threads ?? 1) && !stopped(); i++) {
      let seen = false
      const see = () => {
        seen = true
      }
      const control = { ready, stopped: () => seen || stopped() }
      await traceLamp(pool, lamp, first, see, control, undefined, looks)
    }
  }

  function startReaders() {
    const hands = looks ? [] : readers()
    if (hands.length > 0) looks = makeFirstSheetReaders(hands)
  }

  function resume() {
    paused = null
    unpause()
  }

  return {
    async trace(lamp, options, onSheet, onHanded) {
      const mine = ++turn
      replace(null)
      const gone = new Promise<null>((resolve) => {
        replace = resolve
      })
      pool.clear()
      resume()
      graphics()?.renew()
      const stopped = () => mine !== turn
      const ready = async () => {
        await turns.next()
        while (!stopped() && paused) await paused // it may be paused again meanwhile
      }
      const control = { stopped, ready, gone, onHanded }
      await traceLamp(pool, lamp, { ...options, graphics: graphics() }, onSheet, control, undefined, looks)
      if (!stopped() && !warm) void warmUp(lamp, options, stopped, ready)
    },
    startReaders,
    pause() {
      if (paused) return
      paused = new Promise((done) => {
        unpause = done
      })
    },
    resume,
    close() {
      turn++
      replace(null)
      turns.close()
      looks?.close()
      pool.close()
    },
  }
}
