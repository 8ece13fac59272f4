import { beforeEach, describe, expect, test } from 'vitest'
import { findPlanAction, planActions } from '../../../src/app/plan/actions.ts'
import { nudgeBy } from '../../../src/app/plan/nudges.ts'
import { pageActions } from '../../../src/app/shell/pageActions.ts'
import { createDesign } from '../../../src/app/store/design.ts'
import { plan } from '../../../src/app/store/plan.ts'
import { chooseUnitSystem } from '../../../src/app/store/unitSystem.ts'
import { createView } from '../../../src/app/store/view.ts'
import { readLamp } from '../../../src/lamp/read.ts'
import { findLayoutFaults } from '../../../src/layout/clearance.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { inSystem } from '../../../src/num/quantity.ts'

const start = plan.getInitialState()
beforeEach(() => plan.setState({ ...start, size: { widthPx: 600, heightPx: 400 } }, true))

function pageWith(boards: string[]) {
  const page = { design: createDesign(gannetHead()), view: createView() }
  page.view.setState({ view: 'plan', boards })
  return page
}
const some = ['B2', 'B3', 'B9']

test('ids, labels and keys are each unique, and none is a key of the page', () => {
  const ids = planActions.map((a) => a.id)
  const labels = planActions.map((a) => a.label)
  const keys = [...pageActions, ...planActions].flatMap((a) => a.keys)
  expect(new Set(ids).size).toBe(ids.length)
  expect(new Set(labels).size).toBe(labels.length)
  expect(keys.filter((k, i) => keys.indexOf(k) !== i)).toEqual([])
})

describe.each(planActions.map((a) => [a.label, a] as const))('%s', (_label, action) => {
  test('is no action of another view', () => {
    const page = pageWith(some)
    page.view.setState({ view: 'section' })
    expect(action.when(page)).toBe(false)
  })

  test('leaves a lamp that can be read; undo and redo bring back before and after; at most one step', () => {
    const page = pageWith(some)
    if (!action.when(page)) return
    const before = page.design.lamp()
    action.run(page)
    const after = page.design.lamp()
    expect(readLamp(after)).toMatchObject({ ok: true })
    if (after === before) {
      expect(page.design.canUndo()).toBe(false)
      return
    }
    page.design.undo()
    expect(page.design.lamp()).toBe(before)
    expect(page.design.canUndo()).toBe(false)
    page.design.redo()
    expect(page.design.lamp()).toBe(after)
  })
})

test('copied and pasted: as many boards more, selected, with names of their own, and on no other board where there is room', () => {
  const page = pageWith(['B1'])
  page.design.edit('Few', (lamp) => ({ ...lamp, boards: lamp.boards.slice(0, 7) }))
  findPlanAction('clip').run(page)
  page.view.setState({ boards: [] })
  findPlanAction('paste').run(page)
  expect(page.design.lamp().boards.map((b) => b.id)).toEqual(['B1', 'B2', 'B3', 'B4', 'B5', 'B6', 'B7', 'B8'])
  expect(page.view.getState().boards).toEqual(['B8'])
  expect(findLayoutFaults(page.design.lamp())).toEqual([])
  // Another lamp has no such optic and group: they are left out.
  plan.setState({ clipboard: [{ ...page.design.lamp().boards[0]!, optic: 'gone', group: 'gone' }] })
  findPlanAction('paste').run(page)
  expect(page.design.lamp().boards.at(-1)).not.toHaveProperty('optic')
  expect(page.design.lamp().boards.at(-1)).not.toHaveProperty('group')
})

test('nothing is edited by keys while a drag has the boards', () => {
  const page = pageWith(some)
  plan.setState({ dragging: true })
  expect(['delete', 'copy', 'centre', 'group'].map((id) => findPlanAction(id).when(page))).toEqual(
    new Array(4).fill(false),
  )
})

