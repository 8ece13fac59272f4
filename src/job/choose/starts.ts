// A plan's searches from several places, each by itself: what they evaluate, which is all that the run needs of them. So they may be spread over
// machines, and joined by handing what all of them evaluated to the run (run.ts), which then traces only its check of the best.
import type { Lamp } from '../../lamp/schema.ts'
import {
  type EvaluatingOptions,
  type Evaluator,
  makeEvaluating,
  type Outcome,
  type Outcomes,
  outcomeKey,
  outcomeScore,
} from './evaluating.ts'
import { movableOf } from './moves.ts'
import type { OptimizePlan } from './plan.ts'
import { searchPlan } from './search.ts'

/** A pure function of lamp, plan and index. */
export interface StartCell {
  /** Of the start; from 0, which is the lamp as it stands. */
  index: number
  /** In the order in which the search asked for them. */
  outcomes: readonly (readonly [string, Outcome])[]
}

export interface StartsOptions extends EvaluatingOptions {
  /** Hears how many lamps of all these searches have a score. */
  onCount?: (done: number) => void
}

/** In the order of `starts`; of an aborted run only those that have ended. As many at a time as there are evaluators, the evaluators shared out among them. */
export async function searchStarts(
  evaluators: readonly Evaluator[],
  lamp: Lamp,
  plan: OptimizePlan,
  starts: readonly number[],
  { onCount, ...options }: StartsOptions = {},
): Promise<StartCell[]> {
  const outcomes: Outcomes = options.outcomes ?? new Map()
  const movable = movableOf(lamp)
  const cells = new Map<number, StartCell>()
  const atOnce = Math.min(starts.length, evaluators.length)
  let next = 0
  let done = 0
  const work = async (own: readonly Evaluator[]) => {
    const evaluateAll = makeEvaluating(own, lamp, plan, { ...options, outcomes })
    for (let index = starts[next++]; index !== undefined && !options.signal?.aborted; index = starts[next++]) {
      const evaluated = new Map<string, Outcome>()
      const search = searchPlan(movable, plan, index)
      let step = search.next()
      while (!step.done && !options.signal?.aborted) {
        const wanted = step.value.map((values) => ({ values, seed: plan.seed }))
        const found = await evaluateAll(wanted)
        if (options.signal?.aborted) break
        for (const [i, outcome] of found.entries()) {
          const one = wanted[i]
          if (one) evaluated.set(outcomeKey(one), outcome)
        }
        done += wanted.length
        onCount?.(done)
        step = search.next(found.map((outcome) => outcomeScore(plan, outcome)))
      }
      if (step.done) cells.set(index, { index, outcomes: [...evaluated] })
    }
  }
  await Promise.all(Array.from({ length: atOnce }, (_, k) => work(evaluators.filter((_e, i) => i % atOnce === k))))
  return starts.flatMap((index) => cells.get(index) ?? [])
}
