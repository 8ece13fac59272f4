// Eigenvalues and eigenvectors of a symmetric matrix. Own code: none of the packages here has it, and a package for matrices would bring its
// whole algebra for one routine of thirty lines.

export interface Eigen {
  /** In no order. */
  values: number[]
  /** Of unit length, square to each other; vectors[i] belongs to values[i]. */
  vectors: number[][]
}

const SWEEPS = 60

/**
 * Eigenvalues and eigenvectors of a symmetric matrix, given as rows, by cyclic Jacobi rotations: G. H. Golub, C. F. Van Loan, Matrix
 * Computations, 4th edition (2013), section 8.5.3. Only finite entries are valid. To the rounding of doubles; some n³ operations, so for n of tens.
 */
export function symmetricEigen(matrix: readonly (readonly number[])[]): Eigen {
  const a = matrix.map((row) => [...row])
  const n = a.length
  const vectors = a.map((_, i) => a.map((_, j) => (i === j ? 1 : 0)))
  const at = (i: number, j: number) => a[i]?.[j] ?? 0
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    let rotated = false
    for (let p = 0; p < n; p++)
      for (let q = p + 1; q < n; q++) {
        const apq = at(p, q)
        // Less than the rounding of the diagonal: nothing is left to rotate away.
        if (Math.abs(apq) <= 1e-17 * Math.sqrt(Math.abs(at(p, p) * at(q, q)))) continue
        rotated = true
        const tau = (at(q, q) - at(p, p)) / (2 * apq)
        const t = (tau >= 0 ? 1 : -1) / (Math.abs(tau) + Math.hypot(1, tau))
        const c = 1 / Math.hypot(1, t)
        rotateRows(a, p, q, c, t * c)
        for (const row of a) rotatePair(row, p, q, c, t * c)
        rotateRows(vectors, p, q, c, t * c)
      }
    if (!rotated) break
  }
  return { values: a.map((row, i) => row[i] ?? 0), vectors }
}

function rotatePair(row: number[], p: number, q: number, c: number, s: number): void {
  const [x, y] = [row[p] ?? 0, row[q] ?? 0]
  row[p] = c * x - s * y
  row[q] = s * x + c * y
}

function rotateRows(rows: number[][], p: number, q: number, c: number, s: number): void {
  const [x, y] = [rows[p] ?? [], rows[q] ?? []]
  rows[p] = x.map((v, i) => c * v - s * (y[i] ?? 0))
  rows[q] = y.map((v, i) => s * (x[i] ?? 0) + c * v)
}
