// Lines of equal irradiance on small grids, point by point.
import { describe, expect, test } from 'vitest'
import { type Contour, findEnvelope, tracePlaneContours, traceRingContours } from '../../src/hazard/contours.ts'
import type { FrontVolume, VolumePlane } from '../../src/hazard/volume.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin, seeds } from '../kit/expect.ts'

/** Rows from low y up, cells of 10 mm. */
const plane = (values: readonly number[], distanceMm = 1): VolumePlane => {
  const n = Math.sqrt(values.length)
  return { distanceMm, halfMm: 5 * n, n, kWm2: Float32Array.from(values) }
}
const pairs = (line: Contour) =>
  Array.from({ length: line.length / 2 }, (_, k) => [line[2 * k] as number, line[2 * k + 1] as number])
const name = ([x, y]: number[]) => `${Math.round(x! * 1e3) / 1e3 + 0},${Math.round(y! * 1e3) / 1e3 + 0}`
const named = (line: Contour) => pairs(line).map(name)

/** Where the level lies between neighbouring middles, straight between their values; beyond the grid there is 0. */
function expectedPoints({ n, halfMm, kWm2 }: VolumePlane, level: number): string[] {
  const size = (2 * halfMm) / n
  const value = (c: number, r: number) => (c < 0 || r < 0 || c >= n || r >= n ? 0 : kWm2[r * n + c]!)
  const middle = (k: number) => (k + 0.5) * size - halfMm
  const out: string[] = []
  for (let r = -1; r <= n; r++)
    for (let c = -1; c <= n; c++)
      for (const [dc, dr] of [
        [1, 0],
        [0, 1],
      ] as const) {
        const [a, b] = [value(c, r), value(c + dc, r + dr)]
        if (a >= level === b >= level) continue
        const t = (level - a) / (b - a)
        out.push(name([middle(c) + t * dc * size, middle(r) + t * dr * size]))
      }
  return out.sort()
}

describe('on a plane', () => {
  test('a closed diamond about one cell, by its level', () => {
    // Middles at −5 and 5; the light ends at the middles beyond, −15 and 15. At 0.25 of 1: three quarters of the way out.
    const [line, ...more] = tracePlaneContours(plane([1, 0, 0, 0]), 0.25)
    expect(more).toEqual([])
    expect(line!.length).toBe(10)
    expect(named(line!)[0]).toBe(named(line!)[4])
    expect(named(line!).slice(0, 4).sort()).toEqual(['-12.5,-5', '-5,-12.5', '-5,2.5', '2.5,-5'].sort())
    // Neighbours in the line are neighbours about the cell.
    for (let k = 1; k < 5; k++) {
      const [a, b] = [pairs(line!)[k - 1]!, pairs(line!)[k]!]
      expectWithin(Math.hypot(a[0]! - b[0]!, a[1]! - b[1]!), 7.5 * Math.SQRT2, { abs: 1e-5, because: 'a diamond' })
    }
  })
  test.each(seeds(amount(4, 12)))('through every crossing once, in closed lines, seed %i', (seed) => {
    const random = seededRandom(seed * 71)
    const of = plane(Array.from({ length: 25 }, () => Math.round(8 * random())))
    const level = 3.5
    const lines = tracePlaneContours(of, level)
    const met: string[] = []
    for (const line of lines) {
      const points = named(line)
      expect(points[0]).toBe(points.at(-1))
      met.push(...points.slice(1))
      // From side to side of one square of middles.
      for (let k = 1; k < points.length; k++) {
        const [a, b] = [pairs(line)[k - 1]!, pairs(line)[k]!]
        expect(Math.max(Math.abs(a[0]! - b[0]!), Math.abs(a[1]! - b[1]!))).toBeLessThanOrEqual(10 + 1e-4)
      }
    }
    expect(met.sort()).toEqual(expectedPoints(of, level))
  })
  test('a value at the level is over it', () => {
    expect(tracePlaneContours(plane([2, 0, 0, 0]), 2).length).toBe(1)
    expect(tracePlaneContours(plane([2, 0, 0, 0]), 2.001)).toEqual([])
  })
  test('two cells corner to corner: joined where the mean of the four reaches the level', () => {
    // Low left and high right: mean 0.5.
    const joined = tracePlaneContours(plane([1, 0, 0, 1]), 0.5)
    expect(joined.map((l) => l.length)).toEqual([18])
    const apart = tracePlaneContours(plane([1, 0, 0, 1]), 0.501)
    expect(apart.map((l) => l.length)).toEqual([10, 10])
    for (const line of apart) {
      // All of one about its own cell.
      const signs = new Set(pairs(line).map(([x, y]) => Math.sign(x! + y!)))
      expect(signs.size).toBe(1)
    }
    // The other way round.
    expect(tracePlaneContours(plane([0, 1, 1, 0]), 0.5).map((l) => l.length)).toEqual([18])
    const other = tracePlaneContours(plane([0, 1, 1, 0]), 0.501)
    expect(other.map((l) => l.length)).toEqual([10, 10])
    for (const line of other) expect(new Set(pairs(line).map(([x, y]) => Math.sign(x! - y!))).size).toBe(1)
  })
  test('a ring has an inner and an outer line', () => {
    const lines = tracePlaneContours(plane([2, 2, 2, 2, 0, 2, 2, 2, 2]), 1)
    expect(lines.length).toBe(2)
    const inner = lines.find((l) => l.length === 10)
    expect(named(inner!).slice(0, 4).sort()).toEqual(['-5,0', '0,-5', '0,5', '5,0'])
  })
})

