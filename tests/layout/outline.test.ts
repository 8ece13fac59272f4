import { describe, expect, test } from 'vitest'
import { faceAreaMm2, faceReachMm } from '../../src/lamp/facePlate.ts'
import {
  boardOutline,
  edgeGap,
  flatsPolygon,
  isInsideFace,
  keepOutShape,
  type Outline,
  outlineArea,
  outlinePath,
} from '../../src/layout/outline.ts'
import { type Point, shapeBox } from '../../src/layout/shape.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { expectWithin } from '../kit/expect.ts'
import { lampWith } from '../kit/lampWith.ts'

/** Shoelace; above zero when anticlockwise. */
const polygonArea = (p: readonly Point[]) =>
  p.reduce((s, [x, y], i) => s + x * p[(i + 1) % p.length]![1] - p[(i + 1) % p.length]![0] * y, 0) / 2

const STAR: Outline = { shape: 'star', acrossMm: 20, points: 6, notchMm: 3.5 }

describe('outlines', () => {
  test('a hexagon’s flat faces +x, its corner +y', () => {
    const p = flatsPolygon(6, 20)
    expect(Math.max(...p.map(([x]) => x))).toBeCloseTo(10, 12)
    expect(Math.max(...p.map(([, y]) => y))).toBeCloseTo(20 / Math.sqrt(3), 12)
    expect(polygonArea(p)).toBeCloseTo(outlineArea({ shape: 'hexagon', acrossMm: 20 }), 9)
  })
  test.each<[string, Outline]>([
    ['rectangle', { shape: 'rectangle', widthMm: 30, heightMm: 8 }],
    ['hexagon', { shape: 'hexagon', acrossMm: 20 }],
    ['disc', { shape: 'disc', diameterMm: 35 }],
    ['star', STAR],
    ['star without notches', { ...STAR, notchMm: 0 }],
    ['star all notch', { ...STAR, points: 3, notchMm: 19 }],
  ])('%s: the drawn path encloses the stated area, anticlockwise', (_, outline) => {
    expectWithin(polygonArea(outlinePath(outline, 0.2)), outlineArea(outline), {
      rel: 1e-4,
      because: 'arcs in steps of 0.2°',
    })
  })
  test('a star’s notches lie between its points: full reach at +x, a bite of half its width at 30°', () => {
    const r = (deg: number) => {
      const at = (deg * Math.PI) / 180
      const near = outlinePath(STAR, 0.2).filter(([x, y]) => Math.abs(Math.atan2(y, x) - at) < 0.004)
      return Math.min(...near.map(([x, y]) => Math.hypot(x, y)))
    }
    expect(r(0)).toBeCloseTo(10, 6)
    expect(r(30)).toBeCloseTo(10 - 1.75, 2)
  })
  test('a placed board is turned anticlockwise about its own place', () => {
    const lamp = lampWith({
      boardTypes: [{ ...gannetHead().boardTypes[0]!, outline: { shape: 'rectangle', widthMm: 40, heightMm: 30 } }],
      boards: [{ id: 'B1', type: 'seven', xMm: 5, yMm: 7, turnDeg: 90, currentA: 1 }],
    })
    const box = shapeBox(boardOutline(lamp, lamp.boards[0]!))
    expect([box.fromX, box.toX, box.fromY, box.toY].map((v) => +v.toFixed(9))).toEqual([-10, 20, -13, 27])
  })
})

describe('keep-outs', () => {
  const slot = { shape: 'slot', xMm: 1, yMm: 2, lengthMm: 30, widthMm: 10, turnDeg: 90, why: '' } as const
  const edges = (k: Parameters<typeof keepOutShape>[0]) => {
    const b = shapeBox(keepOutShape(k))
    return [b.fromX, b.toX, b.fromY, b.toY].map((v) => +v.toFixed(9))
  }
  test('a slot’s length includes its round ends, along its turn', () => expect(edges(slot)).toEqual([-4, 6, -13, 17]))
  test('a slot wider than long runs across', () => {
    expect(edges({ ...slot, lengthMm: 10, widthMm: 30 })).toEqual([-14, 16, -3, 7])
    expect(edges({ ...slot, widthMm: 30 })).toEqual([-14, 16, -13, 17])
  })
  test('a hole', () => expect(edges({ shape: 'hole', xMm: 1, yMm: 2, diameterMm: 6, why: '' })).toEqual([-2, 4, -1, 5]))
})

describe('the face’s edge', () => {
  const round = { shape: 'round', sizeMm: 100 } as const
  const hexagon = { shape: 'hexagon', sizeMm: 100 } as const
  const square = { shape: 'square', sizeMm: 100 } as const
  test('room of a disc and of a plate', () => {
    expect(edgeGap(round, { core: [[30, 0]], radiusMm: 15 }).gapMm).toBe(5)
    const plate = {
      core: [
        [24, -32],
        [30, -32],
        [30, 40],
        [24, 40],
      ] as Point[],
      radiusMm: 0,
    }
    expect(edgeGap(round, plate)).toEqual({ gapMm: 0, xMm: 30, yMm: 40 })
    expect(edgeGap(square, plate).gapMm).toBe(10)
    expect(edgeGap(square, { core: [[-45, 3]], radiusMm: 10 })).toMatchObject({ gapMm: -5, xMm: -55 })
    expect(edgeGap(hexagon, { core: [[0, 0]], radiusMm: 10 }).gapMm).toBeCloseTo(40, 12)
    expect(edgeGap(hexagon, { core: [[0, 50]], radiusMm: 0 }).gapMm).toBeCloseTo(50 - 50 * Math.sin(Math.PI / 3), 12)
  })
  test('a disc on the axis of a round face', () =>
    expect(edgeGap(round, { core: [[0, 0]], radiusMm: 8 }).gapMm).toBe(42))
  test('points inside: a square reaches into its corners, a disc does not', () => {
    expect(isInsideFace(square, 49, 49)).toBe(true)
    expect(isInsideFace(round, 49, 49)).toBe(false)
    expect(isInsideFace(round, 49, 0, 2)).toBe(false)
    expect(isInsideFace(hexagon, 0, 57)).toBe(true) // corner at 57.735
    expect(isInsideFace(hexagon, 57, 0)).toBe(false)
  })
  test('areas and corners', () => {
    expect(faceAreaMm2(round)).toBeCloseTo(7853.98, 2)
    expect(faceAreaMm2(square)).toBe(10_000)
    expect(faceAreaMm2(hexagon)).toBeCloseTo(polygonArea(flatsPolygon(6, 100)), 8)
    expect([round, square, hexagon].map((f) => +faceReachMm(f).toFixed(3))).toEqual([50, 70.711, 57.735])
  })
})
