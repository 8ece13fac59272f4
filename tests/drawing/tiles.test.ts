// Pages of a drawing: they cover it, share 10 mm, and none is wasted.
import { expect, test } from 'vitest'
import { circle, polygonPath } from '../../src/drawing/path.ts'
import { type Paper, tiles } from '../../src/drawing/tiles.ts'
import type { Item } from '../../src/drawing/types.ts'
import { expectWithin } from '../kit/expect.ts'

const boxed = (width: number, height: number, items: Item[]) => {
  const box = { fromX: 0, fromY: 0, toX: width, toY: height }
  return { items, box, partBox: box }
}
const diagonal = (width: number, height: number) =>
  boxed(width, height, [
    polygonPath(
      'outline',
      [
        [0, 0],
        [width, height],
      ],
      false,
    ),
  ])

test.each<[Paper, number, number, number]>([
  ['A4', 190, 263, 1],
  ['A4', 191, 263, 2],
  ['A4', 277, 176, 1],
  ['A4', 370, 263, 2],
  ['Letter', 195.9, 245.4, 1],
  ['Letter', 195.9, 246, 2],
])('%s: %d × %d mm take %i', (paper, width, height, count) => {
  const { tiles: all } = tiles(diagonal(width, height), paper)
  expect(all.filter((t) => !t.isEmpty)).toHaveLength(count)
})

test('windows cover the whole box, neighbours 10 mm over each other', () => {
  const { tiles: all, rows, columns } = tiles(boxed(900, 700, [circle('outline', [450, 350], 340)]), 'A4')
  expect(all).toHaveLength(rows * columns)
  const xs = all.filter((t) => t.row === 1).map((t) => t.window)
  expect(Math.min(...xs.map((w) => w.fromX))).toBeLessThanOrEqual(0)
  expect(Math.max(...xs.map((w) => w.toX))).toBeGreaterThanOrEqual(900)
  for (const [i, w] of xs.entries())
    if (i > 0) expectWithin((xs[i - 1]?.toX ?? 0) - w.fromX, 10, { abs: 1e-9, because: 'rounding' })
  const top = all.find((t) => t.row === 1)
  expect(top?.window.toY).toBeGreaterThanOrEqual(700)
})

test('a page with nothing but the frame on it is empty', () => {
  const frame = polygonPath('frame', [
    [0, 0],
    [900, 0],
    [900, 900],
    [0, 900],
  ])
  const { tiles: all } = tiles(boxed(900, 900, [frame, circle('outline', [60, 60], 40)]), 'A4')
  expect(all.filter((t) => !t.isEmpty)).toHaveLength(1)
})

test('a line that crosses a page without a corner on it counts', () => {
  const { tiles: all } = tiles(
    boxed(900, 20, [
      polygonPath(
        'outline',
        [
          [0, 10],
          [900, 10],
        ],
        false,
      ),
    ]),
    'A4',
  )
  expect(all.every((t) => !t.isEmpty)).toBe(true)
})

test('a part that one page holds is whole on a page, wherever notes and title block fall', () => {
  // A plate of 240 × 120 mm above 100 mm of notes: a lying page of A4 shows 277 × 176 mm.
  const items = [
    polygonPath('outline', [
      [10, 105],
      [250, 105],
      [250, 225],
      [10, 225],
    ]),
    polygonPath(
      'text',
      [
        [10, 5],
        [180, 95],
      ],
      false,
    ),
  ]
  const partBox = { fromX: 10, fromY: 105, toX: 250, toY: 225 }
  const { tiles: all } = tiles({ ...boxed(265, 230, items), partBox }, 'A4')
  expect(all).toHaveLength(2)
  const holding = all.filter(({ window: w }) => w.fromX <= 10 && w.toX >= 250 && w.fromY <= 105 && w.toY >= 225)
  expect(holding).toHaveLength(1)
})
