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
  const [first, second] = [still(one), still(other)]
  expect([first, second]).toEqual([fresh(one), fresh(other)])
  findDiscs(grid, one, 2)
  expect(still(one)).toEqual(fresh(one))
  findDiscs(grid, other, 2, { within: { rows: [3, 9], columns: [4, 11] } })
  expect(still(one)).toEqual(fresh(one))
})

test('a box that the edge cuts is judged by the part on the grid', () => {
  for (const column of [0, 23]) {
    // Boxes of 3 × 3 cells: about the bright column half of two columns, a third of three; within, 0.42 of nine.
    const density = new Float64Array(24 * 20)
    for (const row of [2, 3, 4, 5]) density[24 * row + column] = 1
    for (const row of [9, 10, 11]) density.fill(0.42, 24 * row + 11, 24 * row + 14)
    const [best] = findDiscs(grid, density, 1.5, { candidates: 1 })
    expect(Math.abs(best!.column - column - 0.5)).toBeLessThanOrEqual(1)
  }
})
