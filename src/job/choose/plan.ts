// One search as plain data: what may move, what is wanted, how many lamps are tried and how. Two wishes make a front.
import type { Lamp } from '../../lamp/schema.ts'
import { type Movable, type Move, movableOf, moveFault } from './moves.ts'
import type { Wishes } from './wishes.ts'

export interface OptimizePlan extends Wishes {
  moves: readonly Move[]
  seed: number
  /** Forward rays of each lamp. */
  rays: number
  /** Lamps tried by each search; checking the result takes some more. */
  evaluations: number
  /** Searches that know nothing of one another: the first from the lamp as it stands, the others from random places. Absent: one. */
  starts?: number
}

const MOST_MOVES = 12
/** Combinations of choices: each is searched by itself. */
const MOST_COMBINATIONS = 64

export const MOST_STARTS = 10_000

/** Why this can't be searched, in a sentence, or null. */
export function planFault(lamp: Lamp, plan: OptimizePlan, movable: Movable = movableOf(lamp)): string | null {
  const { moves, wants, keeps } = plan
  if (moves.length === 0) return 'Nothing may move: name a number or a choice at least.'
  if (moves.length > MOST_MOVES) return `${moves.length} are too many to move together; at most ${MOST_MOVES}.`
  const paths = moves.map((m) => m.path)
  const twice = paths.find((path, i) => paths.indexOf(path) < i)
  if (twice !== undefined) return `${twice}: it stands twice.`
  const shared = sharedNumber(moves)
  if (shared) return `${shared}: it moves with another one already.`
  for (const move of moves) {
    const why = moveFault(movable, move)
    if (why) return why
  }
  const combinations = moves.reduce((n, m) => n * (m.kind === 'choice' ? m.keys.length : 1), 1)
  if (combinations > MOST_COMBINATIONS)
    return `${combinations} combinations of choices are too many; at most ${MOST_COMBINATIONS}.`
  const { starts = 1 } = plan
  if (!Number.isInteger(starts) || starts < 1 || starts > MOST_STARTS)
    return `${starts} starts: from 1 to ${MOST_STARTS}.`
  if (wants.length < 1 || wants.length > 2) return 'One wish, or two for a front.'
  const [first, second] = wants
  if (first && first.figure === second?.figure) return 'Two wishes for the same figure.'
  const empty = keeps.find((k) => k.least === undefined && k.most === undefined)
  if (empty) return `${empty.figure}: a limit is missing.`
  const crossed = keeps.find((k) => k.least !== undefined && k.most !== undefined && k.least > k.most)
  return crossed ? `${crossed.figure}: no value keeps both limits.` : null
}

/** Paths joined by + move the numbers of both: none of them may move by itself as well. */
function sharedNumber(moves: readonly Move[]): string | null {
  const joined = new Set(moves.filter((m) => m.path.includes('+')).flatMap((m) => m.path.split('+')))
  return moves.find((m) => joined.has(m.path))?.path ?? null
}
