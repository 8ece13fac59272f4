// The least value of a function on the unit box, with constraints, by the CMA evolution strategy with restarts. A generator: it hands out the
// points of a generation and takes their scores, so that whoever drives it evaluates them where and when it likes.
import { type Cma, cmaCondition, cmaSpread, sampleCma, startCma, updateCma, usualLambda } from './cmaEs.ts'
import { normalFrom, seededRandom } from './rng.ts'

/**
 * Lower is better: first the tier, then the value. Points that keep every constraint are in tier 0 with what is to be least; those that break one
 * in tier 1 with by how much; tier 2 can't be evaluated at all (K. Deb, "An efficient constraint handling method for genetic algorithms",
 * Computer Methods in Applied Mechanics and Engineering 186 (2000) 311).
 */
export interface Score {
  tier: number
  value: number
}

/** Negative where a is better. */
export const compareScores = (a: Score, b: Score): number => a.tier - b.tier || a.value - b.value

export interface BoxSearchOptions {
  /** Where it begins, each coordinate from 0 to 1; the first point that is handed out. */
  start: readonly number[]
  sigma?: number
  seed: number
  /** No generation begins once so many points have been handed out. */
  evaluations: number
  /** Coordinates that count in whole steps: the least standard deviation with which they are drawn, else 0. */
  leastSpread?: readonly number[]
  /** A run ends when every coordinate's standard deviation is less than this, or than `leastSpread`. */
  finest?: number
  /** The search ends after so many restarts that bring nothing better by more than `worthwhile`. */
  idleRestarts?: number
  worthwhile?: number
}

export type BoxSearchEnd = 'converged' | 'evaluations'

/** Standard deviation at the start: the box is then three of them wide (tutorial, section B.1: "within ± 3σ"). */
const SIGMA = 0.3
const FINEST = 1e-3

/**
 * Yields lists of points in [0, 1]ⁿ and must get a score for each; returns why it ended. At least one coordinate. The same scores, the same points.
 * Restarts from a random place with twice the points a generation: A. Auger, N. Hansen, "A restart CMA evolution strategy with increasing population
 * size", CEC 2005.
 */
export function* searchBox(options: BoxSearchOptions): Generator<number[][], BoxSearchEnd, readonly Score[]> {
  const { start, seed, evaluations, idleRestarts = 2, worthwhile = 0 } = options
  const random = seededRandom(seed)
  const normal = normalFrom(random)
  let best: Score | null = null
  let left = evaluations
  let idle = 0
  for (let restart = 0; ; restart++) {
    const from = restart === 0 ? [...start] : start.map(() => random())
    const lambda = usualLambda(start.length) * 2 ** Math.min(restart, 6)
    const before: Score | null = best
    let cma = startCma(from, options.sigma ?? SIGMA, lambda)
    const recent: number[] = []
    for (;;) {
      if (left <= 0) return 'evaluations'
      const drawn = sampleCma(cma, normal, options.leastSpread)
      if (restart === 0 && cma.generation === 0) drawn[0] = from
      const points = drawn.map((x) => x.map(clamp))
      const scores = yield points
      left -= points.length
      const least = scores.reduce((a, b) => (compareScores(b, a) < 0 ? b : a))
      if (best === null || compareScores(least, best) < 0) best = least
      cma = updateCma(cma, rankWithBounds(cma, drawn, points, scores))
      recent.push(least.tier === 0 ? least.value : Number.NaN)
      if (hasEnded(cma, recent, options)) break
    }
    idle = restart > 0 && before && best && !isBetterBy(best, before, worthwhile) ? idle + 1 : 0
    if (idle >= idleRestarts) return 'converged'
  }
}

const clamp = (v: number): number => Math.min(1, Math.max(0, v))

const isBetterBy = (a: Score, b: Score, by: number): boolean =>
  a.tier < b.tier || (a.tier === b.tier && a.value < b.value - by)

/**
 * A point outside is scored at the nearest one inside, and ranked behind it by how far it is out: tutorial, section B.5, with a weight of twice
 * the interquartile range of the values over the variance (N. Hansen and others, IEEE Transactions on Evolutionary Computation 13 (2009) 180, from memory).
 */
function rankWithBounds(
  cma: Cma,
  drawn: readonly number[][],
  points: readonly number[][],
  scores: readonly Score[],
): number[][] {
  const spread = cmaSpread(cma)
  const ranges = [0, 1, 2].map((tier) => interquartile(scores.filter((s) => s.tier === tier).map((s) => s.value)))
  const rows = drawn.map((x, k) => {
    const score = scores[k] ?? { tier: 2, value: Number.POSITIVE_INFINITY }
    const out = x.reduce((sum, v, i) => sum + ((v - (points[k]?.[i] ?? v)) / (spread[i] ?? 1)) ** 2, 0) / x.length
    // Those that can't be evaluated: the nearer to the mean the better, so that the search draws back from them.
    const value =
      score.tier === 2
        ? x.reduce((sum, v, i) => sum + ((v - (cma.mean[i] ?? v)) / (spread[i] ?? 1)) ** 2, 0)
        : score.value + 2 * (ranges[score.tier] ?? 0) * out
    return { x, out, score: { tier: score.tier, value } }
  })
  rows.sort((a, b) => compareScores(a.score, b.score) || a.out - b.out)
  return rows.map((row) => row.x)
}

function interquartile(values: readonly number[]): number {
  const sorted = [...values].filter(Number.isFinite).sort((a, b) => a - b)
  const at = (share: number) => sorted[Math.round(share * (sorted.length - 1))] ?? 0
  return sorted.length < 2 ? 0 : at(0.75) - at(0.25)
}

/** Generations without any difference after which a run is over (tutorial, section B.3: 10 + ⌈30 n/λ⌉). */
const flatAfter = (n: number, lambda: number): number => 10 + Math.ceil((30 * n) / lambda)

function hasEnded(
  cma: Cma,
  recent: readonly number[],
  { finest = FINEST, leastSpread = [] }: BoxSearchOptions,
): boolean {
  if (cmaSpread(cma).every((sd, i) => sd < Math.max(finest, leastSpread[i] ?? 0))) return true
  if (cmaCondition(cma) > 1e14) return true
  const last = recent.slice(-flatAfter(cma.mean.length, cma.lambda))
  return last.length === flatAfter(cma.mean.length, cma.lambda) && Math.max(...last) - Math.min(...last) === 0
}
