// Which values are tried next: a generator over the searches of src/num. Numbers are searched on the unit box; each combination of choices by itself,
// the worse half of them given up after each share of the budget.
import { type BoxSearchEnd, compareScores, type Score, searchBox } from '../../num/boxSearch.ts'
import { type FrontScore, searchFront } from '../../num/frontSearch.ts'
import { seededRandom } from '../../num/rng.ts'
import type { ChoiceMove, Movable, Move, NumberMove, Values } from './moves.ts'
import { ownValues, placeOf, valueAt } from './moves.ts'
import type { OptimizePlan } from './plan.ts'

export type SearchEnd = BoxSearchEnd

type Search = Generator<Values[], SearchEnd, readonly FrontScore[]>

/** Of a whole number, in its steps: one draw in five then leaves the step it stands on. */
const WHOLE_SPREAD = 0.4

/** Start 0 takes the plan's own seed; each combination of choices takes one of those that follow it. */
const SEEDS_OF_A_START = 1009

/**
 * Yields lists of values and must get a score for each. The first of all is the lamp as it stands, as far as the bounds let it; of a `start` above 0 a
 * place at random, which the plan's seed decides.
 */
export function searchPlan(movable: Movable, plan: OptimizePlan, start = 0): Search {
  const integers = new Set(movable.numbers.filter((p) => p.integer).map((p) => p.path))
  const seed = (plan.seed + SEEDS_OF_A_START * start) % 2 ** 32
  const own = ownValues(movable, plan.moves)
  const from = start === 0 ? own : atRandom(own, plan.moves, integers, seed)
  const seeded = { ...plan, seed }
  return plan.wants.length > 1 ? searchTwo(seeded, from, integers) : searchOne(seeded, from, integers)
}

/** Choices stay as they are: each is searched anyway. */
function atRandom(own: Values, moves: readonly Move[], integers: ReadonlySet<string>, seed: number): Values {
  const random = seededRandom(seed)
  return moves.map((move, i) =>
    move.kind === 'number' ? valueAt(move, random(), integers.has(move.path)) : (own[i] ?? ''),
  )
}

interface Arm {
  choices: ReadonlyMap<ChoiceMove, string>
  search: Generator<number[][], SearchEnd, readonly Score[]> | null
  step: IteratorResult<number[][], SearchEnd>
  best: Score
  spent: number
}

const WORST: Score = { tier: 3, value: 0 }

/** One wish. Successive halving: Z. Karnin, T. Koren, O. Somekh, "Almost optimal exploration in multi-armed bandits", ICML 2013. */
function* searchOne(plan: OptimizePlan, own: Values, integers: ReadonlySet<string>): Search {
  let arms = combinations(plan.moves, own).map((choices, i) => startArm(plan, own, integers, choices, plan.seed + i))
  const rounds = Math.ceil(Math.log2(Math.max(1, arms.length))) + 1
  const each = plan.evaluations / rounds
  let total = 0
  for (let round = 1; ; round++) {
    const share = arms.length > 1 ? each / arms.length : plan.evaluations - total
    const before = new Map(arms.map((arm) => [arm, arm.spent]))
    for (;;) {
      const due = arms.filter((arm) => !arm.step.done && arm.spent - (before.get(arm) ?? 0) < share)
      if (due.length === 0) break
      const batches = due.map((arm) => (arm.step.done ? [] : arm.step.value))
      const values = due.flatMap((arm, k) => (batches[k] ?? []).map((x) => valuesOf(plan, integers, arm.choices, x)))
      const scores = yield values
      total += values.length
      let at = 0
      for (const [k, arm] of due.entries()) {
        const count = batches[k]?.length ?? 0
        advance(arm, scores.slice(at, at + count).map(plainScore))
        at += count
      }
    }
    if (arms.length === 1) break
    arms = [...arms].sort((a, b) => compareScores(a.best, b.best)).slice(0, Math.ceil(arms.length / 2))
    if (round > rounds) break
  }
  const last = arms[0]?.step
  return last?.done ? last.value : 'evaluations'
}

const plainScore = ({ tier, violation, objectives }: FrontScore): Score => ({
  tier,
  value: tier === 0 ? (objectives[0] ?? 0) : tier === 1 ? violation : 0,
})

function startArm(
  plan: OptimizePlan,
  own: Values,
  integers: ReadonlySet<string>,
  choices: Arm['choices'],
  seed: number,
): Arm {
  const numbers = numberMoves(plan.moves)
  const start = numbers.map(({ move, at }) => placeOf(move, Number(own[at])))
  const leastSpread = numbers.map(({ move }) =>
    integers.has(move.path) ? WHOLE_SPREAD / Math.max(1, move.max - move.min) : 0,
  )
  const search =
    numbers.length === 0 ? null : searchBox({ start, seed, evaluations: plan.evaluations, leastSpread, finest: FINEST })
  return { choices, search, step: search?.next() ?? { done: false, value: [[]] }, best: WORST, spent: 0 }
}

/** Of each number's range: a workshop sets none finer. */
const FINEST = 2e-3

function advance(arm: Arm, scores: readonly Score[]): void {
  arm.spent += scores.length
  for (const score of scores) if (compareScores(score, arm.best) < 0) arm.best = score
  arm.step = arm.search ? arm.search.next(scores) : { done: true, value: 'converged' }
}

const numberMoves = (moves: readonly Move[]): { move: NumberMove; at: number }[] =>
  moves.flatMap((move, at) => (move.kind === 'number' ? { move, at } : []))

/** All of them, the lamp's own first. */
function combinations(moves: readonly Move[], own: Values): Arm['choices'][] {
  let all: ReadonlyMap<ChoiceMove, string>[] = [new Map()]
  for (const [i, move] of moves.entries()) {
    if (move.kind !== 'choice') continue
    const keys = [String(own[i]), ...move.keys.filter((key) => key !== own[i])]
    all = keys.flatMap((key) => all.map((map) => new Map([...map, [move, key]])))
  }
  return all
}

function valuesOf(
  { moves }: OptimizePlan,
  integers: ReadonlySet<string>,
  choices: Arm['choices'],
  x: readonly number[],
): Values {
  let at = 0
  return moves.map((move) =>
    move.kind === 'choice' ? (choices.get(move) ?? '') : valueAt(move, x[at++] ?? 0, integers.has(move.path)),
  )
}

/** Two wishes: numbers and choices alike are places on the unit box, a choice's range cut into as many parts. */
function* searchTwo(plan: OptimizePlan, own: Values, integers: ReadonlySet<string>): Search {
  const { moves, seed, evaluations } = plan
  const start = moves.map((move, i) =>
    move.kind === 'number'
      ? placeOf(move, Number(own[i]))
      : (move.keys.indexOf(String(own[i])) + 0.5) / move.keys.length,
  )
  const search = searchFront({ start, seed, evaluations, population: populationFor(evaluations) })
  let step = search.next()
  while (!step.done) {
    const scores = yield step.value.map((x) =>
      moves.map((move, i) => {
        const place = x[i] ?? 0
        if (move.kind === 'number') return valueAt(move, place, integers.has(move.path))
        return move.keys[Math.min(move.keys.length - 1, Math.floor(place * move.keys.length))] ?? ''
      }),
    )
    step = search.next(scores)
  }
  return 'evaluations'
}

/**
 * Of 8 to 40 points a generation, 24 left the smallest gaps and the largest dominated area after 80 and after 200 evaluations (two parabolas, one and three
 * numbers, twelve seeds).
 */
const populationFor = (evaluations: number): number =>
  Math.round(Math.min(100, Math.max(8, Math.min(24, evaluations / 3), evaluations / 40)))
