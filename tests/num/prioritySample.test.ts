// A sample by weight estimates every part's sum without bias, and is everything where everything fits.
import { expect, test } from 'vitest'
import { makePrioritySample } from '../../src/num/prioritySample.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { standardError } from '../../src/num/stats.ts'
import { expectWithin } from '../kit/expect.ts'

test('no more things than fit: all of them, in their order, with their own weights', () => {
  const sample = makePrioritySample(3)
  for (const [i, w] of [5, 0.1, 2].entries()) sample.add(Float64Array.of(i, 10 * i), w, 0.5)
  expect(sample.take()).toEqual({
    things: [5, 0.1, 2].map((weight, i) => ({ numbers: Float32Array.of(i, 10 * i), weight })),
    all: true,
  })
})

test('the highest priorities stay; each counts for its weight or for the highest that went', () => {
  const sample = makePrioritySample(2)
  // Priorities 10, 4, 40, 5: the first and the third stay, 5 is the highest that went.
  for (const [i, [w, u]] of (
    [
      [1, 0.1],
      [2, 0.5],
      [20, 0.5],
      [4, 0.8],
    ] as const
  ).entries())
    sample.add(Float64Array.of(i), w, u)
  expect(sample.take()).toEqual({
    things: [
      { numbers: Float32Array.of(0), weight: 5 },
      { numbers: Float32Array.of(2), weight: 20 },
    ],
    all: false,
  })
})

test('sums over parts are right in the mean of many samples', () => {
  const random = seededRandom(7)
  const weights = Array.from({ length: 200 }, (_, i) => (i % 10 === 0 ? 30 : 1 + (i % 3)))
  const truth = [0, 1].map((part) => weights.reduce((sum, w, i) => sum + (i % 2 === part ? w : 0), 0))
  const sums: number[][] = [[], []]
  for (let round = 0; round < 3000; round++) {
    const sample = makePrioritySample(40)
    for (const [i, w] of weights.entries()) sample.add(Float64Array.of(i), w, Math.max(1e-12, random()))
    const { things } = sample.take()
    expect(things.length).toBe(40)
    for (const part of [0, 1])
      sums[part]!.push(things.reduce((sum, t) => sum + (t.numbers[0]! % 2 === part ? t.weight : 0), 0))
  }
  for (const part of [0, 1]) {
    const mean = sums[part]!.reduce((a, b) => a + b, 0) / sums[part]!.length
    expectWithin(mean, truth[part]!, { sigmas: 4, se: standardError(sums[part]!) })
  }
})
