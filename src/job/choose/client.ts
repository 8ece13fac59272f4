// The page's side of a search: workers of its own, started with the first search and closed with the panel.
import type { CallReply, CallRequest } from '../../engine/workers/calls.ts'
import { browserPort } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeNewest } from '../../num/scheduler.ts'
import type { Trouble } from '../service/restarting.ts'
import type { Evaluator, Outcomes } from './evaluating.ts'
import type { OptimizePlan } from './plan.ts'
import { type OptimizeProgress, type OptimizeResult, optimize } from './run.ts'
import { restartingEvaluator } from './service.ts'

export interface OptimizeClient {
  /** Whatever was being searched before is cancelled. `outcomes`: what is known already; it grows as lamps are evaluated. */
  optimize(
    lamp: Lamp,
    plan: OptimizePlan,
    outcomes: Outcomes,
    onProgress: (progress: OptimizeProgress) => void,
  ): Promise<OptimizeResult>
  stop(): void
  /** Starts workers at once, also those that are started no more by themselves. */
  again(): void
  dispose(): void
}

const workerCount = (): number => Math.max(1, Math.min(16, navigator.hardwareConcurrency || 2))

export function openOptimizeClient(
  onTrouble: (trouble: Trouble) => void = () => {},
  open: (onTrouble: (trouble: Trouble) => void) => Evaluator = browserEvaluator,
  threads = workerCount(),
): OptimizeClient {
  const evaluators = Array.from({ length: threads }, () => open(onTrouble))
  const newest = makeNewest()
  return {
    optimize: (lamp, plan, outcomes, onProgress) =>
      optimize(evaluators, lamp, plan, { outcomes, onProgress, signal: newest.start() }),
    stop: newest.cancel,
    again() {
      for (const evaluator of evaluators) evaluator.again()
    },
    dispose() {
      newest.cancel()
      for (const evaluator of evaluators) evaluator.close()
    },
  }
}

const NAME = 'A worker of the search'
const openWorker = () =>
  browserPort<CallRequest, CallReply>(
    new Worker(new URL('./evaluateWorker.ts', import.meta.url), { type: 'module' }),
    NAME,
  )
const browserEvaluator = (onTrouble: (trouble: Trouble) => void): Evaluator =>
  restartingEvaluator(openWorker, NAME, onTrouble)
