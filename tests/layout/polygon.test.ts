// Outlines of their own: parts, gaps, room to the edge and fills, against the same shapes by name and counts by hand.
import { describe, expect, test } from 'vitest'
import { faceCorners, polygonFace } from '../../src/lamp/facePlate.ts'
import type { BoardType, Lamp } from '../../src/lamp/schema.ts'
import { findLayoutFaults } from '../../src/layout/clearance.ts'
import { convexParts } from '../../src/layout/convexParts.ts'
import { type FillPattern, fillFace } from '../../src/layout/fill.ts'
import { edgeGap, flatsPolygon, outlineShape, placeShape } from '../../src/layout/outline.ts'
import { polygonInset } from '../../src/layout/polygonInset.ts'
import { gapBetween, type Point, type Shape } from '../../src/layout/shape.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { type Corner, signedArea } from '../../src/num/polygon.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { expectWithin } from '../kit/expect.ts'
import { lampWith, type Overrides } from '../kit/lampWith.ts'

const rounding = { rel: 1e-9, because: 'rounding' }
/** 100 by 100 without its upper right 60 by 60, clockwise. */
const L: [number, number][] = [
  [-50, -50],
  [-50, 50],
  [-10, 50],
  [-10, -10],
  [50, -10],
  [50, -50],
]
const star = (n: number): Corner[] =>
  Array.from({ length: 2 * n }, (_, i) => {
    const [r, at] = [i % 2 === 0 ? 30 : 14, (Math.PI * i) / n]
    return [r * Math.cos(at), r * Math.sin(at)]
  })
const disc = (x: number, y: number, radiusMm: number): Shape => ({ core: [[x, y]], radiusMm })
const own = (corners: readonly Corner[]) => outlineShape({ shape: 'polygon', corners: corners.map(([x, y]) => [x, y]) })

describe('convex parts', () => {
  test.each([
    ['an L', L.toReversed(), 2],
    ['a star of 5', star(5), 6],
    ['a star of 60', star(60), 63],
    ['a hexagon', flatsPolygon(6, 20), 1],
  ] as const)('%s: they make up its area, and are few', (_, corners, most) => {
    const parts = convexParts(corners)
    expectWithin(
      parts.reduce((sum, p) => sum + signedArea(p), 0),
      Math.abs(signedArea(corners)),
      rounding,
    )
    for (const p of parts)
      for (const [i, a] of p.entries()) {
        const [b, c] = [p[(i + 1) % p.length]!, p[(i + 2) % p.length]!]
        expect((b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])).toBeGreaterThanOrEqual(0)
      }
    expect(parts.length).toBeLessThanOrEqual(most)
  })
})

describe('gaps', () => {
  test('a disc in the notch of an L: 1 mm to both of its sides', () => {
    expectWithin(gapBetween(own(L), disc(0, 0, 9)).gapMm, 1, rounding)
    // 16 mm along both axes from the inner corner, 25 by 25 from the ends of its arms.
    expectWithin(gapBetween(disc(20, 20, 3), own(L)).gapMm, 27, rounding)
    expect(gapBetween(own(L), disc(-30, 30, 3)).gapMm).toBeLessThan(0)
  })
  test('two Ls nest without a fault: the second turned about, 2 mm off', () => {
    const other = placeShape(own(L), { xMm: 42, yMm: 36, turnDeg: 180 })
    // Its arms begin at x = 42 − 50 and end at 42 + 10; those of the first end at −10 and 50.
    expectWithin(gapBetween(own(L), other).gapMm, 2, rounding)
    const deeper = placeShape(own(L), { xMm: 39, yMm: 39, turnDeg: 180 })
    expectWithin(gapBetween(own(L), deeper).gapMm, -1, rounding)
  })
  test('a convex outline of its own is the shape by name', () => {
    const [by, named] = [own(flatsPolygon(6, 20)), outlineShape({ shape: 'hexagon', acrossMm: 20 })]
    const random = seededRandom(4)
    for (let i = 0; i < 50; i++) {
      const pose = { xMm: 50 * random() - 25, yMm: 50 * random() - 25, turnDeg: 360 * random() }
      expectWithin(gapBetween(by, placeShape(by, pose)).gapMm, gapBetween(named, placeShape(named, pose)).gapMm, {
        abs: 1e-9,
        because: 'rounding',
      })
    }
  })
})

describe('room to the edge', () => {
  test.each(['square', 'hexagon', 'rectangle'] as const)('by corners as by name: %s', (shape) => {
    const face = { shape, sizeMm: 100, ...(shape === 'rectangle' && { heightMm: 60 }) }
    const corners = polygonFace(faceCorners(face) ?? [])
    const random = seededRandom(9)
    for (let i = 0; i < 200; i++) {
      const pose = { xMm: 60 * random() - 30, yMm: 40 * random() - 20, turnDeg: 360 * random() }
      const board = placeShape(outlineShape({ shape: 'rectangle', widthMm: 22, heightMm: 9 }), pose)
      const [a, b] = [edgeGap(corners, board), edgeGap(face, board)]
      // Outside, by its farthest point to the nearest edge: no more than to the edge's line.
      if (b.gapMm >= 0) expectWithin(a.gapMm, b.gapMm, { abs: 1e-9, because: 'rounding' })
      else expect(a.gapMm).toBeLessThan(0)
    }
  })
  test('an L: beside the inner corner, over it, and across a notch with every corner on the face', () => {
    const face = polygonFace(L)
    expectWithin(edgeGap(face, disc(-20, -20, 5)).gapMm, Math.hypot(10, 10) - 5, rounding)
    expectWithin(edgeGap(face, disc(0, 0, 5)).gapMm, -15, rounding)
    const square: Point[] = [
      [-15, -15],
      [-5, -15],
      [-5, -5],
      [-15, -5],
    ]
    // Its own corner lies 5 mm out, the face's inner corner 5 mm in.
    expectWithin(edgeGap(face, { core: square, radiusMm: 0 }).gapMm, -5, rounding)
    const slotted = polygonFace([
      [-50, -50],
      [-2, -50],
      [-2, 20],
      [2, 20],
      [2, -50],
      [50, -50],
      [50, 50],
      [-50, 50],
    ])
    const across: Point[] = [
      [-10, -5],
      [10, -5],
      [10, 5],
      [-10, 5],
    ]
    expectWithin(edgeGap(slotted, { core: across, radiusMm: 0 }).gapMm, -2, rounding)
    expect(edgeGap(slotted, { core: across.map(([x, y]) => [x, y + 35] as const), radiusMm: 0 }).gapMm).toBe(10)
  })
})

