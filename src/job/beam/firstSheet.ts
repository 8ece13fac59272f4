// First looks read on threads of their own, so that the next edit is traced while the sheet of the one before it is read. The sheet has
// the same bits wherever it is read.
import { type FirstRound, recycleRun, runOf } from '../../engine/partialTallies.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { runToEnd } from '../../num/timeSlicing.ts'
import { findRunFaults } from '../../run/validate.ts'
import { makeReader, type ReadOrder, type ReadState } from './read.ts'
import type { Paths, Sheet } from './sheet.ts'

/** What a first look is read from. The round's buffers are handed over, and come back with the sheet. */
export interface FirstSheetRequest {
  lamp: Lamp
  first: FirstRound
  order: ReadOrder
  standing: ReadState
  paths: Paths
}
type Partials = FirstRound['partials']
export type FirstSheetReply = { sheet: Sheet; partials: Partials } | { failed: string }

/** One such thread, as those who give it work see it. */
export interface ReadingWorker {
  post(order: FirstSheetRequest): void
  /** Null: it has started, and waits for orders. */
  onAnswer(take: (answer: FirstSheetReply | null) => void): void
  /** It takes no orders any more, and answers none. */
  onBroken(take: (why: string) => void): void
  close(): void
}

export interface FirstSheetReaders {
  /** Threads that read. */
  threads: number
  /** Resolves when one of them is free to read; false: none of them has started so far, or all have broken. */
  free(): Promise<boolean>
  /** Just after `free` only. Rejects when the run isn't honest. */
  read(order: FirstSheetRequest): Promise<{ sheet: Sheet; partials: Partials }>
  close(): void
}

export function makeFirstSheetReaders(workers: readonly ReadingWorker[]): FirstSheetReaders {
  const idle: ReadingWorker[] = []
  const atWork = new Map<ReadingWorker, (answer: FirstSheetReply) => void>()
  let waiting: (() => void)[] = []
  const tell = () => {
    const told = waiting
    waiting = []
    for (const go of told) go()
  }
  for (const hand of workers) {
    hand.onAnswer((answer) => {
      if (answer) atWork.get(hand)?.(answer)
      atWork.delete(hand)
      idle.push(hand)
      tell()
    })
    hand.onBroken((why) => {
      atWork.get(hand)?.({ failed: why })
      atWork.delete(hand)
      if (idle.includes(hand)) idle.splice(idle.indexOf(hand), 1)
      tell()
    })
  }
  return {
    threads: workers.length,
    async free() {
      while (idle.length === 0 && atWork.size > 0) await new Promise<void>((go) => waiting.push(go))
      return idle.length > 0
    },
    read(order) {
      // The one that has rested longest: all of them are warm when a hand drags.
      const hand = idle.shift()!
      return new Promise((done, fail) => {
        atWork.set(hand, (answer) => ('failed' in answer ? fail(new Error(answer.failed)) : done(answer)))
        hand.post(order)
      })
    },
    close() {
      for (const hand of workers) hand.close()
    },
  }
}

/** What of an order or an answer is handed over: one buffer may hold several arrays. */
export function partialsTransferList(partials: Partials): ArrayBuffer[] {
  const buffers = partials.flatMap(({ sums, maps, exits, cells }) =>
    [sums, maps, exits, ...(cells ? [cells] : [])].map((array) => array.buffer as ArrayBuffer),
  )
  return [...new Set(buffers)]
}

/** The thread's side. */
export function readFirstSheet({ lamp, first, order, standing, paths }: FirstSheetRequest): FirstSheetReply {
  try {
    const run = runOf(first)
    const faults = findRunFaults(run, false)
    if (faults.length > 0) return { failed: `The run is not honest: ${faults.join(' ')}` }
    const sheet = runToEnd(makeReader(lamp, order, () => paths).read(run, standing))
    recycleRun(run)
    return { sheet, partials: first.partials }
  } catch (error) {
    return { failed: error instanceof Error ? error.message : String(error) }
  }
}
