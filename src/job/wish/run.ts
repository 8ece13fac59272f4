// A wish to its proposals: bounds of physics first, then each kind by one worker, so that what it says never depends on the others.

import { type Forbidden, forbiddenBy } from './feasible.ts'
import { KINDS, type KindId } from './kinds.ts'
import type { ProposeOptions } from './propose.ts'
import type { KindOutcome } from './result.ts'
import type { Wish } from './wish.ts'

/** Who makes a proposal: a worker of a browser or of Node, or this thread. */
export interface Proposer {
  propose(wish: Wish, kind: KindId, options: ProposeOptions): Promise<KindOutcome>
  /** Starts its worker at once, also one that is started no more by itself. */
  again(): void
  close(): void
}

export interface WishResult {
  /** Physics that forbids the wish; then there are no outcomes. */
  forbidden: readonly Forbidden[]
  /** In the order of `KINDS`. */
  outcomes: readonly KindOutcome[]
}

/** `onOutcome` hears of each kind as it comes. Once the signal is aborted it resolves with those that have come. Rejects when a worker dies. */
export async function runWish(
  proposers: readonly Proposer[],
  wish: Wish,
  options: ProposeOptions,
  onOutcome: (outcome: KindOutcome) => void = () => {},
  signal?: AbortSignal,
): Promise<WishResult> {
  const forbidden = forbiddenBy(wish)
  if (forbidden.length > 0) return { forbidden, outcomes: [] }
  const outcomes = new Map<KindId, KindOutcome>()
  const left = KINDS.map((k) => k.id)
  const work = async (proposer: Proposer) => {
    for (let id = left.shift(); id !== undefined && !signal?.aborted; id = left.shift()) {
      const outcome = await proposer.propose(wish, id, options)
      if (signal?.aborted) return
      outcomes.set(id, outcome)
      onOutcome(outcome)
    }
  }
  await Promise.all(proposers.map(work))
  return { forbidden, outcomes: KINDS.flatMap((k) => outcomes.get(k.id) ?? []) }
}
