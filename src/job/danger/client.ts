// The page's side of the danger sheet: a worker of its own with its own tracing workers, started with the first reading.
import { makeClient } from '../../engine/workers/calls.ts'
import { browserPort } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeNewest } from '../../num/scheduler.ts'
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
  dispose(): void
}

export function openDangerClient(): DangerClient {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' })
  const client = makeClient<DangerCalls>(browserPort(worker, 'The danger sheet'), 'The danger sheet')
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
    dispose: client.close,
  }
}
