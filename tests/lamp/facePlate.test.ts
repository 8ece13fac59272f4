// The face as a rectangle or by corners of its own, and what a builder reads when they don't fit.
import { describe, expect, test } from 'vitest'
import {
  faceAreaMm2,
  faceBox,
  faceChordMm,
  faceCorners,
  facePerimeterMm,
  faceReachMm,
  faceWidestMm,
  halfExtents,
  isOnFace,
  polygonFace,
  resizedFace,
} from '../../src/lamp/facePlate.ts'
import { readLamp } from '../../src/lamp/read.ts'
import type { Face } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { powerOf } from '../../src/library/typicalPower.ts'
import { expectWithin } from '../kit/expect.ts'

const rounding = { rel: 1e-12, because: 'rounding' }
const rectangle = { shape: 'rectangle', sizeMm: 120, heightMm: 50 } as const

describe('a rectangle of 120 by 50', () => {
  test('measures', () => {
    expect(faceAreaMm2(rectangle)).toBe(6000)
    expect(facePerimeterMm(rectangle)).toBe(340)
    expect(faceReachMm(rectangle)).toBe(65)
    expect(faceWidestMm(rectangle)).toBe(120)
    expect(halfExtents(rectangle)).toEqual([60, 25])
    expect([0, 60, 60.001].map((x) => faceChordMm(rectangle, x))).toEqual([50, 50, 0])
    expect([isOnFace(rectangle, 60, -25), isOnFace(rectangle, 0, 25.001)]).toEqual([true, false])
  })
  test('the same by its corners', () => {
    const corners = faceCorners(rectangle) ?? []
    const own = polygonFace(corners)
    expect(own.sizeMm).toBe(130)
    expect(faceAreaMm2(own)).toBe(6000)
    expect(facePerimeterMm(own)).toBe(340)
    expect(faceBox(own)).toEqual({ fromX: -60, toX: 60, fromY: -25, toY: 25 })
    expect(faceWidestMm(own)).toBe(120)
    expect([0, 59.9, 60.001].map((x) => faceChordMm(own, x))).toEqual([50, 50, 0])
  })
})

test('a hexagon’s corners: 2/√3 of half its size, the first flat facing +x', () => {
  const face = { shape: 'hexagon', sizeMm: 100 } as const
  const corners = faceCorners(face) ?? []
  for (const [x, y] of corners) expectWithin(Math.hypot(x, y), 100 / Math.sqrt(3), rounding)
  expect(corners[0]![0]).toBe(corners[5]![0])
  expectWithin(faceAreaMm2(polygonFace(corners)), faceAreaMm2(face), rounding)
})

test('another size: corners move with it, a rectangle’s height stays', () => {
  const face = polygonFace([
    [10, 0],
    [0, 20],
    [-10, -5],
  ])
  expect(face.sizeMm).toBe(40)
  expect(resizedFace(face, 80).corners).toEqual([
    [20, 0],
    [0, 40],
    [-20, -10],
  ])
  expect(resizedFace(rectangle, 200)).toEqual({ ...rectangle, sizeMm: 200 })
})

describe('sentences', () => {
  const L: [number, number][] = [
    [0, 0],
    [60, 0],
    [60, 30],
    [30, 30],
    [30, 80],
    [0, 80],
  ]
  /** 60 by 30: 67.08; 30 by 80: 85.44. */
  const sizeMm = 170.88
  const whyOf = (lamp: unknown): string[] => {
    const read = readLamp(lamp)
    return read.ok ? [] : read.why
  }
  const { face: round, boardTypes, ...rest } = gannetHead()
  const faced = (face: Partial<Face>) => whyOf({ ...rest, boardTypes, face: { ...round, ...face } })
  const board = (corners: [number, number][]) =>
    whyOf({ ...rest, face: round, boardTypes: [{ ...boardTypes[0], outline: { shape: 'polygon', corners } }] })
  test('an L, either way round, and a rectangle are read; the axis may lie beside the face', () => {
    expect(faced({ shape: 'polygon', sizeMm, corners: L })).toEqual([])
    expect(faced({ shape: 'polygon', sizeMm, corners: L.toReversed() })).toEqual([])
    expect(faced({ shape: 'rectangle', sizeMm: 120, heightMm: 50 })).toEqual([])
    expect(board(L)).toEqual([])
  })
  test.each<[Partial<Face>, string]>([
    [{ shape: 'rectangle' }, 'face.heightMm: nothing stands here; a rectangle needs its size along y.'],
    [{ heightMm: 50 }, 'face.heightMm: only a rectangle has one; this face is "round".'],
    [{ shape: 'polygon' }, 'face.corners: nothing stands here; a polygon needs them.'],
    [{ shape: 'square', corners: L }, 'face.corners: only a polygon has them; this face is "square".'],
    [
      { shape: 'polygon', sizeMm: 200, corners: L },
      'face.sizeMm: 200 does not fit; expected 170.88, twice the distance of the farthest corner from the axis.',
    ],
    [
      { shape: 'polygon', sizeMm, corners: [...L, [30, -10], [0, 50]] },
      'face.corners: the edges [0] to [1] and [5] to [6] cross or touch.',
    ],
    [
      { shape: 'polygon', sizeMm, corners: [...L, [0, 79.995]] },
      'face.corners[6]: less than 0.01 mm from the corner before it, [5].',
    ],
    [
      {
        shape: 'polygon',
        sizeMm: 2,
        corners: [
          [0, 0],
          [1, 0],
          [0.5, 0.015],
        ],
      },
      'face.corners: encloses 0.0075 mm²; expected at least 0.01.',
    ],
    [
      { shape: 'polygon', corners: L.slice(0, 2) },
      'face.corners: a list of 2 does not fit; expected a list of at least 3.',
    ],
  ])('%j', (face, sentence) => expect(faced(face)).toEqual([sentence]))
  test('of a board', () => {
    const crossed: [number, number][] = [
      [0, 0],
      [40, 40],
      [40, 0],
      [0, 40],
    ]
    expect(board(crossed)).toEqual([
      'boardTypes[0].outline.corners: the edges [0] to [1] and [2] to [3] cross or touch.',
    ])
  })
  test('a sensor stands on the face itself', () => {
    const face = { ...round, shape: 'polygon', sizeMm, corners: L }
    const read = (xMm: number, yMm: number) => {
      const protection = { sensor: { xMm, yMm, lagS: 1 } }
      const power = { ...powerOf(gannetHead()).value, protection }
      return whyOf({ ...rest, boardTypes, face, power })
    }
    expect(read(50, 20)).toEqual([])
    expect(read(50, 50)).toEqual([
      'power.protection.sensor: 50, 50 mm does not lie on the face; expected a place within its corners.',
    ])
  })
})
