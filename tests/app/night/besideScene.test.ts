import { expect, test } from 'vitest'
import { cellsOf } from '../../../src/app/night/besideScene.ts'

test('pictures never overlap, stay on the stage, and stand where each has the most room', () => {
  for (const n of [1, 2, 3, 4])
    for (const size of [
      { width: 580, height: 245 },
      { width: 1900, height: 600 },
      { width: 400, height: 900 },
    ]) {
      const cells = cellsOf(n, size)
      expect(cells).toHaveLength(n)
      for (const [i, a] of cells.entries()) {
        expect(a.x + a.size.width).toBeLessThanOrEqual(size.width)
        expect(a.y + a.size.height).toBeLessThanOrEqual(size.height)
        for (const b of cells.slice(i + 1))
          expect(b.x >= a.x + a.size.width || b.y >= a.y + a.size.height, `${n} on ${size.width}`).toBe(true)
      }
    }
  // Four: two by two on a screen's shape, in a row on a wide strip, one over another on a tall one.
  const columnsOf = (width: number, height: number) => new Set(cellsOf(4, { width, height }).map((c) => c.x)).size
  expect([columnsOf(1600, 1000), columnsOf(2000, 250), columnsOf(300, 900)]).toEqual([2, 4, 1])
})
