// A search from its plan to its result. Every lamp that was evaluated is reported, and may be handed in again: a search that was stopped then runs
// the same way once more without tracing them, and goes on where it ended.

import type { Lamp } from '../../lamp/schema.ts'
import type { FrontScore } from '../../num/frontSearch.ts'
import { nonDominated } from '../../num/nonDominated.ts'
import type { CellFinding } from '../sweep/cell.ts'
import { type AtBound, atBounds, type Candidate, type Confirmation, confirm, finalists, REPEATS } from './confirm.ts'
import { type EvaluatingOptions, type Evaluator, makeEvaluating, type Outcome, type Outcomes } from './evaluating.ts'
import { movableOf, standingValues, type Values } from './moves.ts'
import type { OptimizePlan } from './plan.ts'
import { type SearchEnd, searchPlan } from './search.ts'
import { searchStarts } from './starts.ts'
import { NO_LAMP, scoreOf } from './wishes.ts'

export interface OptimizeProgress {
  stage: 'search' | 'check'
  done: number
  all: number
  /** The best so far that keeps what is to be kept, else the one that breaks least of it. */
  best: Candidate | null
  /** Each time that a better one came: after how many lamps. */
  history: readonly { after: number; candidate: Candidate }[]
  /** Of two wishes, the front so far; at the end of a search its lamps as they were traced again. */
  front: readonly Candidate[]
}

export interface OptimizeResult extends OptimizeProgress {
  end: SearchEnd | 'stopped'
  /** Null with two wishes, for a search that was stopped, and where nothing keeps what is to be kept. */
  confirmation: Confirmation | null
  atBounds: readonly AtBound[]
  /** Why lamps could not be evaluated, with how many each; numbers aside, each reason once. */
  refused: readonly { why: string; count: number }[]
  /** Worst first, of the best and of the lamp as it stands; null with two wishes and for a search that was stopped. */
  findings: { best: readonly CellFinding[]; own: readonly CellFinding[] | null } | null
}

export interface OptimizeOptions extends EvaluatingOptions {
  onProgress?: (progress: OptimizeProgress) => void
}

/** The plan must have no fault. Once the signal is aborted it resolves with what has come until then; it rejects when an evaluator dies. */
export async function optimize(
  evaluators: readonly Evaluator[],
  lamp: Lamp,
  plan: OptimizePlan,
  options: OptimizeOptions = {},
): Promise<OptimizeResult> {
  const { signal } = options
  const { starts = 1 } = plan
  const all = plan.evaluations * starts
  const outcomes: Outcomes = options.outcomes ?? new Map()
  const evaluateAll = makeEvaluating(evaluators, lamp, plan, { ...options, outcomes })
  const record = makeRecord(plan)
  const report = (stage: OptimizeProgress['stage'], done: number, all: number) =>
    options.onProgress?.({ stage, done, all, ...record.soFar() })
  if (starts > 1) {
    const onCount = (done: number) =>
      options.onProgress?.({ stage: 'search', done, all, best: null, history: [], front: [] })
    const indices = Array.from({ length: starts }, (_, i) => i)
    await searchStarts(evaluators, lamp, plan, indices, { ...options, outcomes, onCount })
  }
  let end: OptimizeResult['end'] = 'converged'
  for (let start = 0; start < starts && end !== 'stopped'; start++) {
    const ended = await runSearch(start)
    end = ended === 'converged' ? end : ended
  }
  const confirmation = end === 'stopped' ? null : await check()
  const so = record.soFar()
  const front = end === 'stopped' ? so.front : await traceFrontAgain(so.front)
  const values = confirmation?.best.values ?? so.best?.values
  const findings = values && end !== 'stopped' ? await findingsOf(values) : null
  return {
    ...so,
    front: signal?.aborted ? so.front : front,
    stage: 'check',
    done: record.count(),
    all,
    end: signal?.aborted ? 'stopped' : end,
    confirmation,
    atBounds: values && plan.wants.length === 1 ? atBounds(plan.moves, values) : [],
    refused: record.refused(),
    findings,
  }

  /** One after the other, so that what is recorded never depends on who was first. */
  async function runSearch(start: number): Promise<OptimizeResult['end']> {
    const search = searchPlan(movableOf(lamp), plan, start)
    for (let step = search.next(); ; ) {
      if (step.done) return step.value
      const found = await evaluateAll(step.value.map((values) => ({ values, seed: plan.seed })))
      if (signal?.aborted) return 'stopped'
      const scores = step.value.map((values, i) => record.add(values, found[i]))
      if (starts === 1) report('search', record.count(), all)
      step = search.next(scores)
    }
  }

  /** With random numbers that the search has not seen: whose place on the front was luck is dropped. */
  async function traceFrontAgain(seen: readonly Candidate[]): Promise<readonly Candidate[]> {
    const shown = evenlyChosen(seen, MOST_ON_FRONT)
    report('check', 0, shown.length)
    const outcomes = await evaluateAll(shown.map(({ values }) => ({ values, seed: (plan.seed + 1) % 2 ** 32 })))
    const again = shown.flatMap(({ values }, i): Candidate[] => {
      const outcome = outcomes[i]
      if (!outcome?.ok) return []
      const { evaluation } = outcome
      return [{ values, evaluation, keeps: scoreOf(plan, evaluation).tier === 0 }]
    })
    return frontOf(plan, again)
  }

  /** Of the best and of the lamp as it stands. */
  async function findingsOf(values: Values): Promise<OptimizeResult['findings']> {
    const own = standingValues(movableOf(lamp), plan.moves)
    const wanted = [values, own].map((v) => ({ values: v, seed: plan.seed, whole: true }))
    const [best, before] = (await evaluateAll(wanted)).map((o) => (o.ok ? o.evaluation.findings : null))
    return best ? { best, own: before ?? null } : null
  }

  async function check(): Promise<Confirmation | null> {
    const [want] = plan.wants
    if (!want || plan.wants.length > 1) return null
    const chosen = finalists(record.candidates(), plan.moves, want)
    if (chosen.length === 0) return null
    const own = standingValues(movableOf(lamp), plan.moves)
    const lamps = [...chosen.map((c) => c.values), own]
    report('check', 0, lamps.length * REPEATS)
    const repeats: Outcome[][] = lamps.map(() => [])
    for (let r = 0; r < REPEATS; r++) {
      const outcomes = await evaluateAll(lamps.map((v) => ({ values: v, seed: (plan.seed + 1 + r) % 2 ** 32 })))
      if (signal?.aborted) return null
      for (const [i, outcome] of outcomes.entries()) repeats[i]?.push(outcome)
      report('check', (r + 1) * lamps.length, lamps.length * REPEATS)
    }
    const rows = lamps.map((v, i) => ({
      values: v,
      repeats: (repeats[i] ?? []).map((o) => (o.ok ? o.evaluation : { figures: {} })),
    }))
    const last = rows.pop()
    return last ? confirm(plan, rows, last) : null
  }
}

