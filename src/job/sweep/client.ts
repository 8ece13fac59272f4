// The page's side of a sweep: workers of its own, started with the first sweep and closed with the panel.
import type { CallReply, CallRequest } from '../../engine/workers/calls.ts'
import { browserPort } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeNewest } from '../../num/scheduler.ts'
import type { Trouble } from '../service/restarting.ts'
import type { CellOptions } from './cell.ts'
import type { SweepAxes } from './plan.ts'
import { type CellTracer, runSweep, type SweepCell } from './run.ts'
import { restartingTracer } from './service.ts'

export interface SweepClient {
  /** Whatever was being swept before is cancelled. `indices`: these cells alone. Resolves with true when all have come, false when it was cancelled. */
  sweep(
    lamp: Lamp,
    axes: SweepAxes,
    options: CellOptions,
    onCell: (cell: SweepCell) => void,
    indices?: readonly number[],
  ): Promise<boolean>
  stop(): void
  /** Starts workers at once, also those that are started no more by themselves. */
  again(): void
  dispose(): void
}

export const workerCount = (): number => Math.max(1, Math.min(16, navigator.hardwareConcurrency || 2))

export function openSweepClient(
  onTrouble: (trouble: Trouble) => void = () => {},
  open: (onTrouble: (trouble: Trouble) => void) => CellTracer = browserTracer,
  threads = workerCount(),
): SweepClient {
  const tracers = Array.from({ length: threads }, () => open(onTrouble))
  const newest = makeNewest()
  return {
    async sweep(lamp, axes, options, onCell, indices) {
      const signal = newest.start()
      await runSweep(tracers, lamp, axes, options, onCell, signal, indices)
      return !signal.aborted
    },
    stop: newest.cancel,
    again() {
      for (const tracer of tracers) tracer.again()
    },
    dispose() {
      newest.cancel()
      for (const tracer of tracers) tracer.close()
    },
  }
}

const NAME = 'A worker of the sweep'
const openWorker = () =>
  browserPort<CallRequest, CallReply>(new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }), NAME)
export const browserTracer = (onTrouble: (trouble: Trouble) => void): CellTracer =>
  restartingTracer(openWorker, NAME, onTrouble)
