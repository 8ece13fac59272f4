import { describe, expect, test } from 'vitest'
import { type Box, forEachNearPair } from '../../src/num/grid.ts'
import { gridPlaces, hexagonalPlaces, ringPlaces, rowPlaces } from '../../src/num/places.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { seeds } from '../kit/expect.ts'

describe('near pairs', () => {
  test.each(seeds(10))('are those that all against all gives, each once, seed %i', (seed) => {
    const random = seededRandom(seed)
    const reach = random() * 3
    const boxes = Array.from({ length: 150 }, (): Box => {
      const [x, y] = [100 * (random() - 0.5), 100 * (random() - 0.5)]
      const [w, h] = [random() * 6, random() * (random() < 0.05 ? 40 : 6)]
      return { fromX: x, fromY: y, toX: x + w, toY: y + h }
    })
    const wanted = new Set<string>()
    for (const [j, b] of boxes.entries()) {
      for (const [i, a] of boxes.slice(0, j).entries()) {
        const apart = Math.max(a.fromX - b.toX, b.fromX - a.toX, a.fromY - b.toY, b.fromY - a.toY)
        if (apart <= reach) wanted.add(`${i} ${j}`)
      }
    }
    const met: string[] = []
    forEachNearPair(boxes, reach, (i, j) => met.push(`${i} ${j}`))
    expect(new Set(met)).toEqual(wanted)
    expect(met.length).toBe(wanted.size)
    expect(met.length).toBeGreaterThan(0)
  })
  test('none without boxes', () => {
    forEachNearPair([], 1, () => expect.unreachable())
  })
})

describe('places', () => {
  test('hexagonal rings count 1, 7, 19, 37, 61 (OEIS A003215) and stand a pitch apart', () => {
    expect([0, 1, 2, 3, 4].map((n) => hexagonalPlaces(n, 10).length)).toEqual([1, 7, 19, 37, 61])
    const places = hexagonalPlaces(3, 10)
    for (const [i, a] of places.entries()) {
      const nearest = Math.min(...places.filter((_, j) => j !== i).map((b) => Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm)))
      expect(nearest).toBeCloseTo(10, 3)
    }
  })
  test('a row and a grid are centred', () => {
    expect(rowPlaces(3, 20).map((p) => p.xMm)).toEqual([-20, 0, 20])
    expect(gridPlaces(2, 2, 10, 4)).toEqual([
      { xMm: -5, yMm: -2 },
      { xMm: 5, yMm: -2 },
      { xMm: -5, yMm: 2 },
      { xMm: 5, yMm: 2 },
    ])
  })
  test('a ring goes anticlockwise from the angle given', () => {
    expect(ringPlaces(4, 8)).toEqual([
      { xMm: 8, yMm: 0 },
      { xMm: 0, yMm: 8 },
      { xMm: -8, yMm: 0 },
      { xMm: 0, yMm: -8 },
    ])
    expect(ringPlaces(1, 8, 90)).toEqual([{ xMm: 0, yMm: 8 }])
  })
})

describe('seeded numbers', () => {
  test('repeat, differ between seeds, and fill [0, 1) evenly', () => {
    const draw = (seed: number, n: number) => {
      const random = seededRandom(seed)
      return Array.from({ length: n }, random)
    }
    expect(draw(3, 5)).toEqual(draw(3, 5))
    expect(draw(3, 5)).not.toEqual(draw(4, 5))
    const bins = new Array<number>(20).fill(0)
    for (const u of draw(1, 20_000)) bins[Math.floor(u * 20)]! += 1
    // χ² of 19 degrees of freedom: 36.2 at level 0.01.
    expect(bins.reduce((s, n) => s + (n - 1000) ** 2 / 1000, 0)).toBeLessThan(36.2)
  })
})