describe('the line of the margin', () => {
  const lengthOf = (stretches: readonly (readonly [Corner, Corner])[]) =>
    stretches.reduce((sum, [a, b]) => sum + Math.hypot(b[0] - a[0], b[1] - a[1]), 0)
  test('a square: each side shorter by twice the inset', () => {
    const square = faceCorners({ shape: 'square', sizeMm: 100 }) ?? []
    expectWithin(lengthOf(polygonInset(square, 5)), 360, rounding)
    expect(polygonInset(square, 51)).toEqual([])
  })
  test('an L: five corners take two insets each, the inner one adds a quarter circle', () => {
    expectWithin(lengthOf(polygonInset(L, 4)), 400 - 5 * 8 + 2 * Math.PI, {
      rel: 1e-4,
      because: 'chords of 10° about the quarter circle of 6.3 mm are 0.25 % longer',
    })
  })
})

describe('fills', () => {
  const faced = (face: Overrides<Lamp>['face'], outline: BoardType['outline']): Lamp =>
    lampWith({
      face: { keepOuts: [], ...face },
      boardTypes: [{ ...gannetHead().boardTypes[0]!, sites: [{ xMm: 0, yMm: 0 }], outline }],
      boards: [],
    })
  const options = { boardType: 'seven', clearanceMm: 0, marginMm: 0, currentA: 1 }
  const count = (lamp: Lamp, pattern: FillPattern, over = {}) => {
    const { boards, placed } = fillFace(lamp, { ...options, pattern, ...over })
    const { clearanceMm, marginMm } = { ...options, ...over }
    const filled = { ...lamp, face: { ...lamp.face, clearanceMm, marginMm }, boards }
    expect(findLayoutFaults(filled).filter((f) => f.kind !== 'opticsOverlap' && f.kind !== 'emitterOff')).toEqual([])
    return placed
  }
  const square20: BoardType['outline'] = { shape: 'rectangle', widthMm: 20, heightMm: 20 }
  test('squares of 20 mm on a rectangle of 200 by 100: ten by five, turned by 90° five by ten', () => {
    for (const [sizeMm, heightMm] of [
      [200, 100],
      [100, 200],
    ] as const) {
      expect(count(faced({ shape: 'rectangle', sizeMm, heightMm }, square20), 'square', { turnDeg: 0 })).toBe(50)
      const corners = faceCorners({ shape: 'rectangle', sizeMm, heightMm }) ?? []
      expect(count(faced(polygonFace(corners), square20), 'square', { turnDeg: 0 })).toBe(50)
    }
  })
  test('on the L: 25 less the 9 of its notch; with 1 mm to the edge two rows less', () => {
    expect(count(faced(polygonFace(L), square20), 'square', { turnDeg: 0 })).toBe(16)
    // Arms of 38 mm are one board wide, 98 long: 4 up the one and 3 more along the other.
    expect(count(faced(polygonFace(L), square20), 'square', { turnDeg: 0, marginMm: 1 })).toBe(7)
  })
  test.each(['hexagonal', 'square', 'rings'] as const)('hexagons by their corners as by name, %s', (pattern) => {
    const face = { shape: 'hexagon', sizeMm: 150 } as const
    const named = count(faced(face, { shape: 'hexagon', acrossMm: 20 }), pattern, { turnDeg: 0, clearanceMm: 0.5 })
    const outline: BoardType['outline'] = { shape: 'polygon', corners: flatsPolygon(6, 20).map(([x, y]) => [x, y]) }
    const by = count(faced(polygonFace(faceCorners(face) ?? []), outline), pattern, { turnDeg: 0, clearanceMm: 0.5 })
    if (pattern === 'square') expect(by).toBeGreaterThanOrEqual(named)
    else expect(by).toBe(named)
  })
  test('triangles nest in rows; an outline beside its origin and one with notches never overlap', () => {
    const triangle: BoardType['outline'] = {
      shape: 'polygon',
      corners: [
        [0, 0],
        [20, 0],
        [10, 15],
      ],
    }
    expect(count(faced({ shape: 'rectangle', sizeMm: 200, heightMm: 100 }, triangle), 'square', { turnDeg: 0 })).toBe(
      60,
    )
    const beside: BoardType['outline'] = {
      shape: 'polygon',
      corners: [
        [30, 0],
        [50, 0],
        [50, 12],
        [40, 5],
        [30, 12],
      ],
    }
    for (const pattern of ['hexagonal', 'rings'] as const) {
      const lamp = faced({ shape: 'round', sizeMm: pattern === 'rings' ? 130 : 160 }, beside)
      expect(count(lamp, pattern, { turnDeg: 0, clearanceMm: 1 })).toBeGreaterThan(2)
    }
  })
})
