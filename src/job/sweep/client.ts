// The page's end of a sweep: workers of its own, started with the first sweep and let go when the panel closes.
import type { Lamp } from '../../lamp/schema.ts'
import type { CellOptions } from './cell.ts'
import type { SweepAxes } from './plan.ts'
import { type CellAnswer, cellHand } from './protocol.ts'
import { type CellHand, runSweep, type SweepCell } from './run.ts'

export interface SweepDesk {
  /** Whatever was being swept before is dropped. Resolves with true when all cells have come, false when it was dropped. */
  sweep(lamp: Lamp, axes: SweepAxes, options: CellOptions, onCell: (cell: SweepCell) => void): Promise<boolean>
  stop(): void
  dispose(): void
}

export const deskThreads = (): number => Math.max(1, Math.min(16, navigator.hardwareConcurrency || 2))

export function openSweepDesk(open: () => CellHand = browserCellHand, threads = deskThreads()): SweepDesk {
  const hands = Array.from({ length: threads }, open)
  let turn = 0
  return {
    async sweep(lamp, axes, options, onCell) {
      const mine = ++turn
      await runSweep(hands, lamp, axes, options, onCell, () => mine !== turn)
      return mine === turn
    },
    stop() {
      turn++
    },
    dispose() {
      turn++
      for (const hand of hands) hand.close()
    },
  }
}

function browserCellHand(): CellHand {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' })
  const { hand, answer, broken } = cellHand(
    (order) => worker.postMessage(order),
    () => worker.terminate(),
  )
  worker.onmessage = (event: MessageEvent<CellAnswer>) => answer(event.data)
  worker.onerror = (event) => broken(`A worker of the sweep stopped: ${event.message || 'it could not start'}.`)
  return hand
}
