// How well readings and a prediction agree: what all readings share is separate from what each has by itself.
// Own code: a matrix package would invert what one or two shared terms need in closed form.

/** What moves all readings together: change of each in its own unit for one standard uncertainty. */
export type SharedTerm = readonly number[]

export interface Agreement {
  /** (reading − prediction)/u by each reading's own uncertainty, after the shared terms have moved as they best fit. */
  studentised: number[]
  /** The shared terms as they best fit, in their standard uncertainties. */
  shared: number[]
  chi2: number
  /** Readings; the shared terms are known beforehand and take none away. */
  count: number
}

/**
 * χ² of residuals r with covariance C = diag(u²) + Σ g gᵀ: the least of Σ ((r − Σ z g)/u)² + Σ z² over z, which is rᵀ C⁻¹ r (matrix inversion lemma).
 * Shared terms z are standard normal beforehand. Every u > 0; as many entries in each g as residuals, in their unit. JCGM 100:2008, 5.2, on
 * correlated inputs.
 */
export function agreementOf(
  residuals: readonly number[],
  u: readonly number[],
  terms: readonly SharedTerm[],
): Agreement {
  const k = terms.length
  const weighted = terms.map((g) => g.map((value, i) => value / (u[i] ?? 1) ** 2))
  // Gᵀ W G is symmetric: its lower half alone is summed.
  const lower = weighted.map((g, a) => terms.slice(0, a + 1).map((h, b) => dot(g, h) + (a === b ? 1 : 0)))
  const matrix = lower.map((row, a) => [...row, ...lower.slice(a + 1).map((below) => below[a] ?? 0)])
  const shared = solve(
    matrix,
    weighted.map((g) => dot(g, residuals)),
  )
  const studentised = residuals.map((r, i) => {
    let rest = r
    for (let a = 0; a < k; a++) rest -= (shared[a] ?? 0) * (terms[a]?.[i] ?? 0)
    return rest / (u[i] ?? 1)
  })
  const chi2 = studentised.reduce((sum, s) => sum + s * s, 0) + shared.reduce((sum, z) => sum + z * z, 0)
  return { studentised, shared, chi2, count: residuals.length }
}

/** Called thousands of times for one fit, over up to a thousand places: no iterator. */
function dot(a: readonly number[], b: readonly number[]): number {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0)
  return sum
}

/** Gauss's elimination of a small positive definite system: no pivots needed. */
function solve(matrix: readonly (readonly number[])[], right: readonly number[]): number[] {
  const a = matrix.map((row, i) => [...row, right[i] ?? 0])
  const n = a.length
  for (const [i, pivot] of a.entries())
    for (const row of a.slice(i + 1)) {
      const factor = (row[i] ?? 0) / (pivot[i] ?? 1)
      for (let c = i; c <= n; c++) row[c] = (row[c] ?? 0) - factor * (pivot[c] ?? 0)
    }
  const x = new Array<number>(n).fill(0)
  for (let i = n - 1; i >= 0; i--) {
    let sum = a[i]?.[n] ?? 0
    for (let c = i + 1; c < n; c++) sum -= (a[i]?.[c] ?? 0) * (x[c] ?? 0)
    x[i] = sum / (a[i]?.[i] ?? 1)
  }
  return x
}

/** √(χ²/freedom): 1 where readings scatter as they state (R. T. Birge, Phys. Rev. 40 (1932) 207; from memory). Freedom at least 1. */
export const birgeRatio = (chi2: number, freedom: number): number => Math.sqrt(chi2 / Math.max(1, freedom))
