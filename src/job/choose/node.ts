// Searches on Node: a worker thread for each lamp at work, or this thread.
import { Worker } from 'node:worker_threads'
import { threadPort } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { OptimizePlan } from './plan.ts'
import { type Evaluator, type OptimizeOptions, type OptimizeResult, optimize } from './run.ts'
import { inlineEvaluator, threadEvaluator } from './service.ts'

/** `threads`: worker threads; 0: this thread. */
export async function optimizeInNode(
  lamp: Lamp,
  plan: OptimizePlan,
  { threads, ...options }: OptimizeOptions & { threads: number },
): Promise<OptimizeResult> {
  const evaluators = threads > 0 ? Array.from({ length: threads }, thread) : [inlineEvaluator()]
  try {
    return await optimize(evaluators, lamp, plan, options)
  } finally {
    for (const evaluator of evaluators) evaluator.close()
  }
}

const NAME = 'A worker of the search'
const thread = (): Evaluator =>
  threadEvaluator(threadPort(new Worker(new URL('./evaluateWorker.node.mjs', import.meta.url)) as never, NAME), NAME)
