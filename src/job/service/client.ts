// The page's side of the tracing service.
import { makeClient } from '../../engine/workers/calls.ts'
import { browserPort } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { Cancelled } from '../../num/scheduler.ts'
import type { EngineOrder, JobOptions, Sheet } from '../beam/sheet.ts'
import type { TracingCalls } from './service.ts'

export interface TracingClient {
  /** Trace a lamp; whatever was being traced before is cancelled. */
  trace(
    lamp: Lamp,
    options: JobOptions,
    onSheet: (sheet: Sheet) => void,
    onFail: (why: string) => void,
    /** The whole of it is done, or another has taken its place. */
    onEnd?: () => void,
    /** Its first sheet is being read elsewhere: another lamp may come, and the sheet of this one comes even so. */
    onHandedOver?: () => void,
  ): void
  pause(): void
  resume(): void
  dispose(): void
}

export function openTracingClient(engine: EngineOrder = { choice: 'auto' }): TracingClient {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' })
  const client = makeClient<TracingCalls>(browserPort(worker, 'The tracer'), 'The tracer')
  /** A worker that dies before the first call fails the next trace. */
  const quietly = (call: Promise<unknown>) => void call.catch(() => {})
  quietly(client.call('engine', engine))
  return {
    trace(lamp, options, onSheet, onFail, onEnd, onHandedOver) {
      client
        .call(
          'trace',
          { lamp, options },
          { onEvent: (event) => (event.kind === 'sheet' ? onSheet(event.sheet) : onHandedOver?.()) },
        )
        .then(onEnd, (error: Error) => error instanceof Cancelled || onFail(error.message)) // disposed of: nobody waits
    },
    pause: () => quietly(client.call('pause', null)),
    resume: () => quietly(client.call('resume', null)),
    dispose: client.close,
  }
}
