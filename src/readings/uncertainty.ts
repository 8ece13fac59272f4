// Uncertainty of what is worked out from readings, as the guide has it. Own code: a package for error propagation would bring symbols or matrices
// for what are twenty lines of differences.
// Reference: JCGM 100:2008, Evaluation of measurement data: Guide to the expression of uncertainty in measurement (GUM).

/** A value and its standard uncertainty, in the value's unit. */
export interface Measured {
  value: number
  u: number
}

/** Coverage factor of what is shown as ±: about 95 %, GUM 6.2.2 and G.6.6. */
export const COVERAGE = 2

/** Standard uncertainty of a value that lies anywhere within ± a, a/√3: GUM 4.3.7. Same unit as a, a ≥ 0. */
export const rectangular = (a: number): number => a / Math.sqrt(3)

/** Root of the sum of squares: independent contributions, GUM 5.1.2. Same unit as they. */
export const combined = (parts: readonly number[]): number => Math.hypot(...parts)

/**
 * Values and standard uncertainties of several results of the same inputs, and the correlation of each pair (NaN where a result has none). Law of
 * propagation, GUM 5.2.2 eq. (13) and H.2; the sensitivity of each input by a central difference over ± its uncertainty, GUM 5.1.3 note 2. `between`:
 * correlations of the inputs, a symmetric matrix; absent: independent. Inputs with u = 0 are constants.
 */
export function propagate(
  of: (x: readonly number[]) => readonly number[],
  inputs: readonly Measured[],
  between?: readonly (readonly number[])[],
): { results: Measured[]; correlation: number[][] } {
  const x = inputs.map((input) => input.value)
  const values = of(x)
  /** For each input, what half of its span changes in each result. */
  const changes = inputs.map(({ value, u }, i) => {
    if (u === 0) return values.map(() => 0)
    const high = of(x.with(i, value + u))
    const low = of(x.with(i, value - u))
    return high.map((h, k) => (h - (low[k] ?? h)) / 2)
  })
  const covariance = (a: number, b: number) => {
    let sum = 0
    for (const [i, ci] of changes.entries())
      for (const [j, cj] of changes.entries()) {
        const r = i === j ? 1 : (between?.[i]?.[j] ?? 0)
        if (r !== 0) sum += r * (ci[a] ?? 0) * (cj[b] ?? 0)
      }
    return sum
  }
  const u = values.map((_, k) => Math.sqrt(Math.max(0, covariance(k, k))))
  return {
    results: values.map((value, k) => ({ value, u: u[k] ?? 0 })),
    correlation: u.map((ua, a) => u.map((ub, b) => covariance(a, b) / (ua * ub))),
  }
}

/** One result of independent inputs: `propagate` for a single function. In the result's unit. */
export function propagateOne(of: (x: readonly number[]) => number, inputs: readonly Measured[]): Measured {
  const [result] = propagate((x) => [of(x)], inputs).results
  return result ?? { value: Number.NaN, u: Number.NaN }
}

/**
 * Mean of readings of one thing weighted by 1/u², and its uncertainty 1/√Σ(1/u²), times the Birge ratio √(χ²/(n − 1)) where they scatter more than
 * they state (R. T. Birge, Phys. Rev. 40 (1932) 207; from memory). u > 0; NaN of an empty list.
 */
export function meanOf(readings: readonly Measured[]): Measured & { birge: number } {
  let [weights, sum] = [0, 0]
  for (const { value, u } of readings) {
    weights += 1 / u ** 2
    sum += value / u ** 2
  }
  const value = sum / weights
  const chi2 = readings.reduce((s, r) => s + ((r.value - value) / r.u) ** 2, 0)
  const birge = readings.length > 1 ? Math.sqrt(chi2 / (readings.length - 1)) : 0
  return { value, u: Math.max(1, birge) / Math.sqrt(weights), birge }
}
