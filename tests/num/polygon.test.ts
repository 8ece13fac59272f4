// Polygons against closed forms of regular ones, and shapes counted by hand.
import { describe, expect, test } from 'vitest'
import {
  boxOfCorners,
  type Corner,
  centroid,
  chordAlongY,
  distanceToEdges,
  doMeet,
  farthest,
  findCrossing,
  isInPolygon,
  perimeter,
  signedArea,
  stretchesAlongY,
} from '../../src/num/polygon.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { expectWithin } from '../kit/expect.ts'

const rounding = { rel: 1e-12, because: 'rounding' }
const regular = (n: number, radius: number, turn = 0): Corner[] =>
  Array.from({ length: n }, (_, i) => {
    const at = turn + (2 * Math.PI * i) / n
    return [radius * Math.cos(at), radius * Math.sin(at)]
  })
/** 10 by 10 without its upper right quarter. */
const L: Corner[] = [
  [0, 0],
  [10, 0],
  [10, 5],
  [5, 5],
  [5, 10],
  [0, 10],
]

describe('a regular polygon of circumradius 7', () => {
  test.each([3, 4, 5, 6, 17, 400])('%i corners: area ½ n R² sin 2π/n, perimeter 2 n R sin π/n', (n) => {
    const corners = regular(n, 7, 0.3)
    expectWithin(signedArea(corners), (n / 2) * 49 * Math.sin((2 * Math.PI) / n), rounding)
    expectWithin(signedArea(corners.toReversed()), (-n / 2) * 49 * Math.sin((2 * Math.PI) / n), rounding)
    expectWithin(perimeter(corners), 14 * n * Math.sin(Math.PI / n), rounding)
    expectWithin(farthest(corners), 7, rounding)
    expectWithin(distanceToEdges(corners, 0, 0), 7 * Math.cos(Math.PI / n), rounding)
  })
  test.each([3, 5, 6, 17])('%i corners: a point is inside when no normal reaches beyond the apothem', (n) => {
    const corners = regular(n, 7, 0.3)
    const apothem = 7 * Math.cos(Math.PI / n)
    const random = seededRandom(n)
    let inside = 0
    for (let i = 0; i < 2000; i++) {
      const [x, y] = [16 * random() - 8, 16 * random() - 8]
      const reach = Math.max(...regular(n, 1, 0.3 + Math.PI / n).map(([nx, ny]) => nx * x + ny * y))
      expect(isInPolygon(corners, x, y)).toBe(reach <= apothem)
      if (reach <= apothem) inside++
    }
    expect(inside).toBeGreaterThan(200)
  })
})

test('an L by hand: area, chords, box, the nearest edge', () => {
  expect(signedArea(L)).toBe(75)
  expect(perimeter(L)).toBe(40)
  expect([-1, 2, 5.5, 10.5].map((x) => chordAlongY(L, x))).toEqual([0, 10, 5, 0])
  expect(stretchesAlongY(L, 2)).toEqual([[0, 10]])
  expect(boxOfCorners(L)).toEqual({ fromX: 0, toX: 10, fromY: 0, toY: 10 })
  expect([isInPolygon(L, 7, 7), isInPolygon(L, 7, 2), isInPolygon(L, 2, 7)]).toEqual([false, true, true])
  expectWithin(distanceToEdges(L, 6, 6), 1, rounding)
  expectWithin(distanceToEdges(L, 3, 3), Math.hypot(2, 2), rounding)
})

test('a U is cut twice', () => {
  const u: Corner[] = [
    [0, 0],
    [1, 0],
    [1, 2],
    [3, 2],
    [3, 0],
    [4, 0],
    [4, 3],
    [0, 3],
  ]
  const onItsSide = u.map(([x, y]): Corner => [y, x])
  expect(stretchesAlongY(onItsSide, 1)).toEqual([
    [0, 1],
    [3, 4],
  ])
  expect(chordAlongY(onItsSide, 1)).toBe(2)
})

describe('edges that cross', () => {
  test.each<[string, Corner[], [number, number] | null]>([
    ['an L', L, null],
    [
      'a bow tie',
      [
        [0, 0],
        [4, 4],
        [4, 0],
        [0, 4],
      ],
      [0, 2],
    ],
    [
      'a corner on another edge',
      [
        [0, 0],
        [4, 0],
        [4, 4],
        [2, 0],
        [0, 4],
      ],
      [0, 2],
    ],
    [
      'a way out and back',
      [
        [0, 0],
        [4, 0],
        [4, 4],
        [4, 2],
        [0, 4],
      ],
      [1, 2],
    ],
    [
      'a straight corner',
      [
        [0, 0],
        [2, 0],
        [4, 0],
        [4, 4],
      ],
      null,
    ],
    [
      'the last edge over the first',
      [
        [0, 0],
        [4, 0],
        [4, 4],
        [2, 0],
      ],
      [0, 2],
    ],
  ])('%s', (_, corners, expected) => expect(findCrossing(corners)).toEqual(expected))
  test('stretches meet with their ends, and beside each other not', () => {
    expect(doMeet([0, 0], [2, 0], [1, 0], [1, 5])).toBe(true)
    expect(doMeet([0, 0], [2, 0], [3, 0], [5, 0])).toBe(false)
    expect(doMeet([0, 0], [2, 0], [1, 0], [5, 0])).toBe(true)
    expect(doMeet([0, 0], [2, 0], [1, 0.01], [1, 5])).toBe(false)
  })
})

test('centroid: of an L by its two rectangles, either way round; of a line its first corner', () => {
  // 10 × 5 at (5, 2.5) and 5 × 5 at (2.5, 7.5): (50·5 + 25·2.5)/75, (50·2.5 + 25·7.5)/75.
  const corners = [
    [0, 0],
    [10, 0],
    [10, 5],
    [5, 5],
    [5, 10],
    [0, 10],
  ] as const
  for (const way of [corners, corners.toReversed()]) {
    const [x, y] = centroid(way)
    expect(x).toBeCloseTo(312.5 / 75, 12)
    expect(y).toBeCloseTo(312.5 / 75, 12)
  }
  const moved = centroid(corners.map(([x, y]) => [x + 3, y - 4] as const))
  expect(moved[0]).toBeCloseTo(312.5 / 75 + 3, 12)
  expect(moved[1]).toBeCloseTo(312.5 / 75 - 4, 12)
  expect(
    centroid([
      [1, 2],
      [3, 4],
      [1, 2],
    ]),
  ).toEqual([1, 2])
})
