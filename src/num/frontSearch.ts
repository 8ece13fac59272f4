// The front of two or more functions on the unit box: points where none can be lowered without raising another. NSGA-II, as a generator that
// hands out points and takes their scores. K. Deb, A. Pratap, S. Agarwal, T. Meyarivan, "A fast and elitist multiobjective genetic algorithm: NSGA-II",
// IEEE Transactions on Evolutionary Computation 6 (2002) 182. Own code for the same reason as cmaEs.ts.
import { crowdingDistances, dominates, dominationRanks } from './nonDominated.ts'
import { seededRandom } from './rng.ts'

/** Tiers as in boxSearch.ts: 0 keeps every constraint, 1 breaks one by `violation`, 2 can't be evaluated. */
export interface FrontScore {
  tier: number
  violation: number
  /** Lower is better. */
  objectives: readonly number[]
}

export interface FrontSearchOptions {
  /** The first point that is handed out. */
  start: readonly number[]
  seed: number
  /** Points of a generation. */
  population?: number
  evaluations: number
}

interface Member {
  x: readonly number[]
  score: FrontScore
}

interface Placed extends Member {
  rank: number
  crowding: number
}

/** Spread of crossover and of mutation, and how often two are crossed: section V of the paper. */
const ETA_CROSS = 20
const ETA_MUTATE = 20
const CROSSED = 0.9

/** Yields lists of points in [0, 1]ⁿ and must get a score for each, until `evaluations` have been handed out. At least one coordinate. The same scores, the same points. */
export function* searchFront(options: FrontSearchOptions): Generator<number[][], void, readonly FrontScore[]> {
  const { start, seed, population = 24, evaluations } = options
  const random = seededRandom(seed)
  let members: Placed[] = []
  let left = evaluations
  while (left > 0) {
    const count = Math.min(population, left)
    const points =
      members.length === 0
        ? [[...start], ...latinHypercube(count - 1, start.length, random)]
        : Array.from({ length: count }, () => child(members, random))
    const scores = yield points
    left -= count
    const fresh = points.flatMap((x, i): Member[] => {
      const score = scores[i]
      return score ? [{ x, score }] : []
    })
    members = best([...members, ...fresh], population)
  }
}

/** Each coordinate's range in as many slices as points, one point in each: M. D. McKay and others, Technometrics 21 (1979) 239. */
function latinHypercube(count: number, n: number, random: () => number): number[][] {
  const columns = Array.from({ length: n }, () => shuffled(count, random).map((slice) => (slice + random()) / count))
  return Array.from({ length: count }, (_, i) => columns.map((column) => column[i] ?? 0))
}

/** By sorting on random keys. */
const shuffled = (count: number, random: () => number): number[] =>
  Array.from({ length: count }, (_, i) => ({ i, key: random() }))
    .sort((a, b) => a.key - b.key)
    .map(({ i }) => i)

function isBetter(a: Member, b: Member): boolean {
  if (a.score.tier !== b.score.tier) return a.score.tier < b.score.tier
  return a.score.tier === 0 ? dominates(a.score.objectives, b.score.objectives) : a.score.violation < b.score.violation
}

function best(all: readonly Member[], count: number): Placed[] {
  const ranks = dominationRanks(all, isBetter)
  const placed: Placed[] = []
  for (let rank = 0; placed.length < count; rank++) {
    const front = all.filter((_, i) => ranks[i] === rank)
    if (front.length === 0) break
    const crowding = crowdingDistances(front.map((m) => m.score.objectives))
    const rows = front.map((m, i) => ({ ...m, rank, crowding: crowding[i] ?? 0 }))
    placed.push(...rows.sort((a, b) => b.crowding - a.crowding).slice(0, count - placed.length))
  }
  return placed
}

function child(members: readonly Placed[], random: () => number): number[] {
  const pick = (): Placed => {
    const draw = () => members[Math.floor(random() * members.length)]
    const [a, b] = [draw(), draw()]
    if (!a || !b) throw new Error('A generation has members.')
    return a.rank < b.rank || (a.rank === b.rank && a.crowding >= b.crowding) ? a : b
  }
  const [p, q] = [pick().x, pick().x]
  const crossed = random() < CROSSED
  return p.map((v, i) => {
    const other = q[i] ?? v
    const made = crossed && random() < 0.5 ? cross(v, other, random()) : v
    return random() < 1 / p.length ? mutate(made, random()) : made
  })
}

/** Simulated binary crossover: K. Deb, R. B. Agrawal, Complex Systems 9 (1995) 115; one of the two children. */
function cross(a: number, b: number, u: number): number {
  const beta = u <= 0.5 ? (2 * u) ** (1 / (ETA_CROSS + 1)) : (1 / (2 * (1 - u))) ** (1 / (ETA_CROSS + 1))
  return clamp(0.5 * ((1 + beta) * a + (1 - beta) * b))
}

/** Polynomial mutation within the box: K. Deb, M. Goyal, Computer Science and Informatics 26 (1996) 30, from memory. */
function mutate(v: number, u: number): number {
  const power = 1 / (ETA_MUTATE + 1)
  const by =
    u < 0.5
      ? (2 * u + (1 - 2 * u) * (1 - v) ** (ETA_MUTATE + 1)) ** power - 1
      : 1 - (2 * (1 - u) + 2 * (u - 0.5) * v ** (ETA_MUTATE + 1)) ** power
  return clamp(v + by)
}

const clamp = (v: number): number => Math.min(1, Math.max(0, v))
