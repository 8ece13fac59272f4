// The page's side of a search from a wish: workers of its own, started with it and closed at its end.
import type { CallReply, CallRequest } from '../../engine/workers/calls.ts'
import { browserPort } from '../../engine/workers/port.ts'
import { KINDS } from './kinds.ts'
import type { ProposeOptions } from './propose.ts'
import type { KindOutcome } from './result.ts'
import { type Proposer, runWish, type WishResult } from './run.ts'
import { inlineProposer, restartingProposer } from './service.ts'
import type { Wish } from './wish.ts'

const NAME = 'A worker of the search'
const openWorker = () =>
  browserPort<CallRequest, CallReply>(new Worker(new URL('./wishWorker.ts', import.meta.url), { type: 'module' }), NAME)
const browserProposer = (): Proposer =>
  typeof Worker === 'undefined' ? inlineProposer() : restartingProposer(openWorker, NAME, () => {})

/** Each kind as it comes; an aborted search ends its workers. */
export async function wishInWorkers(
  wish: Wish,
  options: ProposeOptions,
  onOutcome: (outcome: KindOutcome) => void,
  signal: AbortSignal,
): Promise<WishResult> {
  const count = Math.max(1, Math.min(KINDS.length, navigator.hardwareConcurrency || 2))
  const proposers = Array.from({ length: count }, browserProposer)
  const close = () => {
    for (const proposer of proposers) proposer.close()
  }
  signal.addEventListener('abort', close)
  try {
    return await runWish(proposers, wish, options, onOutcome, signal)
  } finally {
    signal.removeEventListener('abort', close)
    if (!signal.aborted) close()
  }
}
