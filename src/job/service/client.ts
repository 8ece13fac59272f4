// The page's side of the tracing service.
import type { CallReply, CallRequest } from '../../engine/workers/calls.ts'
import { browserPort, type WorkerPort } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { Cancelled, makeNewest } from '../../num/scheduler.ts'
import { LAMP_FAULT } from '../../run/validate.ts'
import type { EngineOrder, JobOptions, Sheet } from '../beam/sheet.ts'
import { makeRestarting, type Trouble } from './restarting.ts'
import type { TracingCalls } from './service.ts'

export interface TracingClient {
  /** Trace a lamp; whatever was being traced before is cancelled. */
  trace(
    lamp: Lamp,
    options: JobOptions,
    onSheet: (sheet: Sheet) => void,
    /** `ofLamp`: the lamp itself can't be traced, and trying again gives the same. */
    onFail: (why: string, ofLamp: boolean) => void,
    /** The whole of it is done, or another has taken its place. */
    onEnd?: () => void,
    /** Its first sheet is being read elsewhere: another lamp may come, and the sheet of this one comes even so. */
    onHandedOver?: () => void,
  ): void
  pause(): void
  resume(): void
  /** Starts the worker at once, also one that is started no more by itself. */
  again(): void
  dispose(): void
}

export function openTracingClient(
  engine: EngineOrder = { choice: 'auto' },
  onTrouble: (trouble: Trouble) => void = () => {},
  open: () => WorkerPort<CallRequest, CallReply> = openWorker,
): TracingClient {
  const quietly = (call: Promise<unknown>) => void call.catch(() => {})
  const client = makeRestarting<TracingCalls>(open, {
    name: NAME,
    work: 'trace',
    onOpen: (worker) => quietly(worker.call('engine', engine)),
    onTrouble,
  })
  const newest = makeNewest()
  return {
    trace(lamp, options, onSheet, onFail, onEnd, onHandedOver) {
      const signal = newest.start()
      client
        .call(
          'trace',
          { lamp, options },
          { signal, onEvent: (event) => (event.kind === 'sheet' ? onSheet(event.sheet) : onHandedOver?.()) },
        )
        .then(onEnd, (error: Error) => error instanceof Cancelled || onFail(error.message, error.name === LAMP_FAULT)) // disposed of: nobody waits
    },
    pause: () => quietly(client.call('pause', null)),
    resume: () => quietly(client.call('resume', null)),
    again: client.again,
    dispose: client.close,
  }
}

const NAME = 'The tracer'
const openWorker = () =>
  browserPort<CallRequest, CallReply>(new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }), NAME)
