// The page's side of a sweep: workers of its own, started with the first sweep and closed with the panel.
import { browserPort } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeNewest } from '../../num/scheduler.ts'
import type { CellOptions } from './cell.ts'
import type { SweepAxes } from './plan.ts'
import { type CellTracer, runSweep, type SweepCell } from './run.ts'
import { cellTracer } from './service.ts'

export interface SweepClient {
  /** Whatever was being swept before is cancelled. Resolves with true when all cells have come, false when it was cancelled. */
  sweep(lamp: Lamp, axes: SweepAxes, options: CellOptions, onCell: (cell: SweepCell) => void): Promise<boolean>
  stop(): void
  dispose(): void
}

const workerCount = (): number => Math.max(1, Math.min(16, navigator.hardwareConcurrency || 2))

export function openSweepClient(open: () => CellTracer = browserTracer, threads = workerCount()): SweepClient {
  const tracers = Array.from({ length: threads }, open)
  const newest = makeNewest()
  return {
    async sweep(lamp, axes, options, onCell) {
      const signal = newest.start()
      await runSweep(tracers, lamp, axes, options, onCell, signal)
      return !signal.aborted
    },
    stop: newest.cancel,
    dispose() {
      newest.cancel()
      for (const tracer of tracers) tracer.close()
    },
  }
}

const NAME = 'A worker of the sweep'
const browserTracer = (): CellTracer =>
  cellTracer(browserPort(new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }), NAME), NAME)
