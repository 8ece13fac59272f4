import { describe, expect, test } from 'vitest'
import { gapBetween, type Point, type Shape, shapeBox, support } from '../../src/layout/shape.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { seeds } from '../kit/expect.ts'

const disc = (x: number, y: number, radiusMm: number): Shape => ({ core: [[x, y]], radiusMm })
const box = (x0: number, y0: number, x1: number, y1: number): Shape => ({
  core: [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ],
  radiusMm: 0,
})
const slot = (a: Point, b: Point, radiusMm: number): Shape => ({ core: [a, b], radiusMm })

describe('gap by hand', () => {
  test.each([
    ['disc and disc apart', disc(0, 0, 2), disc(10, 0, 3), 5],
    ['disc and disc into each other', disc(0, 0, 2), disc(4, 0, 3), -1],
    ['discs on one centre', disc(1, 1, 2), disc(1, 1, 3), -5],
    ['disc beside a flat', disc(0, 0, 2), box(5, -3, 9, 3), 3],
    ['disc off a corner', disc(0, 0, 2), box(3, 4, 9, 9), 3],
    ['disc centred inside a plate, 1 from its side', disc(6, 0, 2), box(5, -3, 9, 3), -3],
    ['plates side by side', box(0, 0, 4, 4), box(6, 1, 9, 3), 2],
    ['plates corner to corner', box(0, 0, 4, 4), box(7, 8, 9, 9), 5],
    ['plates overlapping by 1 and 3', box(0, 0, 4, 4), box(3, 1, 9, 9), -1],
    ['a plate within a plate', box(0, 0, 10, 10), box(2, 4, 4, 6), -4],
    ['slot and disc', slot([-5, 0], [5, 0], 1), disc(2, 6, 2), 3],
    ['slots across each other', slot([-5, 0], [5, 0], 1), slot([0, -2], [0, 3], 1), -4],
    ['a slot over a plate', slot([-5, 0], [5, 0], 1), box(-1, -1, 1, 1), -2],
    ['plates edge to edge', box(0, 0, 4, 4), box(4, 0, 8, 4), 0],
  ])('%s', (_, a, b, gapMm) => {
    expect(gapBetween(a, b).gapMm).toBeCloseTo(gapMm, 12)
    expect(gapBetween(b, a).gapMm).toBeCloseTo(gapMm, 12)
  })
  test('the point lies midway in the gap, or in what is shared', () => {
    expect(gapBetween(disc(0, 0, 2), disc(10, 0, 3))).toMatchObject({ xMm: 4.5, yMm: 0 })
    expect(gapBetween(disc(0, 0, 2), disc(4, 0, 3))).toMatchObject({ xMm: 1.5, yMm: 0 })
    expect(gapBetween(disc(0, 0, 2), box(5, -3, 9, 3))).toMatchObject({ xMm: 3.5, yMm: 0 })
    const within = gapBetween(disc(6, 0, 2), box(5, -3, 9, 3))
    expect(within.xMm).toBeCloseTo(6.5, 12) // the disc reaches to 8, the plate's side is at 5
    const plates = gapBetween(box(0, 0, 4, 4), box(3, 1, 9, 9))
    expect(plates.xMm).toBeCloseTo(3.5, 12)
  })
})

/** A convex polygon of 3 to 7 corners on a circle, grown. */
function anyShape(random: () => number): Shape {
  const [x, y, r] = [8 * random(), 8 * random(), 0.5 + 3 * random()]
  const at = Array.from({ length: 1 + Math.floor(7 * random()) }, () => 2 * Math.PI * random()).sort((a, b) => a - b)
  return {
    core: at.map((t) => [x + r * Math.cos(t), y + r * Math.sin(t)]),
    radiusMm: random() < 0.5 ? 0 : random(),
  }
}

describe('gap of any two shapes', () => {
  // Independent: the gap is the greatest, over directions, of the distance between the two supporting lines.
  test.each(seeds(40))('is the widest strip between supporting lines, seed %i', (seed) => {
    const random = seededRandom(seed)
    const [a, b] = [anyShape(random), anyShape(random)]
    let widest = Number.NEGATIVE_INFINITY
    for (let k = 0; k < 20_000; k++) {
      const t = (2 * Math.PI * k) / 20_000
      const [nx, ny] = [Math.cos(t), Math.sin(t)]
      widest = Math.max(widest, -support(a, nx, ny) - support(b, -nx, -ny))
    }
    expect(gapBetween(a, b).gapMm).toBeGreaterThanOrEqual(widest - 1e-9)
    expect(gapBetween(a, b).gapMm).toBeLessThan(widest + 5e-3) // 20,000 directions of a strip up to 20 mm long
    expect(gapBetween(b, a).gapMm).toBeCloseTo(gapBetween(a, b).gapMm, 10)
  })
})

test('a box and a support know the radius', () => {
  const s = slot([-5, 1], [5, 1], 2)
  expect(shapeBox(s)).toEqual({ fromX: -7, fromY: -1, toX: 7, toY: 3 })
  expect(support(s, 0, -1)).toBe(1)
})
