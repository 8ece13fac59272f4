// The page's side of the danger sheet: a worker of its own with its own tracing workers, started with the first reading.
import type { CallReply, CallRequest } from '../../engine/workers/calls.ts'
import { browserPort, type WorkerPort } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeNewest } from '../../num/scheduler.ts'
import { makeRestarting, type Trouble } from '../service/restarting.ts'
import type { DangerReading, DangerStage } from './result.ts'
import type { DangerCalls } from './service.ts'

export interface DangerClient {
  /** Whatever was being read before is cancelled. Resolves with null when a newer lamp took its place. */
  read(
    lamp: Lamp,
    onStage: (stage: DangerStage, share: number) => void,
    /** From few rays, ahead of the whole. */
    onRough: (reading: DangerReading) => void,
  ): Promise<DangerReading | null>
  stop(): void
  /** Starts the worker at once, also one that is started no more by itself. */
  again(): void
  dispose(): void
}

const NAME = 'The worker of the danger sheet'

export function openDangerClient(
  onTrouble: (trouble: Trouble) => void = () => {},
  open: () => WorkerPort<CallRequest, CallReply> = openWorker,
): DangerClient {
  const client = makeRestarting<DangerCalls>(open, { name: NAME, work: 'read', onTrouble })
  const newest = makeNewest()
  return {
    read(lamp, onStage, onRough) {
      const signal = newest.start()
      return client.call('read', lamp, {
        signal,
        onEvent(event) {
          if (signal.aborted) return
          if (event.kind === 'stage') onStage(event.stage, event.share)
          else onRough(event.reading)
        },
      })
    },
    stop: newest.cancel,
    again: client.again,
    dispose: client.close,
  }
}

const openWorker = () =>
  browserPort<CallRequest, CallReply>(new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }), NAME)
