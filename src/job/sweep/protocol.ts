// What passes between a sweep and the worker that traces its cells.
import type { Lamp } from '../../lamp/schema.ts'
import { type CellOptions, type CellReading, traceCell } from './cell.ts'
import type { CellHand } from './run.ts'

export interface CellOrder {
  id: number
  lamp: Lamp
  options: CellOptions
}
export interface CellAnswer {
  id: number
  reading: CellReading | null
  /** A bug, passed on in its words. */
  failed?: string
}

/** The worker's side. */
export async function carryOutCell({ id, lamp, options }: CellOrder): Promise<CellAnswer> {
  try {
    return { id, reading: await traceCell(lamp, options) }
  } catch (error) {
    return { id, reading: null, failed: error instanceof Error ? error.message : String(error) }
  }
}

/** The other side: `post` hands an order over; answers and the worker's own end come back by the two functions. */
export function cellHand(post: (order: CellOrder) => void, close: () => void) {
  const waiting = new Map<number, { done(reading: CellReading | null): void; fail(why: Error): void }>()
  let nextId = 1
  const hand: CellHand = {
    trace: (lamp, options) =>
      new Promise((done, fail) => {
        const id = nextId++
        waiting.set(id, { done, fail })
        post({ id, lamp, options })
      }),
    close,
  }
  return {
    hand,
    answer({ id, reading, failed }: CellAnswer) {
      const asked = waiting.get(id)
      waiting.delete(id)
      if (failed !== undefined) asked?.fail(new Error(failed))
      else asked?.done(reading)
    },
    broken(why: string) {
      for (const asked of waiting.values()) asked.fail(new Error(why))
      waiting.clear()
    },
  }
}
