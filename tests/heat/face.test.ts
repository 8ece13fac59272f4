// Outlines: areas, rims and chords by hand, and the edge, which belongs to the face.
import { describe, expect, test } from 'vitest'
import { boardAreaM2, boardLeastMm, boardReachMm, faceAreaM2, isOnBoard } from '../../src/heat/face.ts'
import { faceChordMm, facePerimeterMm, halfExtents, isOnFace } from '../../src/lamp/facePlate.ts'
import { expectWithin } from '../kit/expect.ts'

const rounding = { rel: 1e-12, because: 'rounding' }
const ROOT3 = Math.sqrt(3)
const round = { shape: 'round' as const, sizeMm: 100 }
const square = { shape: 'square' as const, sizeMm: 100 }
const hexagon = { shape: 'hexagon' as const, sizeMm: 100 }

const rectangle = { shape: 'rectangle' as const, widthMm: 30, heightMm: 40 }
const hexBoard = { shape: 'hexagon' as const, acrossMm: 20 }
const disc = { shape: 'disc' as const, diameterMm: 20 }
const star = { shape: 'star' as const, acrossMm: 10, points: 6, notchMm: 3 }

describe('a point on the face, its edge included', () => {
  test('round: 30² + 40² = 50²', () => {
    expect(isOnFace(round, 30, -40)).toBe(true)
    expect(isOnFace(round, 30, 40.001)).toBe(false)
    expect(isOnFace(round, -50, 0)).toBe(true)
    expect(isOnFace(round, 49, 49)).toBe(false)
  })
  test('square: up to its corner', () => {
    expect(isOnFace(square, 50, -50)).toBe(true)
    expect(isOnFace(square, 50.001, 0)).toBe(false)
    expect(isOnFace(square, 0, -50.001)).toBe(false)
  })
  test('hexagon, flat sides left and right: x to 50, corners at y = ±100/√3, slanted sides x/2 + √3/2 y = 50', () => {
    expect(isOnFace(hexagon, 50, 0)).toBe(true)
    expect(isOnFace(hexagon, 50.001, 0)).toBe(false)
    expect(isOnFace(hexagon, 0, 57.735)).toBe(true)
    expect(isOnFace(hexagon, 0, -57.736)).toBe(false)
    expect(isOnFace(hexagon, 30, (70 / ROOT3) * 0.99999)).toBe(true)
    expect(isOnFace(hexagon, -30, (70 / ROOT3) * 1.00001)).toBe(false)
    // Exact in doubles: 10/2 · ½ + √3/2 · y = 10.
    expect(isOnFace({ shape: 'hexagon', sizeMm: 20 }, 5, 7.5 / (ROOT3 / 2))).toBe(true)
  })
})

describe('measures of a face of 100 mm', () => {
  test('half extents: a hexagon’s corners stand 100/√3 from the middle', () => {
    expect(halfExtents(round)).toEqual([50, 50])
    expect(halfExtents(square)).toEqual([50, 50])
    const [x, y] = halfExtents(hexagon)
    expect(x).toBe(50)
    expectWithin(y, 100 / ROOT3, rounding)
  })
  test('areas: π/4, 1 and √3/2 of its square', () => {
    expectWithin(faceAreaM2(round), 0.0025 * Math.PI, rounding)
    expectWithin(faceAreaM2(square), 0.01, rounding)
    expectWithin(faceAreaM2(hexagon), 0.005 * ROOT3, rounding)
  })
  test('perimeters: 100 π, 400 and six sides of 100/√3 mm', () => {
    expectWithin(facePerimeterMm(round), 100 * Math.PI, rounding)
    expectWithin(facePerimeterMm(square), 400, rounding)
    expectWithin(facePerimeterMm(hexagon), 600 / ROOT3, rounding)
  })
  test('chords along y: at the middle, beside it, at the edge and beyond', () => {
    expect(faceChordMm(round, 0)).toBe(100)
    expect(faceChordMm(round, -30)).toBe(80)
    expect(faceChordMm(round, 50)).toBe(0)
    expect(faceChordMm(square, 50)).toBe(100)
    expectWithin(faceChordMm(hexagon, 0), 200 / ROOT3, rounding)
    expectWithin(faceChordMm(hexagon, -20), 160 / ROOT3, rounding)
    expectWithin(faceChordMm(hexagon, 50), 100 / ROOT3, rounding)
    for (const face of [round, square, hexagon]) expect(faceChordMm(face, -50.001)).toBe(0)
  })
})

describe('boards', () => {
  test('a point on the outline, its edge included; a star is its full disc', () => {
    expect(isOnBoard(rectangle, -15, 20)).toBe(true)
    expect(isOnBoard(rectangle, 15.001, 0)).toBe(false)
    expect(isOnBoard(rectangle, 0, -20.001)).toBe(false)
    expect(isOnBoard(hexBoard, 10, 0)).toBe(true)
    expect(isOnBoard(hexBoard, 0, 11.54)).toBe(true)
    expect(isOnBoard(hexBoard, 10.001, 0)).toBe(false)
    expect(isOnBoard(disc, 6, -8)).toBe(true)
    expect(isOnBoard(disc, 6, 8.001)).toBe(false)
    expect(isOnBoard(star, 3, 4)).toBe(true)
    expect(isOnBoard(star, 3, 4.001)).toBe(false)
  })
  test('reach: half a diagonal, a corner, a radius', () => {
    expect(boardReachMm(rectangle)).toBe(25)
    expectWithin(boardReachMm(hexBoard), 20 / ROOT3, rounding)
    expect(boardReachMm(disc)).toBe(10)
    expect(boardReachMm(star)).toBe(5)
  })
  test('areas, m²', () => {
    expectWithin(boardAreaM2(rectangle), 0.0012, rounding)
    expectWithin(boardAreaM2(hexBoard), 2e-4 * ROOT3, rounding)
    expectWithin(boardAreaM2(disc), 1e-4 * Math.PI, rounding)
    expectWithin(boardAreaM2(star), 2.5e-5 * Math.PI, rounding)
  })
  test('least extent, whichever side is shorter', () => {
    expect(boardLeastMm(rectangle)).toBe(30)
    expect(boardLeastMm({ ...rectangle, widthMm: 50 })).toBe(40)
    expect(boardLeastMm(hexBoard)).toBe(20)
    expect(boardLeastMm(disc)).toBe(20)
    expect(boardLeastMm(star)).toBe(10)
  })
})
