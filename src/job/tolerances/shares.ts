// Shares of the variance by tolerance, free of tracing noise. [1] A. Saltelli, P. Annoni, I. Azzini, F. Campolongo, M. Ratto, S. Tarantola,
// "Variance based sensitivity analysis of model output", Comput. Phys. Commun. 181 (2010) 259, table 2: first order by (b), total by Jansen's (f).

/** A lamp's figure, traced twice with independent rays. */
export type Twice = readonly [number, number]

/** One row of the design: the lamp of A, of B, and of A with each tolerance's draws from B. */
export interface ShareRow {
  a: Twice
  b: Twice
  ab: readonly Twice[]
}

export interface Shares {
  /** Of the first traces and of the second, over all lamps of A and B. */
  means: Twice
  /** What building alone does; a small one may come out below 0. */
  variance: number
  /** What tracing adds to the variance of a lamp's mean of both traces. */
  tracingVariance: number
  /** By tolerance, of the variance of building: what it does alone, and together with the others. */
  first: readonly number[]
  total: readonly number[]
}

/**
 * Every product is of a first trace and a second one, whose rays are independent of each other: the noise of tracing
 * then has the mean 0 in it, and what is common to all lamps (they are traced with the same numbers) falls out with the
 * means. V = Σ (y₁ − ȳ₁)(y₂ − ȳ₂)/(n − 1) over A and B; S_i = Σ b (ab_i − a)/(N V), T_i = Σ (a − ab_i)₁(a − ab_i)₂/(2 N V)
 * [1]. `weights`: how often each row counts (a bootstrap). NaN without rows, or where nothing spreads.
 */
export function sharesOf(rows: readonly ShareRow[], weights: ArrayLike<number>): Shares {
  let n = 0
  let sum1 = 0
  let sum2 = 0
  for (const [j, { a, b }] of rows.entries()) {
    const w = weights[j] ?? 0
    n += w
    sum1 += w * (a[0] + b[0])
    sum2 += w * (a[1] + b[1])
  }
  const [m1, m2] = [sum1 / (2 * n), sum2 / (2 * n)]
  let cross = 0
  let apart = 0
  const count = rows[0]?.ab.length ?? 0
  const first = new Array<number>(count).fill(0)
  const total = new Array<number>(count).fill(0)
  for (const [j, { a, b, ab }] of rows.entries()) {
    const w = weights[j] ?? 0
    if (w === 0) continue
    for (const y of [a, b]) {
      cross += w * (y[0] - m1) * (y[1] - m2)
      apart += w * (y[0] - m1 - (y[1] - m2)) ** 2
    }
    for (const [i, y] of ab.entries()) {
      const d1 = y[0] - a[0]
      const d2 = y[1] - a[1]
      first[i] = (first[i] ?? 0) + (w / 2) * ((b[0] - m1) * d2 + (b[1] - m2) * d1)
      total[i] = (total[i] ?? 0) + (w / 2) * d1 * d2
    }
  }
  const variance = cross / (2 * n - 1)
  return {
    means: [m1, m2],
    variance,
    tracingVariance: apart / (2 * n - 1) / 4,
    first: first.map((s) => s / (n * variance)),
    total: total.map((s) => s / (n * variance)),
  }
}
