// The tracing service in its own thread: one lamp at a time, the newest, and the first sheets of those before it that are still being read.
import type { Graphics } from '../../engine/choice.ts'
import { makeNextTask } from '../../engine/workers/nextTask.ts'
import type { Pool } from '../../engine/workers/pool.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeNewest, makePause, makeScheduler } from '../../num/scheduler.ts'
import { type FirstSheetClient, type FirstSheetReaders, makeFirstSheetReaders } from '../beam/firstSheet.ts'
import type { EngineOrder, JobOptions, Sheet } from '../beam/sheet.ts'
import { traceLamp } from '../beam/trace.ts'
import type { TraceContext } from '../beam/types.ts'

/** What the page may call. */
export type TracingCalls = {
  /** Comes first. The device is opened meanwhile; no sheet waits for it. */
  engine: { args: EngineOrder; event: never; result: unknown }
  trace: { args: { lamp: Lamp; options: JobOptions }; event: TraceEvent; result: unknown }
  pause: { args: null; event: never; result: unknown }
  resume: { args: null; event: never; result: unknown }
}
/** `handedOn`: the first sheet is being read elsewhere, and comes even when another lamp takes this one's place. */
type TraceEvent = { kind: 'sheet'; sheet: Sheet } | { kind: 'handedOver' }

export interface TracingService {
  /** Resolves when the trace has ended, or another has taken its place and what was handed on has been read. */
  trace(lamp: Lamp, options: JobOptions, onSheet: (sheet: Sheet) => void, onHandedOver: () => void): Promise<void>
  /** As the service does by itself once the first lamp has settled. */
  startReaders(): void
  pause(): void
  resume(): void
  close(): void
}

/** So many first sheets a thread until the engine that runs this code has compiled it well (`npm run bench -- first`). */
const WARM_SHEETS = 16
const FIRST_SHEET_RAYS = 16_384

/** Few processors are busy with the rays: readers beside them double the time from an edit to its sheet and give no more of them. */
const READERS_FROM = 4
const MOST_READERS = 4

/** Threads that read first sheets beside so many that trace. */
export const readersFor = (threads: number): number =>
  threads < READERS_FROM ? 0 : Math.min(MOST_READERS, threads >> 1)

/**
 * `readers`: starts the threads that read first sheets, when the first lamp has settled or is edited; none: they are read here. `graphics`: the device
 * that traces, if any. `sunThread`, `frontThread`: read the sun and search in front; none: that is done here.
 */
export function makeTracingService(
  pool: Pool,
  readers: () => FirstSheetClient[],
  graphics: () => Graphics | undefined = () => undefined,
  { sunThread, frontThread }: Pick<TraceContext, 'sunThread' | 'frontThread'> = {},
): TracingService {
  const nextTask = makeNextTask()
  const newest = makeNewest()
  const pause = makePause()
  let firstSheetReaders: FirstSheetReaders | undefined
  let warm = false
  let traces = 0

  function startReaders() {
    const clients = firstSheetReaders ? [] : readers()
    if (clients.length > 0) firstSheetReaders = makeFirstSheetReaders(clients)
  }

  /**
   * Once, when the page's first lamp has settled and nothing else is to do: its first sheet again and again, for nobody. The drag that then begins
   * has its sheet almost twice as soon.
   */
  async function warmUp(lamp: Lamp, options: JobOptions, signal: AbortSignal) {
    warm = true
    startReaders()
    const first = { ...options, maxRays: 2 * FIRST_SHEET_RAYS, background: false }
    for (let i = 0; i < WARM_SHEETS * (firstSheetReaders?.threads ?? 1) && !signal.aborted; i++) {
      const enough = new AbortController()
      const scheduler = makeScheduler(AbortSignal.any([signal, enough.signal]), { pause, nextTask })
      await traceLamp(pool, lamp, first, () => enough.abort(), { scheduler, firstSheetReaders })
    }
  }

  return {
    async trace(lamp, options, onSheet, onHandedOver) {
      const signal = newest.start()
      // Whoever edits before the first lamp has settled drags at once.
      if (traces++ > 0) startReaders()
      pool.clear()
      pause.resume()
      graphics()?.renew()
      const scheduler = makeScheduler(signal, { pause, nextTask })
      let reading: Promise<unknown> = Promise.resolve()
      const tracked = firstSheetReaders && {
        ...firstSheetReaders,
        read: (...args: Parameters<FirstSheetReaders['read']>) => {
          const read = firstSheetReaders!.read(...args)
          reading = read.catch(() => {})
          return read
        },
      }
      await traceLamp(pool, lamp, { ...options, graphics: graphics() }, onSheet, {
        scheduler,
        firstSheetReaders: tracked,
        ...{ sunThread, frontThread },
        onHandedOver,
      })
      await reading
      if (!signal.aborted && !warm) warmUp(lamp, options, signal).catch(() => {}) // nobody waits for it; the next trace says what is amiss
    },
    startReaders,
    pause: pause.pause,
    resume: pause.resume,
    close() {
      newest.cancel()
      firstSheetReaders?.close()
      sunThread?.close()
      frontThread?.close()
      pool.close()
    },
  }
}
