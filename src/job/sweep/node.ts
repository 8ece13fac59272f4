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

/** `indices`: these cells alone; absent: all. In the order of the grid; `onCell` hears of each as it comes. */
export async function sweepInNode(
  lamp: Lamp,
  axes: SweepAxes,
  options: NodeSweepOptions,
  onCell: (cell: SweepCell) => void = () => {},
  indices?: readonly number[],
): Promise<SweepCell[]> {
  const { threads, ...each } = options
  const cells: SweepCell[] = []
  await withTracers(threads, (tracers) =>
    runSweep(
      tracers,
      lamp,
      axes,
      each,
      (cell) => {
        cells.push(cell)
        onCell(cell)
      },
      undefined,
      indices,
    ),
  )
  return cells.sort((a, b) => a.index - b.index)
}

/** Worker threads for the work, this thread where there are none; closed when it ends. */
export async function withTracers(
  threads: number,
  work: (tracers: readonly CellTracer[]) => Promise<void>,
): Promise<void> {
  const tracers = threads > 0 ? Array.from({ length: threads }, threadTracer) : [inlineTracer()]
  try {
    await work(tracers)
  } finally {
    for (const tracer of tracers) tracer.close()
  }
}

const NAME = 'A worker of the sweep'
const threadTracer = (): CellTracer =>
  cellTracer(threadPort(new Worker(new URL('./worker.node.mjs', import.meta.url)) as never, NAME), NAME)
