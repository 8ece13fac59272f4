// Sweeps on Node: a worker thread for each cell at work, or this thread.
import { Worker } from 'node:worker_threads'
import type { Lamp } from '../../lamp/schema.ts'
import type { CellOptions } from './cell.ts'
import type { SweepAxes } from './plan.ts'
import { type CellAnswer, cellHand } from './protocol.ts'
import { type CellHand, hereCellHand, runSweep, type SweepCell } from './run.ts'

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
  const hands = options.threads > 0 ? Array.from({ length: options.threads }, nodeCellHand) : [hereCellHand()]
  const cells: SweepCell[] = []
  try {
    await runSweep(hands, lamp, axes, options, (cell) => {
      cells[cell.index] = cell
      onCell(cell)
    })
  } finally {
    for (const hand of hands) hand.close()
  }
  return cells
}

function nodeCellHand(): CellHand {
  const worker = new Worker(new URL('./worker.node.mjs', import.meta.url))
  const { hand, answer, broken } = cellHand(
    (order) => worker.postMessage(order),
    () => void worker.terminate(),
  )
  worker.on('message', (message: CellAnswer) => answer(message))
  worker.on('error', (error) => broken(error.message))
  return hand
}
