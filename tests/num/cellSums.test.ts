import { describe, expect, test } from 'vitest'
import { makeCellSums } from '../../src/num/cellSums.ts'
import { seededRandom } from '../../src/num/rng.ts'

describe('sums by cell', () => {
  test('agree with a Map, keys up to 2³² − 2, in the order of first use', () => {
    const random = seededRandom(5)
    const cells = makeCellSums(600)
    const map = new Map<number, { sum: number; count: number }>()
    for (let i = 0; i < 5000; i++) {
      const key = i % 7 === 0 ? 0xfffffffe - Math.floor(random() * 40) : Math.floor(random() * 500)
      const value = random()
      cells.add(key, value)
      const known = map.get(key) ?? { sum: 0, count: 0 }
      map.set(key, { sum: known.sum + value, count: known.count + 1 })
    }
    const found: [number, number, number][] = []
    cells.each((key, sum, count) => found.push([key, sum, count]))
    expect(found).toEqual([...map].map(([key, { sum, count }]) => [key, sum, count]))
  })
  test('empty after clear, and usable again', () => {
    const cells = makeCellSums(4)
    cells.add(3, 1)
    cells.add(8, 2)
    cells.clear()
    let calls = 0
    cells.each(() => calls++)
    expect(calls).toBe(0)
    cells.add(3, 5)
    cells.each((key, sum, count) => expect([key, sum, count]).toEqual([3, 5, 1]))
    expect.assertions(2)
  })
  test('refuses more cells than it was made for; a known cell is never one more', () => {
    const cells = makeCellSums(2)
    cells.add(1, 1)
    cells.add(2, 1)
    cells.add(1, 1)
    expect(() => cells.add(3, 1)).toThrow('more than 2 cells')
    const sums: number[] = []
    cells.each((_, sum) => sums.push(sum))
    expect(sums).toEqual([2, 1])
  })
})
