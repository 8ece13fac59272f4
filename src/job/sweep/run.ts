// A sweep as a stream: cells come as they are traced, coarse first; each by one worker, so that what it says never depends on the others.
import type { Lamp } from '../../lamp/schema.ts'
import type { CellOptions, CellReading } from './cell.ts'
import { coarseFirst, lampAt, type SweepAxes, valuesAt } from './plan.ts'

export interface SweepCell {
  /** Counted along the first axis, then along the second. */
  index: number
  values: readonly number[]
  /** Null where there is nothing to trace: `why` says why. */
  reading: CellReading | null
  why: string | null
}

/** Who traces a cell: a worker of a browser or of Node, or this thread. */
export interface CellTracer {
  trace(lamp: Lamp, options: CellOptions): Promise<CellReading | null>
  /** Starts its worker at once, also one that is started no more by itself. */
  again(): void
  close(): void
}

export const NOTHING_SHINES = 'Nothing shines: no emitter, no current, or no flux.'

/** `indices`: these cells alone. Resolves when every cell has come, or, once the signal is aborted, when the cells then being traced have ended. Rejects when a worker dies. */
export async function runSweep(
  tracers: readonly CellTracer[],
  lamp: Lamp,
  axes: SweepAxes,
  options: CellOptions,
  onCell: (cell: SweepCell) => void,
  signal?: AbortSignal,
  indices?: readonly number[],
): Promise<void> {
  const order = indices ?? coarseFirst(axes[0].values.length, axes[1]?.values.length ?? 1)
  let next = 0
  const work = async (tracer: CellTracer) => {
    while (next < order.length && !signal?.aborted) {
      const cell = await traceOne(tracer, lamp, axes, order[next++]!, options)
      if (!signal?.aborted) onCell(cell)
    }
  }
  await Promise.all(tracers.map(work))
}

async function traceOne(
  tracer: CellTracer,
  lamp: Lamp,
  axes: SweepAxes,
  index: number,
  options: CellOptions,
): Promise<SweepCell> {
  const values = valuesAt(axes, index)
  const made = lampAt(lamp, axes, values)
  if (!made.ok) return { index, values, reading: null, why: made.why }
  const reading = await tracer.trace(made.lamp, options)
  return { index, values, reading, why: reading ? null : NOTHING_SHINES }
}
