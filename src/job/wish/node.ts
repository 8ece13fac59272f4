// Lamps from a wish on Node: a worker thread for each kind at work, or this thread.
import { Worker } from 'node:worker_threads'
import { threadPort } from '../../engine/workers/port.ts'
import type { ProposeOptions } from './propose.ts'
import type { KindOutcome } from './result.ts'
import { type Proposer, runWish, type WishResult } from './run.ts'
import { inlineProposer, threadProposer } from './service.ts'
import type { Wish } from './wish.ts'

/** Worker threads; 0: this thread. */
export async function wishInNode(
  wish: Wish,
  { threads, ...options }: ProposeOptions & { threads: number },
  onOutcome: (outcome: KindOutcome) => void = () => {},
): Promise<WishResult> {
  const proposers = threads > 0 ? Array.from({ length: threads }, openThread) : [inlineProposer()]
  try {
    return await runWish(proposers, wish, options, onOutcome)
  } finally {
    for (const proposer of proposers) proposer.close()
  }
}

const NAME = 'A worker of the search'
const openThread = (): Proposer =>
  threadProposer(threadPort(new Worker(new URL('./wishWorker.node.mjs', import.meta.url)) as never, NAME), NAME)
