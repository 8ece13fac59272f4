// The page's end of the desk.
import { proxy, releaseProxy, wrap } from 'comlink'
import type { Lamp } from '../../lamp/schema.ts'
import type { EngineOrder, JobOptions, Sheet } from '../beam/sheet.ts'
import type { DeskWorker } from './worker.ts'

export interface Desk {
  /** Trace a lamp; whatever was being traced before is dropped. */
  trace(
    lamp: Lamp,
    options: JobOptions,
    onSheet: (sheet: Sheet) => void,
    onFail: (why: string) => void,
    /** The whole of it is done, or another has taken its place. */
    onEnd?: () => void,
    /** Its first look is being read: another lamp may come, and the sheet of this one comes even so. */
    onHanded?: () => void,
  ): void
  pause(): void
  resume(): void
  dispose(): void
}

export function openDesk(engine: EngineOrder = { choice: 'auto' }): Desk {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' })
  const desk = wrap<DeskWorker>(worker)
  void desk.engine(engine)
  let fail: (why: string) => void = () => {}
  worker.onerror = (event) => fail(`The tracer stopped: ${event.message || 'its worker could not start'}.`)
  return {
    trace(lamp, options, onSheet, onFail, onEnd, onHanded = () => {}) {
      fail = onFail
      desk.trace(lamp, options, proxy(onSheet), proxy(onHanded)).then(onEnd, (error: unknown) => {
        onFail(error instanceof Error ? error.message : String(error))
      })
    },
    pause: () => void desk.pause(),
    resume: () => void desk.resume(),
    dispose() {
      desk[releaseProxy]()
      worker.terminate()
    },
  }
}
