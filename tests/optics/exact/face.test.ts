import { expect, test } from 'vitest'
import { insideFace } from '../../../src/optics/face.ts'

test('round: 3, 4, 5', () => {
  expect(insideFace(3, -4, 0, 5)).toBe(true)
  expect(insideFace(3, 4.001, 0, 5)).toBe(false)
  expect(insideFace(4.9, 4.9, 0, 5)).toBe(false)
})

test('square: each side and corner', () => {
  for (const [x, y] of [
    [5, 5],
    [-5, 5],
    [5, -5],
    [-5, -5],
  ] as const)
    expect(insideFace(x, y, 1, 5)).toBe(true)
  for (const [x, y] of [
    [5.001, 0],
    [-5.001, 0],
    [0, 5.001],
    [0, -5.001],
  ] as const)
    expect(insideFace(x, y, 1, 5)).toBe(false)
})

test('hexagon, flats to ±x: corners at ±y, 2/√3 of half across flats', () => {
  const corner = 2 / Math.sqrt(3)
  for (const sign of [1, -1]) {
    expect(insideFace(sign, 0, 2, 1)).toBe(true)
    expect(insideFace(sign * 1.001, 0, 2, 1)).toBe(false)
    expect(insideFace(0, sign * corner * 0.999, 2, 1)).toBe(true)
    expect(insideFace(0, sign * corner * 1.001, 2, 1)).toBe(false)
    // Middle of a slanted flat, at 60°, and the corner beside the vertical flat.
    expect(insideFace(sign * 0.4995, 0.8651, 2, 1)).toBe(true)
    expect(insideFace(sign * 0.5005, 0.8669, 2, 1)).toBe(false)
    expect(insideFace(0.999, sign * 0.576, 2, 1)).toBe(true)
    expect(insideFace(0.999, sign * 0.58, 2, 1)).toBe(false)
  }
  expect(insideFace(2, 0, 2, 2)).toBe(true) // the flat itself belongs to the face
})

test('the hexagon’s slanted flat belongs to the face', () => {
  // ½·1 + 0·y with a face of half a millimetre more: only the flat at 60° would meet it, and (x, y) = (2, 0) has ½ x = 1.
  const y = 1 / 0.8660254037844386
  expect(0.8660254037844386 * y).toBe(1)
  expect(insideFace(0, y, 2, 1)).toBe(true)
})
