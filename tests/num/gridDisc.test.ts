// Searches on a density that stays use the sums of the search before; nothing else may tell.
import { expect, test } from 'vitest'
import { findDiscs, makeEvenGrid } from '../../src/num/gridDisc.ts'
import { seededRandom } from '../../src/num/rng.ts'

const grid = makeEvenGrid(24, 20, 1)

function noise(seed: number): Float64Array {
  const random = seededRandom(seed)
  return Float64Array.from({ length: 24 * 20 }, () => random())
}

test('a density that stays: the same places for each size, also after another density and after one that changes', () => {
  const [one, other] = [noise(1), noise(2)]
  const radii = [1.5, 3, 1.5]
  const fresh = (density: Float64Array) => radii.map((radius) => findDiscs(grid, density.slice(), radius))
  const still = (density: Float64Array) => radii.map((radius) => findDiscs(grid, density, radius, { still: true }))
  expect(still(one)).toEqual(fresh(one))
  expect(still(other)).toEqual(fresh(other))
  findDiscs(grid, one, 2)
  expect(still(one)).toEqual(fresh(one))
  findDiscs(grid, other, 2, { within: { rows: [3, 9], columns: [4, 11] } })
  expect(still(one)).toEqual(fresh(one))
})

test('boxes at the edge and within: the best box is found wherever the one bright cell lies', () => {
  for (const [column, row] of [
    [0, 0],
    [23, 0],
    [0, 19],
    [23, 19],
    [12, 10],
    [1, 7],
    [22, 13],
  ] as const) {
    const density = new Float64Array(24 * 20).fill(1e-3)
    density[24 * row + column] = 1
    const [best] = findDiscs(grid, density, 1.5)
    expect(Math.abs(best!.column - column - 0.5), `${column} ${row}`).toBeLessThanOrEqual(1.5)
    expect(Math.abs(best!.row - row - 0.5), `${column} ${row}`).toBeLessThanOrEqual(1.5)
  }
})
