// The page's end of the danger sheet: a worker of its own with its own tracing workers, started with the first sheet that is asked for.
import { proxy, releaseProxy, wrap } from 'comlink'
import type { Lamp } from '../../lamp/schema.ts'
import type { DangerReading, DangerStage } from './result.ts'
import type { DangerDeskWorker } from './worker.ts'

export interface DangerDesk {
  /** Whatever was being read before is dropped. Resolves with null when a newer lamp took its place. */
  read(
    lamp: Lamp,
    onStage: (stage: DangerStage, share: number) => void,
    /** From few rays, ahead of the whole. */
    onRough: (reading: DangerReading) => void,
  ): Promise<DangerReading | null>
  stop(): void
  dispose(): void
}

export function openDangerDesk(): DangerDesk {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' })
  const desk = wrap<DangerDeskWorker>(worker)
  let fail: (why: Error) => void = () => {}
  worker.onerror = (event) =>
    fail(new Error(`The danger sheet stopped: ${event.message || 'its worker could not start'}.`))
  return {
    read(lamp, onStage, onRough) {
      // A worker that breaks answers nothing: its own error ends the wait.
      const broken = new Promise<never>((_, no) => {
        fail = no
      })
      return Promise.race([desk.read(lamp, proxy(onStage), proxy(onRough)), broken])
    },
    stop: () => void desk.stop(),
    dispose() {
      desk[releaseProxy]()
      worker.terminate()
    },
  }
}
