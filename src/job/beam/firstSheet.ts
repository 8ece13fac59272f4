// First looks read on threads of their own, so that the next edit is traced while the sheet of the one before it is read. The sheet has
// the same bits wherever it is read.
import { type FirstRound, recycle, runOf } from '../../engine/partialTallies.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { atOnce } from '../../num/timeSlicing.ts'
import { runFaults } from '../../run/validate.ts'
import { makeReader, type ReadOrder, type Standing } from './read.ts'
import type { Paths, Sheet } from './sheet.ts'

/** What a first look is read from. The round's buffers are handed over, and come back with the sheet. */
export interface FirstLookOrder {
  lamp: Lamp
  first: FirstRound
  order: ReadOrder
  standing: Standing
  paths: Paths
}
type Shares = FirstRound['shares']
export type FirstLookAnswer = { sheet: Sheet; shares: Shares } | { failed: string }

/** One such thread, as those who give it work see it. */
export interface ReadingHand {
  post(order: FirstLookOrder): void
  /** Null: it has started, and waits for orders. */
  onAnswer(take: (answer: FirstLookAnswer | null) => void): void
  /** It takes no orders any more, and answers none. */
  onBroken(take: (why: string) => void): void
  close(): void
}

export interface FirstLooks {
  /** Threads that read. */
  hands: number
  /** Resolves when one of them is free to read; false: none of them has started so far, or all have broken. */
  free(): Promise<boolean>
  /** Just after `free` only. Rejects when the run isn't honest. */
  read(order: FirstLookOrder): Promise<{ sheet: Sheet; shares: Shares }>
  close(): void
}

export function makeFirstLooks(hands: readonly ReadingHand[]): FirstLooks {
  const idle: ReadingHand[] = []
  const atWork = new Map<ReadingHand, (answer: FirstLookAnswer) => void>()
  let waiting: (() => void)[] = []
  const tell = () => {
    const told = waiting
    waiting = []
    for (const go of told) go()
  }
  for (const hand of hands) {
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
    hands: hands.length,
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
      for (const hand of hands) hand.close()
    },
  }
}

/** What of an order or an answer is handed over: one buffer may hold several arrays. */
export function handedWith(shares: Shares): ArrayBuffer[] {
  const buffers = shares.flatMap(({ sums, maps, exits, cells }) =>
    [sums, maps, exits, ...(cells ? [cells] : [])].map((array) => array.buffer as ArrayBuffer),
  )
  return [...new Set(buffers)]
}

/** The thread's side. */
export function readFirstLook({ lamp, first, order, standing, paths }: FirstLookOrder): FirstLookAnswer {
  try {
    const run = runOf(first)
    const faults = runFaults(run, false)
    if (faults.length > 0) return { failed: `The run is not honest: ${faults.join(' ')}` }
    const sheet = atOnce(makeReader(lamp, order, () => paths).read(run, standing))
    recycle(run)
    return { sheet, shares: first.shares }
  } catch (error) {
    return { failed: error instanceof Error ? error.message : String(error) }
  }
}
