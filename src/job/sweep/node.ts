// Sweeps on Node: a worker thread for each cell at work, or this thread.
import { Worker } from 'node:worker_threads'
import { threadPort } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { CellOptions } from './cell.ts'
import { inlineTracer } from './inlineTracer.ts'
import type { SweepAxes } from './plan.ts'
import { type CellTracer, runSweep, type SweepCell } from './run.ts'
import { cellTracer } from './service.ts'

export interface NodeSweepOptions extends CellOptions {
  /** Worker threads; 0: this thread. */
  threads: number
}

/** All cells, in the order of the grid; `onCell` hears of each as it comes. */
export async function sweepInNode(
  lamp: Lamp,
  axes: SweepAxes,
  options: NodeSweepOptions,
  onCell: (cell: SweepCell) => void = () => {},
): Promise<SweepCell[]> {
  const tracers = options.threads > 0 ? Array.from({ length: options.threads }, threadTracer) : [inlineTracer()]
  const cells: SweepCell[] = []
  try {
    await runSweep(tracers, lamp, axes, options, (cell) => {
      cells[cell.index] = cell
      onCell(cell)
    })
  } finally {
    for (const tracer of tracers) tracer.close()
  }
  return cells
}

const NAME = 'A worker of the sweep'
const threadTracer = (): CellTracer =>
  cellTracer(threadPort(new Worker(new URL('./worker.node.mjs', import.meta.url)) as never, NAME), NAME)
