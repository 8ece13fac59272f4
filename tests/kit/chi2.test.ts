import { expect, test } from 'vitest'
import { seededRandom } from '../../src/num/rng.ts'
import { chi2OnePercent, expectShares } from './chi2.ts'
import { expectWithin } from './expect.ts'

test('the 1 % point of χ²: printed tables give 23.209, 44.314, 135.807 for 10, 25, 100 degrees (memory)', () => {
  for (const [freedom, value] of [
    [10, 23.209],
    [25, 44.314],
    [100, 135.807],
  ] as const)
    expectWithin(chi2OnePercent(freedom), value, { rel: 2e-3, because: 'the cube-root approximation' })
})

test('even numbers pass, numbers bent by 3 % do not', () => {
  const random = seededRandom(3)
  const cells = 20
  const shares = new Array<number>(cells).fill(1 / cells)
  const even = new Float64Array(cells)
  const bent = new Float64Array(cells)
  for (let i = 0; i < 100_000; i++) {
    const u = random()
    even[Math.floor(u * cells)]!++
    bent[Math.floor(u ** 1.03 * cells)]!++
  }
  expectShares(even, shares)
  expect(() => expectShares(bent, shares)).toThrow('χ²')
})
