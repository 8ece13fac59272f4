// Symmetric positive definite systems whose rows are filled near the diagonal only: Cholesky in skyline form. Each
// row of the lower triangle is stored from its first entry to the diagonal; the factor fills no place outside
// (Jennings, Comput. J. 9 (1966) 281–285).
// Own code, because ml-matrix factorises full matrices only, hundreds of times the work here; cholesky-solve (LDLᵀ) gives other bits.

export interface Skyline {
  /** Column of each row's first entry. */
  first: Int32Array
  /** Place of each row's diagonal in `values`. */
  diagonal: Int32Array
  values: Float64Array
}

/** A zero matrix of n = first.length rows; row i is stored from column first[i] ≤ i to the diagonal. */
export function makeSkyline(first: Int32Array): Skyline {
  const n = first.length
  const diagonal = new Int32Array(n)
  let at = -1
  for (let i = 0; i < n; i++) {
    at += i - first[i]! + 1
    diagonal[i] = at
  }
  return { first, diagonal, values: new Float64Array(at + 1) }
}

/**
 * L of A = L Lᵀ, in the same skyline; `a` stays as it is. Throws where A is not positive definite: that is a fault of
 * the code that built it. Cholesky; Jennings 1966.
 */
export function factorize(a: Skyline): Skyline {
  const { first, diagonal } = a
  const values = a.values.slice()
  for (let i = 0; i < first.length; i++) {
    const from = first[i]!
    const row = diagonal[i]! - i
    for (let j = from; j < i; j++) {
      const start = Math.max(from, first[j]!)
      const other = diagonal[j]! - j
      let sum = values[row + j]!
      for (let k = start; k < j; k++) sum -= values[row + k]! * values[other + k]!
      values[row + j] = sum / values[diagonal[j]!]!
    }
    let sum = values[diagonal[i]!]!
    for (let k = from; k < i; k++) sum -= values[row + k]! * values[row + k]!
    if (!(sum > 0)) throw new Error(`skyline: row ${i} is not positive definite`)
    values[diagonal[i]!] = Math.sqrt(sum)
  }
  return { first, diagonal, values }
}

/** Solves L Lᵀ x = b in place: `x` holds b on entry (one value a row) and the solution on return. */
export function solveFactored({ first, diagonal, values }: Skyline, x: Float64Array): void {
  const n = first.length
  for (let i = 0; i < n; i++) {
    const row = diagonal[i]! - i
    let sum = x[i]!
    for (let k = first[i]!; k < i; k++) sum -= values[row + k]! * x[k]!
    x[i] = sum / values[diagonal[i]!]!
  }
  for (let i = n - 1; i >= 0; i--) {
    const row = diagonal[i]! - i
    const value = x[i]! / values[diagonal[i]!]!
    x[i] = value
    for (let k = first[i]!; k < i; k++) x[k]! -= values[row + k]! * value
  }
}
