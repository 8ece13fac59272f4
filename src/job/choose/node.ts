// Searches on Node: a worker thread for each lamp at work, or this thread.
import { Worker } from 'node:worker_threads'
import { threadPort } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Evaluator } from './evaluating.ts'
import type { OptimizePlan } from './plan.ts'
import { type OptimizeOptions, type OptimizeResult, optimize } from './run.ts'
import { inlineEvaluator, threadEvaluator } from './service.ts'
import { type StartCell, type StartsOptions, searchStarts } from './starts.ts'

/** `threads`: worker threads; 0: this thread. */
export async function optimizeInNode(
  lamp: Lamp,
  plan: OptimizePlan,
  { threads, ...options }: OptimizeOptions & { threads: number },
): Promise<OptimizeResult> {
  return withEvaluators(threads, (evaluators) => optimize(evaluators, lamp, plan, options))
}

/** Some of a plan's searches, by what they evaluate: a part of the run. */
export const startsInNode = (
  lamp: Lamp,
  plan: OptimizePlan,
  starts: readonly number[],
  { threads, ...options }: StartsOptions & { threads: number },
): Promise<StartCell[]> =>
  withEvaluators(threads, (evaluators) => searchStarts(evaluators, lamp, plan, starts, options))

async function withEvaluators<T>(threads: number, use: (evaluators: readonly Evaluator[]) => Promise<T>): Promise<T> {
  const evaluators = threads > 0 ? Array.from({ length: threads }, thread) : [inlineEvaluator()]
  try {
    return await use(evaluators)
  } finally {
    for (const evaluator of evaluators) evaluator.close()
  }
}

const NAME = 'A worker of the search'
const thread = (): Evaluator =>
  threadEvaluator(threadPort(new Worker(new URL('./evaluateWorker.node.mjs', import.meta.url)) as never, NAME), NAME)
