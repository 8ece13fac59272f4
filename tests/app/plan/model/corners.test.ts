import { describe, expect, test } from 'vitest'
import { withFaceCorners } from '../../../../src/app/common/faceEdits.ts'
import {
  cornerHandles,
  cornerText,
  handleAt,
  movedCorner,
  shiftedCorner,
  snapCorner,
  withMiddle,
  withoutCorner,
} from '../../../../src/app/plan/model/corners.ts'
import { editedOutline } from '../../../../src/app/plan/model/outlines.ts'
import { gannetHead } from '../../../../src/library/demos.ts'
import type { Corner } from '../../../../src/num/polygon.ts'

const square: Corner[] = [
  [50, -50],
  [50, 50],
  [-50, 50],
  [-50, -50],
]
const options = { reachMm: 4, gridMm: 1, neighbours: true }

describe('handles of an outline', () => {
  test('each corner, and the middle of each edge, the last one back to the first', () => {
    const handles = cornerHandles(square, 2, null)
    expect(handles.filter((h) => h.on === 'corner').map((h) => [h.xMm, h.yMm])).toEqual(square)
    expect(handles.filter((h) => h.on === 'edge').map((h) => [h.xMm, h.yMm])).toEqual([
      [50, 0],
      [0, 50],
      [-50, 0],
      [0, -50],
    ])
  })

  test('the nearest within reach is the one pressed, and nothing beyond it', () => {
    const handles = cornerHandles(square, 2, null)
    expect(handleAt(handles, 48, 49, 5)).toMatchObject({ on: 'corner', index: 1 })
    expect(handleAt(handles, 2, -49, 5)).toMatchObject({ on: 'edge', index: 3 })
    expect(handleAt(handles, 50, 25, 5)).toBeNull()
    expect(handleAt(handles, 50, 20, 24)).toMatchObject({ on: 'edge', index: 0 })
    // 25 mm of 100: between them lies what the outline is of.
    expect(handleAt(handles, 24, 0, 60)).toBeNull()
    expect(handleAt(handles.slice(-1), 0, 0, 80)).toMatchObject({ index: 3 })
  })

  test('corners that lie close on the screen are no handles until they are looked at closer, but the selected one is', () => {
    const round = Array.from({ length: 360 }, (_, i): Corner => {
      const at = (i * Math.PI) / 180
      return [100 * Math.cos(at), 100 * Math.sin(at)]
    })
    expect(cornerHandles(round, 2, null)).toEqual([])
    expect(cornerHandles(round, 2, 7)).toMatchObject([{ on: 'corner', index: 7 }])
    expect(cornerHandles(round, 20, null).filter((h) => h.on === 'corner')).toHaveLength(360)
  })
})

describe('a corner', () => {
  test('moves alone, to a place or by a distance', () => {
    expect(shiftedCorner(square, 3, -1, 2)).toEqual([...square.slice(0, 3), [-51, -48]])
    expect(movedCorner(square, 1, 60.00001, 40)).toEqual([square[0], [60, 40], square[2], square[3]])
  })

  test('is added in the middle of its edge, of the last edge too, and taken out again', () => {
    expect(withMiddle(square, 1)[2]).toEqual([0, 50])
    expect(withMiddle(square, 3)[4]).toEqual([0, -50])
    expect(withoutCorner(withMiddle(square, 1), 2)).toEqual(square)
  })

  test('snaps to another corner’s x and y, each with its reason, before the grid', () => {
    const odd: Corner[] = [
      [50.3, -50],
      [0, 10],
      [-50, 49.6],
      [-60, -70],
    ]
    const at = snapCorner(odd, 1, 48.9, 51.2, options)
    expect([at.xMm, at.yMm]).toEqual([50.3, 49.6])
    expect(at.constraints.map((c) => c.why).sort()).toEqual(['in a column with corner 1', 'in a row with corner 3'])
  })

  test('snaps to the grid along y while another corner holds its x; to the grid alone where no corner is near', () => {
    const column = snapCorner(square, 1, 48.2, 20.4, options)
    expect([column.xMm, column.yMm]).toEqual([50, 20])
    const free = snapCorner(square, 1, 20.4, 30.6, options)
    expect([free.xMm, free.yMm, free.constraints]).toEqual([20, 31, []])
  })

  test('does not snap to its own old place', () => {
    const at = snapCorner(square, 1, 51.3, 20.2, { ...options, gridMm: null, reachMm: 0.5 })
    expect([at.xMm, at.yMm]).toEqual([51.3, 20.2])
    const alone: Corner[] = [
      [0, 0],
      [30, 40],
      [90, 10],
    ]
    expect(snapCorner(alone, 1, 31.2, 41.2, { ...options, gridMm: null }).constraints).toEqual([])
  })

  test('is announced by its number and place', () => {
    const lamp = withFaceCorners(gannetHead(), square)
    const text = (index: number) => cornerText(lamp, editedOutline(lamp, []), index, 'metric')
    expect(text(2)).toBe('Corner 3 of 4, x −50 mm, y 50 mm')
    expect(text(4)).toBe('')
  })
})
