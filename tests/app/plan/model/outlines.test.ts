import { expect, test } from 'vitest'
import { withBoardCorners, withFaceCorners } from '../../../../src/app/common/faceEdits.ts'
import { outlineHandles } from '../../../../src/app/plan/model/corners.ts'
import { boardFrame, editedOutline, guidesOnPlan } from '../../../../src/app/plan/model/outlines.ts'
import { gannetHead } from '../../../../src/library/demos.ts'
import type { Corner } from '../../../../src/num/polygon.ts'

const plate: Corner[] = [
  [20, -15],
  [20, 15],
  [-20, 15],
  [-20, -15],
]
const demo = gannetHead()
const [type] = demo.boardTypes
const lamp = withBoardCorners(demo, type!.id, plate)

test('of one selected board its type’s own outline is edited; of several, of none, or of a plain board the face’s', () => {
  expect(editedOutline(lamp, ['B2'])).toMatchObject({ typeId: type!.id, boardId: 'B2', corners: plate })
  const face = withFaceCorners(lamp, plate)
  for (const boards of [[], ['B1', 'B2'], ['gone']])
    expect(editedOutline(face, boards)).toMatchObject({ typeId: null, corners: plate })
  expect(editedOutline(demo, ['B2'])).toMatchObject({ typeId: null, corners: [] })
})

test('a corner lies where the turned board has it, and a tilted board shortens it by the cosine', () => {
  // Turned by a quarter: the board's x is the plan's y. Rotation matrix, textbook.
  const turned = boardFrame({ xMm: 5, yMm: 7, turnDeg: 90 })
  expect(turned.toPlan([20, 0])[1]).toBeCloseTo(27, 9)
  expect(turned.fromPlan([5, 27])).toEqual([20, 0])
  // Tilted by 60° about x: y is seen at cos 60° = 1/2.
  const tilted = boardFrame({ xMm: 5, yMm: 7, turnDeg: 0, wedge: { tiltDeg: 60, axisDeg: 0 } })
  expect(tilted.toPlan([0, 10])[1]).toBeCloseTo(12, 9)
  for (const frame of [
    turned,
    tilted,
    boardFrame({ xMm: -3, yMm: 2, turnDeg: 33, wedge: { tiltDeg: -40, axisDeg: 71 } }),
  ])
    for (const corner of plate) expect(frame.fromPlan(frame.toPlan(corner))).toEqual(corner)
})

test('a guide along the board’s own x is drawn along the board as it is turned', () => {
  const frame = boardFrame({ xMm: 0, yMm: 0, turnDeg: 30 })
  const row = { kind: 'line', nx: 0, ny: 1, at: 4, rank: 1, why: 'in a row with corner 2', from: null } as const
  const [guide] = guidesOnPlan(frame, [row], frame.toPlan([9, 4]))
  // The normal of a line at 30° stands at 120°.
  expect(guide).toMatchObject({ why: row.why, kind: 'line' })
  if (guide?.kind !== 'line') throw new Error('a line')
  expect([guide.nx, guide.ny, guide.at].map((v) => Number(v.toFixed(6)))).toEqual([-0.5, 0.866025, 4])
})

test('a small board’s corners leave room to take hold of it; the selected corner is always there', () => {
  const outline = editedOutline(lamp, ['B2'])
  expect(outlineHandles(outline, 0.5, null)).toEqual([])
  expect(outlineHandles(outline, 0.5, 1)).toMatchObject([{ on: 'corner', index: 1 }])
  expect(outlineHandles(outline, 4, null)).toHaveLength(8)
  const { xMm, yMm } = lamp.boards.find((b) => b.id === 'B2')!
  const handles = outlineHandles(outline, 4, null)
  const mean = (of: 'xMm' | 'yMm') => handles.reduce((sum, h) => sum + h[of] / 8, 0)
  expect(mean('xMm')).toBeCloseTo(xMm, 3)
  expect(mean('yMm')).toBeCloseTo(yMm, 3)
})
