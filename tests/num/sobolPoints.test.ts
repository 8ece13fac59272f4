// S. Joe, F. Y. Kuo, SIAM J. Sci. Comput. 30 (2008) 2635. SciPy 1.17.1, scipy.stats.qmc.Sobol, unscrambled, prints point 77 of 37 dimensions.
import { expect, test } from 'vitest'
import { MOST_SOBOL_DIMENSIONS, makeSobolPoints } from '../../src/num/sobol.ts'

test('point 77 in all dimensions, as SciPy has it', () => {
  const point = makeSobolPoints(new Int32Array(MOST_SOBOL_DIMENSIONS))(77)
  expect(Array.from(point, (x) => x - 0.5 / 2 ** 32)).toEqual([
    0.8359375, 0.8359375, 0.0078125, 0.7734375, 0.8359375, 0.5078125, 0.2265625, 0.6484375, 0.1796875, 0.4296875,
    0.1328125, 0.7890625, 0.4921875, 0.3359375, 0.9921875, 0.0703125, 0.8203125, 0.8828125, 0.7890625, 0.0078125,
    0.1484375, 0.8828125, 0.8671875, 0.7890625, 0.8515625, 0.6796875, 0.8046875, 0.3671875, 0.1640625, 0.4609375,
    0.9765625, 0.7421875, 0.1796875, 0.0546875, 0.6953125, 0.7734375, 0.5546875,
  ])
})

test('shifted or not, the first 64 points fall one into each 64th of every dimension', () => {
  const shifts = Int32Array.from({ length: MOST_SOBOL_DIMENSIONS }, (_, d) => Math.imul(d + 1, 0x9e3779b1 | 0))
  const at = makeSobolPoints(shifts)
  const points = Array.from({ length: 64 }, (_, i) => at(i))
  for (let d = 0; d < MOST_SOBOL_DIMENSIONS; d++)
    expect(new Set(points.map((p) => Math.floor(64 * (p[d] ?? 0)))).size, `dimension ${d + 1}`).toBe(64)
})
