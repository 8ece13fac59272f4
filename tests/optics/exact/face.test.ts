import { expect, test } from 'vitest'
import { insideFace } from '../../../src/optics/face.ts'

const NONE = new Float32Array(0)
const inside = (x: number, y: number, shape: number, half: number) => insideFace(x, y, shape, half, 0, NONE)

test('round: 3, 4, 5', () => {
  expect(inside(3, -4, 0, 5)).toBe(true)
  expect(inside(3, 4.001, 0, 5)).toBe(false)
  expect(inside(4.9, 4.9, 0, 5)).toBe(false)
})

test('square: each side and corner', () => {
  for (const [x, y] of [
    [5, 5],
    [-5, 5],
    [5, -5],
    [-5, -5],
  ] as const)
    expect(inside(x, y, 1, 5)).toBe(true)
  for (const [x, y] of [
    [5.001, 0],
    [-5.001, 0],
    [0, 5.001],
    [0, -5.001],
  ] as const)
    expect(inside(x, y, 1, 5)).toBe(false)
})

test('hexagon, flats to ±x: corners at ±y, 2/√3 of half across flats', () => {
  const corner = 2 / Math.sqrt(3)
  for (const sign of [1, -1]) {
    expect(inside(sign, 0, 2, 1)).toBe(true)
    expect(inside(sign * 1.001, 0, 2, 1)).toBe(false)
    expect(inside(0, sign * corner * 0.999, 2, 1)).toBe(true)
    expect(inside(0, sign * corner * 1.001, 2, 1)).toBe(false)
    // Middle of a slanted flat, at 60°, and the corner beside the vertical flat.
    expect(inside(sign * 0.4995, 0.8651, 2, 1)).toBe(true)
    expect(inside(sign * 0.5005, 0.8669, 2, 1)).toBe(false)
    expect(inside(0.999, sign * 0.576, 2, 1)).toBe(true)
    expect(inside(0.999, sign * 0.58, 2, 1)).toBe(false)
  }
  expect(inside(2, 0, 2, 2)).toBe(true) // the flat itself belongs to the face
})

test('the hexagon’s slanted flat belongs to the face', () => {
  // ½·1 + 0·y with a face of half a millimetre more: only the flat at 60° would meet it, and (x, y) = (2, 0) has ½ x = 1.
  const y = 1 / 0.8660254037844386
  expect(0.8660254037844386 * y).toBe(1)
  expect(inside(0, y, 2, 1)).toBe(true)
})

test('rectangle: half of 10 along x, half of 4 along y', () => {
  const on = (x: number, y: number) => insideFace(x, y, 3, 5, 2, NONE)
  for (const sx of [1, -1])
    for (const sy of [1, -1]) {
      expect(on(5 * sx, 2 * sy)).toBe(true)
      expect([on(5.001 * sx, 0), on(0, 2.001 * sy), on(4 * sx, 4 * sy)]).toEqual([false, false, false])
    }
})

test('polygon: an L of 10 by 10 without its upper right quarter; the axis in its inner corner’s reach', () => {
  const corners = Float32Array.of(-5, -5, 5, -5, 5, 0, 0, 0, 0, 5, -5, 5)
  const on = (x: number, y: number, order = corners) => insideFace(x, y, 4, 7.08, 0, order)
  const points = [
    [-2, 3],
    [3, -2],
    [-4.9, -4.9],
    [2, 2],
    [0.1, 0.1],
    [5.1, -1],
    [-5.1, 0],
    [7, 7],
    [-2, 5.1],
  ] as const
  const expected = [true, true, true, false, false, false, false, false, false]
  expect(points.map(([x, y]) => on(x, y))).toEqual(expected)
  // Clockwise the same.
  const pairs = Array.from({ length: 6 }, (_, i) => [corners[2 * i]!, corners[2 * i + 1]!])
  expect(points.map(([x, y]) => on(x, y, Float32Array.from(pairs.reverse().flat())))).toEqual(expected)
})

test('the radii of a polygon only spare the look at its edges', () => {
  const square = Float32Array.of(1, -1, 1, 1, -1, 1, -1, -1)
  const held = (half: number, on: number) => (x: number, y: number) => insideFace(x, y, 4, half, on, square)
  const [plain, quick] = [held(9, 0), held(Math.SQRT2, 1)]
  for (let i = 0; i < 40; i++)
    for (let k = 0; k < 40; k++) {
      const [x, y] = [(i - 19.7) / 13, (k - 19.4) / 13]
      expect(quick(x, y)).toBe(plain(x, y))
    }
})