const volume = (distances: readonly number[], ringMm: readonly number[], kWm2: readonly number[]): FrontVolume => ({
  frontZMm: 100,
  planes: distances.map((d) => plane([0], d)),
  ringMap: { rings: kWm2.length / distances.length, ringMm: Float32Array.from(ringMm), kWm2: Float32Array.from(kWm2) },
  round: true,
})

describe('in the half plane', () => {
  test('from the front on, to the axis where it ends', () => {
    // 4 and 1 in rings of 1 and 2 mm; the first ring’s value stands on the axis, the second’s at 1.5 widths. Level 2: two thirds of the way. At
    // 40 mm nothing: half-way from 20 mm.
    const lines = traceRingContours(volume([10, 20, 40], [1, 2, 4], [4, 1, 4, 1, 0, 0]), 2)
    expect(lines.map(named)).toEqual([['110,1', '120,2', '130,0']])
  })
  test('it ends just beyond the last plane, and beyond the last ring', () => {
    const lines = traceRingContours(volume([10, 20, 40], [1, 2, 4], [4, 1, 4, 1, 4, 1]), 2)
    // 40 · 1.0001: half-way 0.002 mm.
    expect(lines.map(named)).toEqual([['110,1', '120,2', '140,4', '140.002,0']])
    // Both rings at 4: 0 at 2.5 widths, half-way from 1.5 to 2.5.
    const wide = traceRingContours(volume([10, 20], [1, 2], [4, 4, 4, 4]), 2)
    expect(wide.map(named)).toEqual([['120.001,0', '120.001,3', '120,4', '110,2']])
  })
  test('a closed line away from the axis; none where nothing reaches the level', () => {
    // Third of five planes, second of three rings.
    const values = new Array(15).fill(0)
    values[2 * 3 + 1] = 4
    const lines = traceRingContours(volume([10, 20, 40, 60, 80], [2, 2, 2, 2, 2], values), 2)
    expect(lines.length).toBe(1)
    expect(named(lines[0]!)[0]).toBe(named(lines[0]!)[4])
    expect(named(lines[0]!).slice(1).sort()).toEqual(['130,3', '140,1.5', '140,4', '150,3'])
    expect(traceRingContours(volume([10, 20], [1, 2], [4, 4, 4, 4]), 5)).toEqual([])
  })
})

describe('the farthest place that reaches a level', () => {
  const only = (c: number, r: number, kWm2 = 2) => {
    const values = new Array(16).fill(0)
    values[4 * r + c] = kWm2
    return findEnvelope({ ...volume([7], [1], [0]), planes: [plane(values, 7)] }, 2)[0]!
  }
  test.each([
    // Cells of 10 mm from −20 to 20; their outer corners.
    [3, 2, 20, 10],
    [2, 3, 10, 20],
    [0, 1, 20, 10],
    [1, 0, 10, 20],
    [3, 3, 20, 20],
    [1, 2, 10, 10],
  ])('column %i, row %i: (%d, %d)', (c, r, x, y) => {
    expect(only(c, r).distanceMm).toBe(7)
    expectWithin(only(c, r).radiusMm, Math.hypot(x, y), { abs: 1e-12, because: 'its outer corner' })
  })
  test('cells under the level don’t count, of several the farthest does', () => {
    expect(only(3, 3, 1.99).radiusMm).toBe(0)
    const both = plane([3, 0, 0, 0, 0, 9, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1])
    expectWithin(
      findEnvelope({ ...volume([7], [1], [0]), planes: [both, plane([0, 0, 0, 0])] }, 2)[0]!.radiusMm,
      20 * Math.SQRT2,
      {
        abs: 1e-12,
        because: 'low left',
      },
    )
    expect(findEnvelope({ ...volume([7], [1], [0]), planes: [both, plane([0, 0, 0, 0])] }, 2).length).toBe(2)
  })
})
