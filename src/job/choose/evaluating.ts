// Lamps evaluated by whoever can: each once, by seed and values. What is known of them is plain data, and is all that a search needs to go on.
import type { Lamp } from '../../lamp/schema.ts'
import type { FrontScore } from '../../num/frontSearch.ts'
import type { Evaluation } from './evaluate.ts'
import type { WishName } from './figures.ts'
import { brokenRules, type Move, type Values } from './moves.ts'
import type { OptimizePlan } from './plan.ts'
import { figuresOf, NO_LAMP, scoreOf, type Wishes } from './wishes.ts'

export interface CandidateRequest {
  lamp: Lamp
  moves: readonly Move[]
  values: Values
  seed: number
  rays: number
  figures: readonly WishName[]
  /** Rules of the design that may be broken gravely: those that the lamp breaks as it stands. */
  accepted: readonly string[]
}

/** Or why no such lamp can stand. */
export type Outcome = { ok: true; evaluation: Evaluation } | { ok: false; why: string }

/** Who evaluates a lamp: a worker of a browser or of Node, or this thread. */
export interface Evaluator {
  evaluate(request: CandidateRequest): Promise<Outcome>
  /** Starts its worker at once, also one that is started no more by itself. */
  again(): void
  close(): void
}

/** What is known of lamps that were evaluated before, by seed and values: plain data. */
export type Outcomes = Map<string, Outcome>

export const outcomeKey = ({ seed, values, whole }: Wanted): string =>
  JSON.stringify(whole ? ['whole', seed, ...values] : [seed, ...values])

export interface Wanted {
  values: Values
  seed: number
  /** With findings. */
  whole?: boolean
}

export interface EvaluatingOptions {
  outcomes?: Outcomes
  /** Hears of every lamp that was evaluated now. */
  onOutcome?: (key: string, outcome: Outcome) => void
  signal?: AbortSignal | undefined
}

/** A lamp that can't stand comes behind all others. */
export const outcomeScore = (wishes: Wishes, outcome: Outcome | undefined): FrontScore =>
  outcome?.ok ? scoreOf(wishes, outcome.evaluation) : NO_LAMP

/** Evaluates lists of lamps, each lamp once, on all evaluators. An aborted signal lets those at work end and begins no more; the list then has gaps. */
export function makeEvaluating(
  evaluators: readonly Evaluator[],
  lamp: Lamp,
  plan: OptimizePlan,
  { outcomes = new Map(), onOutcome, signal }: EvaluatingOptions,
) {
  const figures = figuresOf(plan)
  const accepted = brokenRules(lamp)
  return async (wanted: readonly Wanted[]): Promise<Outcome[]> => {
    const keys = wanted.map(outcomeKey)
    const due = wanted.filter((_, i) => {
      const key = keys[i] ?? ''
      return !outcomes.has(key) && keys.indexOf(key) === i
    })
    let next = 0
    const work = async (evaluator: Evaluator) => {
      for (let one = due[next++]; one && !signal?.aborted; one = due[next++]) {
        const { values, seed, whole } = one
        const names: readonly WishName[] = whole ? [...figures, 'severeFindings'] : figures
        const request = { lamp, moves: plan.moves, rays: plan.rays, seed, values, figures: names, accepted }
        const outcome = await evaluator.evaluate(request)
        const key = outcomeKey(one)
        outcomes.set(key, outcome)
        onOutcome?.(key, outcome)
      }
    }
    await Promise.all(evaluators.map(work))
    return keys.map((key) => outcomes.get(key) ?? { ok: false, why: 'It was not traced.' })
  }
}
