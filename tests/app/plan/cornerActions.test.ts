import { beforeEach, expect, test } from 'vitest'
import { withFaceCorners } from '../../../src/app/common/faceEdits.ts'
import { choose, findPlanAction } from '../../../src/app/plan/actions.ts'
import { chosenCorner } from '../../../src/app/plan/cornerActions.ts'
import { createNudgeSession, moverOf } from '../../../src/app/plan/gestures/nudge.ts'
import { createDesign } from '../../../src/app/store/design.ts'
import { plan } from '../../../src/app/store/plan.ts'
import { createView } from '../../../src/app/store/view.ts'
import { readLamp } from '../../../src/lamp/read.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import type { Corner } from '../../../src/num/polygon.ts'

const start = plan.getInitialState()
beforeEach(() => plan.setState(start, true))

const square: Corner[] = [
  [110, -110],
  [110, 110],
  [-110, 110],
  [-110, -110],
]
function pageWith(corners: Corner[]) {
  const page = { design: createDesign(withFaceCorners(gannetHead(), corners)), view: createView() }
  page.view.setState({ view: 'plan' })
  return page
}
type TestPage = ReturnType<typeof pageWith>
const run = (page: TestPage, id: string) => {
  const action = findPlanAction(id)
  expect(action.when(page)).toBe(true)
  action.run(page)
}
const corners = (page: TestPage) => page.design.lamp().face.corners

test('corners are walked in words, and a corner is selected instead of boards', () => {
  const page = pageWith(square)
  choose(page, ['B1'])
  run(page, 'corner-next')
  expect(page.view.getState().boards).toEqual([])
  expect(plan.getState().announcement).toBe('Corner 1 of 4, x 110 mm, y −110 mm.')
  run(page, 'corner-previous')
  expect(chosenCorner(page)).toBe(3)
  choose(page, ['B1'])
  expect(chosenCorner(page)).toBeNull()
  run(page, 'corner-previous')
  expect(chosenCorner(page)).toBe(3)
})

test('a face without an outline of its own has no corners to select', () => {
  const page = { design: createDesign(gannetHead()), view: createView() }
  page.view.setState({ view: 'plan' })
  expect(findPlanAction('corner-next').when(page)).toBe(false)
})

test('arrows nudge the selected corner, and the size goes with it: one step each', () => {
  const page = pageWith(square)
  run(page, 'corner-next')
  run(page, 'nudge-right-10')
  expect(corners(page)?.[0]).toEqual([120, -110])
  expect(readLamp(page.design.lamp())).toMatchObject({ ok: true })
  page.design.undo()
  expect(corners(page)).toEqual(square)
  expect(page.design.canUndo()).toBe(false)
})

test('a corner is added after the selected one and deleted again; the fourth from last goes, the third stays', () => {
  const page = pageWith(square)
  run(page, 'corner-next')
  run(page, 'corner-add')
  expect(corners(page)).toHaveLength(5)
  expect(chosenCorner(page)).toBe(1)
  run(page, 'delete')
  expect(corners(page)).toEqual(square)
  expect(chosenCorner(page)).toBeNull()
  for (const left of [3, 3]) {
    run(page, 'corner-next')
    run(page, 'delete')
    expect(corners(page)).toHaveLength(left)
  }
  expect(plan.getState().refused).toMatch(/^Face, corners: .*3/)
})

test('held arrows stop where edges would cross, in the words of the schema; the whole way is one step', () => {
  const page = pageWith(square)
  run(page, 'corner-next')
  const nudge = createNudgeSession(page.design, () => moverOf(page))
  for (let i = 0; i < 30; i++) nudge.move(0, 10)
  nudge.commit()
  expect(corners(page)?.[0]).toEqual([110, 100])
  expect(plan.getState().refused).toMatch(/Face, corners.*corner before it|Face, corners.*cross or touch/)
  page.design.undo()
  expect(corners(page)).toEqual(square)
})
