// The first dimensions of a ray: Sobol' points with a random linear scramble and a digital shift, one scramble a batch.
// References: [1] I. M. Sobol' (1967); [2] S. Joe, F. Y. Kuo, SIAM J. Sci. Comput. 30 (2008) 2635, direction numbers (in num/sobol.ts);
// [3] J. Matoušek, J. Complexity 14 (1998) 527, linear scrambling; [4] I. A. Antonov, V. M. Saleev (1979), Gray order.
import { sobolDirections } from '../num/sobol.ts'
import { mix, SOBOL_DIMENSIONS, unit } from './draws.ts'

/** Unscrambled direction numbers [1, 2], SOBOL_DIMENSIONS × 32 integers, most significant bit first. */
export function directionNumbers(): Int32Array {
  return sobolDirections(SOBOL_DIMENSIONS)
}

function parity(x: number): number {
  x ^= x >>> 16
  x ^= x >>> 8
  x ^= x >>> 4
  return (0x6996 >>> (x & 15)) & 1
}

/**
 * Direction numbers of one batch [3]: a lower-triangular random bit matrix with unit diagonal applied to each, then
 * the shifts. 33 rows of SOBOL_DIMENSIONS integers: the direction numbers of each bit, then the digital shifts.
 */
export function scrambledNumbers(seed: number, batch: number): Int32Array {
  const plain = directionNumbers()
  const out = new Int32Array(SOBOL_DIMENSIONS * 33)
  let state = mix(seed ^ 0x51ed270b ^ Math.imul(batch + 1, 0x85ebca6b | 0))
  const next = () => {
    state = (state + 0x9e3779b9) | 0
    return mix(state)
  }
  for (let d = 0; d < SOBOL_DIMENSIONS; d++) {
    for (let row = 0; row < 32; row++) {
      const bit = 1 << (31 - row)
      const above = row === 0 ? 0 : ~((1 << (32 - row)) - 1) // columns more significant than the diagonal
      const mask = (next() & above) | bit
      for (let i = 0; i < 32; i++) if (parity(mask & plain[d * 32 + i]!)) out[i * SOBOL_DIMENSIONS + d]! |= bit
    }
    out[32 * SOBOL_DIMENSIONS + d] = next()
  }
  return out
}

/**
 * Writes point number `index` of the batch in Gray order [4] into `point`, SOBOL_DIMENSIONS 32-bit integers; 0 ≤
 * index < 2³¹.
 */
export function sobolAt(point: Int32Array, numbers: Int32Array, index: number): void {
  const gray = index ^ (index >>> 1)
  for (let d = 0; d < SOBOL_DIMENSIONS; d++) {
    let bits = numbers[32 * SOBOL_DIMENSIONS + d]!
    for (let i = 0, g = gray; g !== 0; i++, g >>>= 1) if (g & 1) bits ^= numbers[i * SOBOL_DIMENSIONS + d]!
    point[d] = bits
  }
}

/**
 * From point index − 1 to point index > 0, in place: one exclusive-or a dimension [4]. Written out: it runs for every
 * ray.
 */
export function sobolStep(point: Int32Array, numbers: Int32Array, index: number): void {
  const at = (31 - Math.clz32(index & -index)) * SOBOL_DIMENSIONS
  point[0]! ^= numbers[at]!
  point[1]! ^= numbers[at + 1]!
  point[2]! ^= numbers[at + 2]!
  point[3]! ^= numbers[at + 3]!
  point[4]! ^= numbers[at + 4]!
  point[5]! ^= numbers[at + 5]!
}

/** Writes the point's SOBOL_DIMENSIONS integers as numbers in (0, 1) into `first`. */
export function sobolUnits(first: Float64Array, point: Int32Array): void {
  first[0] = unit(point[0]!)
  first[1] = unit(point[1]!)
  first[2] = unit(point[2]!)
  first[3] = unit(point[3]!)
  first[4] = unit(point[4]!)
  first[5] = unit(point[5]!)
}
