// Shapes of the face and of boards turned into one another: each is a lamp that can be read.
import { expect, test } from 'vitest'
import { newOutline, withFaceShape } from '../../../src/app/parts/outlineEdits.ts'
import { lampFault } from '../../../src/app/store/tryEdit.ts'
import { faceAreaMm2 } from '../../../src/lamp/facePlate.ts'
import type { Face } from '../../../src/lamp/schema.ts'
import { gannetHead } from '../../../src/library/demos.ts'

const SHAPES: Face['shape'][] = ['round', 'square', 'hexagon', 'rectangle', 'polygon']

test.each(SHAPES.flatMap((from) => SHAPES.map((to) => [from, to] as const)))('a face, %s to %s', (from, to) => {
  const lamp = withFaceShape(withFaceShape(gannetHead(), from), to)
  expect(lampFault(lamp)).toBeNull()
  expect(lamp.face.shape).toBe(to)
  // Of about the same size: a square about a disc has 4/π of its area, the square about a hexagon’s corners more.
  const share = faceAreaMm2(lamp.face) / faceAreaMm2(withFaceShape(gannetHead(), from).face)
  expect(share).toBeGreaterThan(0.75)
  expect(share).toBeLessThan(1.6)
})

test('a hexagon by its corners keeps its area', () => {
  const hexagon = withFaceShape(gannetHead(), 'hexagon')
  expect(faceAreaMm2(withFaceShape(hexagon, 'polygon').face)).toBeCloseTo(faceAreaMm2(hexagon.face), 0)
})

test('outlines of boards: any shape into corners and back', () => {
  const corners = newOutline('polygon', { shape: 'rectangle', widthMm: 20, heightMm: 10 })
  expect(corners).toEqual({
    shape: 'polygon',
    corners: [
      [10, -5],
      [10, 5],
      [-10, 5],
      [-10, -5],
    ],
  })
  for (const shape of ['disc', 'hexagon', 'star'] as const) {
    const lamp = gannetHead()
    const outline = newOutline('polygon', newOutline(shape, corners))
    expect(lampFault({ ...lamp, boardTypes: [{ ...lamp.boardTypes[0]!, outline }] })).toBeNull()
  }
  expect(newOutline('rectangle', corners)).toEqual({ shape: 'rectangle', widthMm: 22.361, heightMm: 22.361 })
})