describe('by keys alone', () => {
  test('walk to a board, take its ring, and switch to emitters and back', () => {
    const page = pageWith([])
    findPlanAction('next').run(page)
    expect(page.view.getState().boards).toEqual(['B12'])
    findPlanAction('same-ring').run(page)
    expect(page.view.getState().boards).toHaveLength(6)
    findPlanAction('emitters').run(page)
    expect(page.view.getState()).toMatchObject({ boards: [] })
    expect(page.view.getState().emitters).toHaveLength(42)
    findPlanAction('emitters').run(page)
    expect(page.view.getState().boards).toHaveLength(6)
    expect(plan.getState().announcement).toMatch(/^6 boards are selected/)
  })

  test('the selection is announced after each', () => {
    const page = pageWith(['B2'])
    findPlanAction('nudge-right-10').run(page)
    expect(plan.getState().announcement).toContain('x 46 mm')
    findPlanAction('nudge-up-0.1').run(page)
    expect(plan.getState().announcement).toContain('y 0.1 mm')
  })

  test('in inches the arrows step as fields do: 0.05 in, tenfold and a tenth of it', () => {
    chooseUnitSystem('inch')
    const page = pageWith(['B2'])
    const [before] = page.design.lamp().boards.filter((b) => b.id === 'B2')
    findPlanAction('nudge-right-10').run(page)
    findPlanAction('nudge-up-0.1').run(page)
    const [after] = page.design.lamp().boards.filter((b) => b.id === 'B2')
    expect((after?.xMm ?? 0) - (before?.xMm ?? 0)).toBeCloseTo(0.5 * 25.4, 9)
    expect((after?.yMm ?? 0) - (before?.yMm ?? 0)).toBeCloseTo(0.005 * 25.4, 9)
    expect(nudgeBy('arrowleft')?.[0]).toBeCloseTo(-0.05 * 25.4, 9)
    chooseUnitSystem('metric')
    expect(nudgeBy('shift+arrowdown')).toEqual([0, -10])
    expect(nudgeBy('mod+arrowdown')).toBeNull()
    const { sharedLabel = '' } = findPlanAction('nudge-left-0.1')
    expect([inSystem(sharedLabel, 'metric'), inSystem(sharedLabel, 'inch')]).toEqual([
      'Nudge by 0.1 mm',
      'Nudge by 0.005 in',
    ])
  })

  test('a ring: evenly, at the mean radius', () => {
    const page = pageWith(['B2', 'B4', 'B6'])
    findPlanAction('ring').run(page)
    const on = page.design.lamp().boards.filter((b) => ['B2', 'B4', 'B6'].includes(b.id))
    for (const b of on) expect(Math.hypot(b.xMm, b.yMm)).toBeCloseTo(36, 3)
  })

  test('spread evenly on a line: the selected ones only, one step of history', () => {
    const page = pageWith(['B2', 'B4', 'B6'])
    const before = page.design.lamp()
    findPlanAction('line').run(page)
    const place = (id: string) => page.design.lamp().boards.find((b) => b.id === id)!
    expect(page.design.lamp().boards.filter((b, i) => b !== before.boards[i]).length).toBeLessThanOrEqual(3)
    const [a, b, c] = ['B2', 'B4', 'B6'].map(place)
    const area = (b!.xMm - a!.xMm) * (c!.yMm - a!.yMm) - (c!.xMm - a!.xMm) * (b!.yMm - a!.yMm)
    expect(area).toBeCloseTo(0, 1)
    page.design.undo()
    expect(page.design.lamp().boards).toEqual(before.boards)
  })

  test('Escape steps back: from placing, from the selection, from single emitters', () => {
    const page = pageWith([])
    findPlanAction('place').run(page)
    expect(plan.getState()).toMatchObject({ tool: 'place' })
    findPlanAction('none').run(page)
    expect(plan.getState()).toMatchObject({ tool: 'pick', aim: null })
    findPlanAction('emitters').run(page)
    findPlanAction('next').run(page)
    findPlanAction('none').run(page)
    expect(page.view.getState().emitters).toEqual([])
    findPlanAction('none').run(page)
    expect(plan.getState().pickMode).toBe('boards')
  })
})
