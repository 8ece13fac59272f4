import { expect, test } from 'vitest'
import {
  aimOf,
  withAim,
  withEmitterAim,
  withHeight,
  withTilt,
  withTiltAxis,
} from '../../../src/app/common/boardSpace.ts'
import { emitterKey } from '../../../src/app/common/selection.ts'
import { readLamp } from '../../../src/lamp/read.ts'
import { gannetHead } from '../../../src/library/demos.ts'

const lamp = gannetHead()
const ids = lamp.boards.slice(0, 2).map((b) => b.id)

test('height and tilt of the chosen boards; nought leaves no entry behind', () => {
  const raised = withTiltAxis(withTilt(withHeight(lamp, ids, 5), ids, 10), ids, 45)
  expect(raised.boards[1]).toMatchObject({ heightMm: 5, wedge: { tiltDeg: 10, axisDeg: 45 } })
  expect(raised.boards[2]).toBe(lamp.boards[2])
  expect(readLamp(raised).ok).toBe(true)
  expect(withHeight(withTilt(raised, ids, 0), ids, 0)).toEqual(lamp)
  // A new tilt keeps its axis; an axis without a wedge is nothing.
  expect(withTilt(raised, ids, -3).boards[0]!.wedge).toEqual({ tiltDeg: -3, axisDeg: 45 })
  expect(withTiltAxis(lamp, ids, 45)).toBe(lamp)
})

test('aims of boards and of single emitters', () => {
  const aimed = withAim(lamp, ids, { xDeg: 3 })
  expect(aimed.boards[0]!.aim).toEqual({ xDeg: 3, yDeg: 0 })
  const key = emitterKey(ids[0]!, 2)
  const single = withEmitterAim(aimed, [key], { yDeg: 4 })
  expect(aimOf(single.boards[0]!, 2)).toEqual({ xDeg: 3, yDeg: 4 })
  expect(aimOf(single.boards[0]!, 1)).toEqual({ xDeg: 3, yDeg: 0 })
  expect(aimOf(lamp.boards[0]!, 1)).toBeNull()
  expect(readLamp(single).ok).toBe(true)
  expect(withEmitterAim(single, [key], null)).toEqual(aimed)
  // The board's own aim takes the single ones' place.
  expect(withAim(single, ids, { yDeg: 1 }).boards[0]).toEqual({ ...lamp.boards[0], aim: { xDeg: 3, yDeg: 1 } })
  expect(withAim(single, ids, null)).toEqual(lamp)
})
