// Skyline Cholesky against Gaussian elimination on the full matrix.
import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../src/num/rng.ts'
import { factorize, makeSkyline, type Skyline, solveFactored } from '../../src/num/skyline.ts'
import { expectWithin, seeds } from '../kit/expect.ts'

/** Random, with ragged rows and a heavy diagonal. */
function random(seed: number, n: number): { sparse: Skyline; full: number[][] } {
  const next = seededRandom(seed)
  const first = Int32Array.from({ length: n }, (_, i) => Math.max(0, i - Math.floor(next() * 6)))
  const sparse = makeSkyline(first)
  const full = Array.from({ length: n }, () => new Array<number>(n).fill(0))
  for (let i = 0; i < n; i++) {
    for (let j = first[i]!; j <= i; j++) {
      const value = i === j ? 8 + next() : next() - 0.5
      sparse.values[sparse.diagonal[i]! - i + j] = value
      full[i]![j] = value
      full[j]![i] = value
    }
  }
  return { sparse, full }
}

function eliminated(full: number[][], b: number[]): number[] {
  const a = full.map((row, i) => [...row, b[i]!])
  const n = b.length
  for (let k = 0; k < n; k++) {
    for (let i = k + 1; i < n; i++) {
      const f = a[i]![k]! / a[k]![k]!
      for (let j = k; j <= n; j++) a[i]![j]! -= f * a[k]![j]!
    }
  }
  const x = new Array<number>(n).fill(0)
  for (let i = n - 1; i >= 0; i--) {
    let sum = a[i]![n]!
    for (let j = i + 1; j < n; j++) sum -= a[i]![j]! * x[j]!
    x[i] = sum / a[i]![i]!
  }
  return x
}

describe('the same solution', () => {
  test.each(seeds(8))('seed %i', (seed) => {
    const { sparse, full } = random(seed, 30)
    const b = Array.from({ length: 30 }, (_, i) => Math.sin(i + seed))
    const x = Float64Array.from(b)
    solveFactored(factorize(sparse), x)
    for (const [i, y] of eliminated(full, b).entries()) expectWithin(x[i]!, y, { abs: 1e-13, because: 'rounding' })
  })
})

test('the matrix that comes in is left as it was; one not positive definite is refused', () => {
  const { sparse } = random(3, 10)
  const before = sparse.values.slice()
  factorize(sparse)
  expect(sparse.values).toEqual(before)
  sparse.values[sparse.diagonal[4]!] = -1
  expect(() => factorize(sparse)).toThrow('skyline: row 4 is not positive definite')
})
