import { expect, test } from 'vitest'
import { seededRandom } from '../../src/num/rng.ts'
import { symmetricEigen } from '../../src/num/symmetricEigen.ts'

test('by hand: 2 1 / 1 2 has 1 along (1, −1) and 3 along (1, 1)', () => {
  const { values, vectors } = symmetricEigen([
    [2, 1],
    [1, 2],
  ])
  const order = values[0]! < values[1]! ? [0, 1] : [1, 0]
  expect(order.map((i) => values[i]!)).toEqual([expect.closeTo(1, 12), expect.closeTo(3, 12)])
  const [low, high] = order.map((i) => vectors[i]!)
  expect(low![0]! + low![1]!).toBeCloseTo(0, 12)
  expect(high![0]! - high![1]!).toBeCloseTo(0, 12)
})

test('A v = λ v, and vectors of length 1 square to each other, of a random matrix of 12 rows', () => {
  const random = seededRandom(3)
  const half = Array.from({ length: 12 }, () => Array.from({ length: 12 }, random))
  const a = half.map((row, i) => row.map((v, j) => v + half[j]![i]!))
  const { values, vectors } = symmetricEigen(a)
  const dot = (x: readonly number[], y: readonly number[]) => x.reduce((sum, v, i) => sum + v * y[i]!, 0)
  for (const [k, v] of vectors.entries()) {
    for (const [i, row] of a.entries()) expect(dot(row, v)).toBeCloseTo(values[k]! * v[i]!, 10)
    for (const [j, w] of vectors.entries()) expect(dot(v, w)).toBeCloseTo(j === k ? 1 : 0, 10)
  }
})