const MOST_ON_FRONT = 32

/** So many of a list, both ends among them. */
const evenlyChosen = <T>(list: readonly T[], most: number): T[] =>
  list.filter(
    (_, i) =>
      list.length <= most ||
      i === 0 ||
      Math.floor((i * (most - 1)) / (list.length - 1)) > Math.floor(((i - 1) * (most - 1)) / (list.length - 1)),
  )

/** What a search has seen. */
function makeRecord(plan: OptimizePlan) {
  const candidates: Candidate[] = []
  const history: { after: number; candidate: Candidate }[] = []
  const refused = new Map<string, { why: string; count: number }>()
  let best: { candidate: Candidate; score: FrontScore } | null = null
  let count = 0
  let front: Candidate[] = []
  const refuse = (why: string): FrontScore => {
    // The same with other numbers is the same reason.
    const key = why.replace(/[\d.,]+/g, '')
    const known = refused.get(key)
    refused.set(key, { why: known?.why ?? why, count: (known?.count ?? 0) + 1 })
    return NO_LAMP
  }
  return {
    add(values: Values, outcome: Outcome | undefined): FrontScore {
      count++
      if (!outcome?.ok) return refuse(outcome?.why ?? '')
      const score = scoreOf(plan, outcome.evaluation)
      const candidate = { values, evaluation: outcome.evaluation, keeps: score.tier === 0 }
      if (score.tier === 2) return refuse(Object.values(outcome.evaluation.absent)[0] ?? '')
      candidates.push(candidate)
      if (plan.wants.length > 1) front = frontOf(plan, [...front, candidate])
      else if (!best || isBetter(score, best.score)) {
        best = { candidate, score }
        history.push({ after: count, candidate })
      }
      return score
    },
    count: () => count,
    candidates: () => candidates,
    soFar: () => ({ best: best?.candidate ?? null, history: [...history], front: [...front] }),
    refused: () => [...refused.values()].sort((a, b) => b.count - a.count),
  }
}

const isBetter = (a: FrontScore, b: FrontScore): boolean =>
  a.tier !== b.tier
    ? a.tier < b.tier
    : a.tier === 0
      ? (a.objectives[0] ?? 0) < (b.objectives[0] ?? 0)
      : a.violation < b.violation

/** Those that keep what is to be kept and that none is better than in both wishes, along the first. */
function frontOf(plan: OptimizePlan, candidates: readonly Candidate[]): Candidate[] {
  const rows = candidates
    .filter((c) => c.keeps)
    .map((candidate) => ({ candidate, at: scoreOf(plan, candidate.evaluation).objectives }))
  const first = nonDominated(rows.map((r) => r.at)).flatMap((i) => rows[i] ?? [])
  return first.sort((a, b) => (a.at[0] ?? 0) - (b.at[0] ?? 0)).map((r) => r.candidate)
}
