// Sobol' points in many dimensions, with a digital shift. References: [1] I. M. Sobol', USSR Comput. Math. Math. Phys. 7 (1967) 86; [2] S. Joe,
// F. Y. Kuo, SIAM J. Sci. Comput. 30 (2008) 2635, direction numbers; [3] I. A. Antonov, V. M. Saleev (1979), Gray order.
// Own code: the tracer takes its rays' numbers from the same table, bit by bit the same in shaders, which no package gives.

/** [2]: degree, coefficients, first m of dimensions 2 to 37; dimension 1 is the radical inverse. */
const JOE_KUO: readonly (readonly [number, number, readonly number[]])[] = [
  [1, 0, [1]],
  [2, 1, [1, 3]],
  [3, 1, [1, 3, 1]],
  [3, 2, [1, 1, 1]],
  [4, 1, [1, 1, 3, 3]],
  [4, 4, [1, 3, 5, 13]],
  [5, 2, [1, 1, 5, 5, 17]],
  [5, 4, [1, 1, 5, 5, 5]],
  [5, 7, [1, 1, 7, 11, 19]],
  [5, 11, [1, 1, 5, 1, 1]],
  [5, 13, [1, 1, 1, 3, 11]],
  [5, 14, [1, 3, 5, 5, 31]],
  [6, 1, [1, 3, 3, 9, 7, 49]],
  [6, 13, [1, 1, 1, 15, 21, 21]],
  [6, 16, [1, 3, 1, 13, 27, 49]],
  [6, 19, [1, 1, 1, 15, 7, 5]],
  [6, 22, [1, 3, 1, 15, 13, 25]],
  [6, 25, [1, 1, 5, 5, 19, 61]],
  [7, 1, [1, 3, 7, 11, 23, 15, 103]],
  [7, 4, [1, 3, 7, 13, 13, 15, 69]],
  [7, 7, [1, 1, 3, 13, 7, 35, 63]],
  [7, 8, [1, 3, 5, 9, 1, 25, 53]],
  [7, 14, [1, 3, 1, 13, 9, 35, 107]],
  [7, 19, [1, 3, 1, 5, 27, 61, 31]],
  [7, 21, [1, 1, 5, 11, 19, 41, 61]],
  [7, 28, [1, 3, 5, 3, 3, 13, 69]],
  [7, 31, [1, 1, 7, 13, 1, 19, 1]],
  [7, 32, [1, 3, 7, 5, 13, 19, 59]],
  [7, 37, [1, 1, 3, 9, 25, 29, 41]],
  [7, 41, [1, 3, 5, 13, 23, 1, 55]],
  [7, 42, [1, 3, 7, 3, 13, 59, 17]],
  [7, 50, [1, 3, 1, 3, 5, 53, 69]],
  [7, 55, [1, 1, 5, 5, 23, 33, 13]],
  [7, 56, [1, 1, 7, 7, 1, 61, 123]],
  [7, 59, [1, 1, 7, 9, 13, 61, 49]],
  [7, 62, [1, 3, 3, 5, 3, 55, 33]],
]

export const MOST_SOBOL_DIMENSIONS = JOE_KUO.length + 1

/**
 * Direction numbers [1, 2]: `dimensions` × 32 integers, most significant bit first; 1 ≤ dimensions ≤
 * MOST_SOBOL_DIMENSIONS.
 */
export function sobolDirections(dimensions: number): Int32Array {
  const v = new Int32Array(dimensions * 32)
  for (let i = 0; i < 32; i++) v[i] = 1 << (31 - i)
  for (const [row, [degree, a, m]] of JOE_KUO.slice(0, dimensions - 1).entries()) {
    const at = (row + 1) * 32
    for (let i = 0; i < 32; i++) {
      if (i < degree) {
        v[at + i] = m[i]! << (31 - i)
        continue
      }
      let bits = v[at + i - degree]! ^ (v[at + i - degree]! >>> degree)
      for (let k = 1; k < degree; k++) if ((a >>> (degree - 1 - k)) & 1) bits ^= v[at + i - k]!
      v[at + i] = bits
    }
  }
  return v
}

/**
 * Point by index in Gray order [3], each number in (0, 1); every dimension is shifted by `shifts` (32-bit integers, by
 * exclusive or), which keeps how evenly the points lie. 1 ≤ shifts.length ≤ MOST_SOBOL_DIMENSIONS, 0 ≤ index < 2³¹.
 */
export function makeSobolPoints(shifts: ArrayLike<number>): (index: number) => Float64Array {
  const numbers = sobolDirections(shifts.length)
  return (index) =>
    Float64Array.from(shifts, (shift, d) => {
      let bits = shift
      for (let i = 0, gray = index ^ (index >>> 1); gray !== 0; i++, gray >>>= 1)
        if (gray & 1) bits ^= numbers[d * 32 + i]!
      return ((bits >>> 0) + 0.5) / 2 ** 32
    })
}
