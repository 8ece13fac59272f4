// Points of which none is better than another in every respect. Own code: few lines, and what there is on npm brings an optimiser of its own.

/** True where a is nowhere greater than b, and somewhere less: lower is better. Lists of one length. */
export function dominates(a: readonly number[], b: readonly number[]): boolean {
  let less = false
  for (const [i, x] of a.entries()) {
    const y = b[i] ?? x
    if (x > y) return false
    if (x < y) less = true
  }
  return less
}

/** Indices of the points that no other dominates, in their order; of equal points the first alone. */
export const nonDominated = (points: readonly (readonly number[])[]): number[] =>
  points.flatMap((p, i) =>
    points.some((q, j) => dominates(q, p) || (j < i && q.every((v, k) => v === p[k]))) ? [] : [i],
  )

/**
 * Rank of each item: 0 for those that none is better than, 1 for those that only such of rank 0 are better than, and so on. K. Deb and others, "A fast and
 * elitist multiobjective genetic algorithm: NSGA-II", IEEE Transactions on Evolutionary Computation 6 (2002) 182, section III A.
 */
export function dominationRanks<T>(items: readonly T[], isBetter: (a: T, b: T) => boolean): number[] {
  const betterThan = items.map((a) => items.flatMap((b, j) => (isBetter(a, b) ? [j] : [])))
  const worse = items.map(() => 0)
  for (const list of betterThan) for (const j of list) worse[j] = (worse[j] ?? 0) + 1
  const ranks = items.map(() => 0)
  let front = worse.flatMap((count, i) => (count === 0 ? [i] : []))
  for (let rank = 0; front.length > 0; rank++) {
    const next: number[] = []
    for (const i of front) {
      ranks[i] = rank
      for (const j of betterThan[i] ?? []) {
        worse[j] = (worse[j] ?? 0) - 1
        if (worse[j] === 0) next.push(j)
      }
    }
    front = next
  }
  return ranks
}

/** How far each point is from its neighbours, summed over the coordinates as shares of their ranges; infinite at the ends. As above, section III B. */
export function crowdingDistances(points: readonly (readonly number[])[]): number[] {
  const distances = points.map(() => 0)
  for (const k of points[0]?.keys() ?? []) {
    const order = points.map((p, index) => ({ index, v: p[k] ?? 0 })).sort((a, b) => a.v - b.v)
    const range = (order.at(-1)?.v ?? 0) - (order[0]?.v ?? 0)
    for (const [at, { index }] of order.entries()) {
      const [before, after] = [order[at - 1], order[at + 1]]
      const gap = before && after ? (range > 0 ? (after.v - before.v) / range : 0) : Number.POSITIVE_INFINITY
      distances[index] = (distances[index] ?? 0) + gap
    }
  }
  return distances
}
