import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { cellOf, fractionalIndex, linear, monotoneCubic } from '../../src/num/interpolate.ts'

describe('linear', () => {
  test('goes through the points and straight between', () => {
    expect(linear([0, 1, 4], [2, 4, 1], 1)).toBe(4)
    expect(linear([0, 1, 4], [2, 4, 1], 0.25)).toBe(2.5)
    expect(linear([0, 1, 4], [2, 4, 1], 2.5)).toBe(2.5)
  })
  test('holds the end values outside, and the only value everywhere', () => {
    expect([-1, 9].map((x) => linear([0, 1, 4], [2, 4, 1], x))).toEqual([2, 1])
    expect(linear([3], [7], -5)).toBe(7)
  })
})

test('cellOf finds the cell, held to the ends', () => {
  const xs = [0, 1, 4, 9]
  expect([-1, 0, 0.5, 1, 3.9, 4, 9, 20].map((x) => cellOf(xs, x))).toEqual([0, 0, 0, 1, 1, 2, 2, 2])
})

describe('monotone cubic', () => {
  test('goes through the points, and is straight through points on a line', () => {
    const f = monotoneCubic([0, 1, 3, 7], [1, 3, 7, 15])
    for (const x of [0, 0.3, 1, 2.2, 3, 5.5, 7]) expect(f(x)).toBeCloseTo(1 + 2 * x, 12)
  })
  test('does not swing over at a step, where a plain cubic does', () => {
    const f = monotoneCubic([0, 1, 2, 3, 4], [0, 0, 1, 1, 1])
    for (let x = 0; x <= 4; x += 0.01) {
      expect(f(x)).toBeGreaterThanOrEqual(0)
      expect(f(x)).toBeLessThanOrEqual(1)
    }
    expect(f(0.5)).toBe(0)
    expect(f(1.5)).toBeCloseTo(0.5, 12)
  })
  test('a peak among the points is the peak of the curve', () => {
    const f = monotoneCubic([0, 1, 2, 3], [0, 5, 4, 0])
    for (let x = 0; x <= 3; x += 0.01) expect(f(x)).toBeLessThanOrEqual(5)
  })
  test('a step next to nothing is no trap', () => {
    const f = monotoneCubic([0, 1, 2, 3], [0, 5, 5 + 1e-15, 9])
    const g = monotoneCubic([0, 1, 2, 3], [0, 5e-324, 7, 9])
    for (const x of [0.5, 1.5, 2.5]) expect([f(x), g(x)].every(Number.isFinite)).toBe(true)
  })
  test('holds the end values outside', () => {
    const f = monotoneCubic([0, 1, 2], [5, 6, 9])
    expect([f(-3), f(2.5)]).toEqual([5, 9])
  })
  test('rises wherever the points rise, whatever they are', () => {
    const steps = fc.array(
      fc.tuple(fc.double({ min: 0.01, max: 5, noNaN: true }), fc.double({ min: 0, max: 9, noNaN: true })),
      {
        minLength: 3,
        maxLength: 12,
      },
    )
    fc.assert(
      fc.property(steps, (rows) => {
        const xs: number[] = []
        const ys: number[] = []
        let [x, y] = [0, 0]
        for (const [dx, dy] of rows) {
          x += dx
          y += dy
          xs.push(x)
          ys.push(y)
        }
        const f = monotoneCubic(xs, ys)
        let before = f(xs[0]!)
        for (let k = 1; k <= 300; k++) {
          const now = f(xs[0]! + ((xs.at(-1)! - xs[0]!) * k) / 300)
          expect(now).toBeGreaterThanOrEqual(before - 1e-9)
          before = now
        }
      }),
    )
  })
})

describe('fractional index', () => {
  test.each([
    [-1, [0, 0]],
    [0, [0, 0]],
    [1, [0, 0.5]],
    [2, [2, 0]],
    [5, [2, 0.75]],
    [6, [3, 0]],
    [9, [3, 0]],
  ])('of %f between 0, 2, 2 and 6', (at, expected) => {
    expect(fractionalIndex([0, 2, 2, 6], at)).toEqual(expected)
  })
})
