import { beforeEach, expect, test } from 'vitest'
import { withBoardCorners } from '../../../src/app/common/faceEdits.ts'
import { choose, findPlanAction } from '../../../src/app/plan/actions.ts'
import { chosenCorner, nudgeCorner } from '../../../src/app/plan/cornerActions.ts'
import { closeOutline, drawnNow, placeCorner } from '../../../src/app/plan/drawActions.ts'
import { faultsLine } from '../../../src/app/plan/model/faults.ts'
import { createDesign } from '../../../src/app/store/design.ts'
import { plan } from '../../../src/app/store/plan.ts'
import { createView } from '../../../src/app/store/view.ts'
import { findLayoutFaults } from '../../../src/layout/clearance.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import type { Corner } from '../../../src/num/polygon.ts'

const start = plan.getInitialState()
beforeEach(() => plan.setState(start, true))

const demo = gannetHead()
const typeId = demo.boardTypes[0]!.id
const plate: Corner[] = [
  [22, -22],
  [22, 22],
  [-22, 22],
  [-22, -22],
]
function pageWith(lamp = withBoardCorners(demo, typeId, plate)) {
  const page = { design: createDesign(lamp), view: createView() }
  page.view.setState({ view: 'plan' })
  return page
}
type TestPage = ReturnType<typeof pageWith>
const run = (page: TestPage, id: string) => {
  const action = findPlanAction(id)
  expect(action.when(page)).toBe(true)
  action.run(page)
}
function corners(page: TestPage) {
  const { outline } = page.design.lamp().boardTypes[0]!
  return outline.shape === 'polygon' ? outline.corners : null
}

test('the corners of a selected board are walked, nudged, added and deleted by keys, and the board stays selected', () => {
  const page = pageWith()
  choose(page, ['B2'])
  run(page, 'corner-next')
  expect(page.view.getState().boards).toEqual(['B2'])
  expect(plan.getState().announcement).toMatch(/^Board corner 1 of 4, x 22 mm, y −22 mm; all \d+ such boards follow\.$/)
  run(page, 'nudge-right-1')
  expect(corners(page)?.[0]).toEqual([23, -22])
  page.design.undo()
  expect(corners(page)).toEqual(plate)
  expect(page.design.canUndo()).toBe(false)
  run(page, 'corner-next')
  run(page, 'corner-add')
  expect(corners(page)).toHaveLength(5)
  run(page, 'delete')
  expect(corners(page)).toEqual(plate)
  expect(page.design.lamp().boards).toEqual(demo.boards)
  run(page, 'corner-next')
  run(page, 'none')
  expect([page.view.getState().boards, chosenCorner(page)]).toEqual([['B2'], null])
  run(page, 'none')
  expect(page.view.getState().boards).toEqual([])
})

test('a corner moved past an emitter leaves it beside its board, on every board of the type; crossing edges are refused', () => {
  const page = pageWith()
  choose(page, ['B2'])
  run(page, 'corner-next')
  expect(findLayoutFaults(page.design.lamp()).filter((f) => f.kind === 'emitterOff')).toEqual([])
  nudgeCorner(page, 0, -40, 40)
  const off = findLayoutFaults(page.design.lamp()).filter((f) => f.kind === 'emitterOff')
  const { sites } = demo.boardTypes[0]!
  // (−18, 18) pulls the edges over what lies right of and below the diagonal; half planes by the sign of x + y's normal, by hand.
  const outside = sites.filter(({ xMm, yMm }) => xMm > -18 && yMm < 18 && isCut(xMm, yMm)).length
  expect(outside).toBeGreaterThan(0)
  expect(off).toHaveLength(outside * demo.boards.length)
  expect(faultsLine(off)).toBe(`${off.length} emitters beside their boards`)
  nudgeCorner(page, 0, -20, 0)
  expect(plan.getState().refused).toMatch(/cross or touch/)
})
/** Beyond the edges from (−22, −22) to (−18, 18) and from there to (22, 22). */
const isCut = (x: number, y: number) => 4 * (y + 22) - 40 * (x + 22) < 0 && 40 * (y - 18) - 4 * (x + 18) < 0

test('an outline is drawn anew on a turned board, corner by corner, and closed by the first one again: one step', () => {
  const turned = { ...demo, boards: demo.boards.map((b) => (b.id === 'B2' ? { ...b, turnDeg: 90 } : b)) }
  const page = pageWith(turned)
  choose(page, ['B2'])
  run(page, 'outline')
  for (const c of plate.slice(0, 3)) placeCorner(page, c)
  const b2 = turned.boards.find((b) => b.id === 'B2')!
  // A quarter turn takes (22, −22) to (22, 22).
  expect(drawnNow(page)?.corners[0]?.map((v) => Math.round(v))).toEqual([b2.xMm + 22, b2.yMm + 22].map(Math.round))
  placeCorner(page, [-30, 0])
  expect(plan.getState().drawn?.corners).toHaveLength(4)
  run(page, 'delete')
  placeCorner(page, plate[0]!)
  expect(corners(page)).toEqual(plate.slice(0, 3))
  expect(plan.getState()).toMatchObject({ tool: 'pick', drawn: null })
  page.design.undo()
  expect(page.design.lamp()).toEqual(turned)
})

test('edges that cross, and too few corners, are refused while drawing; Escape leaves the face as it was', () => {
  const page = pageWith(demo)
  run(page, 'outline')
  for (const c of [
    [0, 0],
    [100, 0],
    [100, 100],
  ] as const)
    placeCorner(page, c)
  placeCorner(page, [50, -50])
  expect(plan.getState().refused).toBe('That edge would cross the one from corner 1 to corner 2.')
  expect(plan.getState().drawn?.corners).toHaveLength(3)
  run(page, 'delete')
  closeOutline(page)
  expect(plan.getState().refused).toMatch(/at least 3 corners/)
  run(page, 'none')
  expect(page.design.lamp()).toBe(demo)
})

test('by keys alone: arrows move the next corner’s place; the face takes the shape that was drawn', () => {
  const page = pageWith(demo)
  run(page, 'outline')
  run(page, 'nudge-right-10')
  expect(plan.getState().announcement).toBe('Next corner at x 10 mm, y 0 mm. Enter places it.')
  for (const c of [
    [-100, -100],
    [100, -100],
    [0, 120],
  ] as const)
    placeCorner(page, c)
  placeCorner(page, [0, 120])
  expect(page.design.lamp().face).toMatchObject({
    shape: 'polygon',
    corners: [
      [-100, -100],
      [100, -100],
      [0, 120],
    ],
  })
  expect(page.design.steps().past).toHaveLength(1)
})
