import { expect, test } from 'vitest'
import { boardIdsOf, modesWithout, withGroupOn, withNewGroup } from '../../../src/app/common/groupEdits.ts'
import { livingSelection } from '../../../src/app/common/selection.ts'
import { groupMarks } from '../../../src/app/plan/model/groups.ts'
import { design, view } from '../../../src/app/store/stores.ts'
import { lampFault } from '../../../src/app/store/tryEdit.ts'
import { runPower } from '../../../src/job/power/run.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { gannetHead, iceRink } from '../../../src/library/demos.ts'
import { checkTable } from '../../../src/report/checkTable.ts'
import { groupBlocks, onWords } from '../../../src/report/wiringBlocks.ts'
import { namesInRows } from '../../../src/report/wiringTable.ts'

const grouped = (boards: string[], lamp: Lamp = gannetHead()): Lamp => {
  const made = withNewGroup(lamp, boards)
  if ('why' in made) throw new Error(made.why)
  return made.lamp
}

test('a group of the selected boards: driven as they were, a name of its own, and a lamp that can be read', () => {
  const lamp = grouped(['B2', 'B3'])
  expect(lampFault(lamp)).toBe(null)
  expect(lamp.power!.groups.map((g) => [g.id, g.name, g.driver])).toEqual([
    ['all', 'All boards', 'buck'],
    ['group 2', 'Group 2', 'buck'],
  ])
  expect([boardIdsOf(lamp, 'all').length, boardIdsOf(lamp, 'group 2')]).toEqual([17, ['B2', 'B3']])
  expect(withNewGroup(lamp, [])).toHaveProperty('why')
})

test('off in a mode, and on again without a trace; a group that goes takes its entries in modes along', () => {
  const { power } = grouped(['B2'])
  const off = withGroupOn(power!, 'low', 'group 2', false)
  expect(off.modes.map((m) => m.groupsOff)).toEqual(power!.modes.map((m) => (m.id === 'low' ? ['group 2'] : undefined)))
  expect(withGroupOn(off, 'low', 'group 2', true)).toEqual(power)
  expect(modesWithout(off.modes, 'group 2')).toEqual(power!.modes)
})

test('a mode that names no such group, or one twice, is refused in words', () => {
  const lamp = grouped(['B2'])
  const named = (groupsOff: string[]): Lamp => ({
    ...lamp,
    power: { ...lamp.power!, modes: [{ ...lamp.power!.modes[0]!, groupsOff }, ...lamp.power!.modes.slice(1)] },
  })
  expect(lampFault(named(['group 2']))).toBe(null)
  expect(lampFault(named(['x']))).toContain('no group called "x"')
  expect(lampFault(named(['group 2', 'group 2']))).toContain('stands twice')
})

test('on the plan each group has a colour and lines of its own; off in the mode that is traced', () => {
  const lamp = grouped(['B2', 'B3'])
  expect(groupMarks(gannetHead())).toEqual([])
  const marks = groupMarks({
    ...lamp,
    power: withGroupOn(lamp.power!, 'low', 'group 2', false),
    heat: { kind: 'mode', mode: 'low', seconds: 0 },
  })
  expect(marks.map((m) => [m.name, m.boards, m.tone, m.lines, m.isOff])).toEqual([
    ['All boards', 17, 0, 'plain', false],
    ['Group 2', 2, 1, 'rising', true],
  ])
})

test('a selection dies with its board: by an edit, by undo, by another lamp', () => {
  design.open(gannetHead())
  view.setState({ boards: ['B1', 'B2'], emitters: [] })
  design.edit('Delete', (lamp) => ({ ...lamp, boards: lamp.boards.filter((b) => b.id !== 'B2') }))
  expect(view.getState().boards).toEqual(['B1'])
  design.undo()
  expect(view.getState().boards).toEqual(['B1'])
  view.setState({ boards: [], emitters: ['B1:6', 'B19:0', 'B1:7'] })
  design.open({ ...gannetHead(), boards: gannetHead().boards.slice(0, 3) })
  expect(view.getState().emitters).toEqual(['B1:6'])
  const same = { boards: ['B1'], emitters: [] }
  expect(livingSelection(gannetHead(), same).boards).toBe(same.boards)
})

test('the diagram goes by group and mode: how many boards, not their names', () => {
  const lamp = grouped(['B2', 'B3', 'B4'])
  const power = withGroupOn(lamp.power!, 'low', 'group 2', false)
  const { wiring, groups } = runPower({ ...lamp, power }, { mode: '' })
  expect(groupBlocks(wiring, groups).map((b) => [b.name, b.rows.map((r) => r.boards), b.on])).toEqual([
    ['All boards', [16], 'in every mode'],
    ['Group 2', [3], expect.stringMatching(/^in (?!every)/)],
  ])
  const mode = (name: string, isLit: boolean) => ({ id: name, name, amps: 0, isLit })
  expect(onWords({ byMode: [mode('Low', false), mode('High', true)] })).toBe('in High')
  expect(onWords({ byMode: [mode('Low', false)] })).toBe('in no mode')
  // Without a relay the outer rows' drivers idle in the mode that gives them no current: that is not on.
  const rink = runPower(iceRink(), { mode: '' })
  expect(groupBlocks(rink.wiring, rink.groups).map((b) => [b.name, b.on])).toEqual([
    ['Outer rows', 'in Full'],
    ['Inner rows', 'in every mode'],
  ])
})

test('names in rows', () => {
  expect(namesInRows(['B1', 'B2', 'B3', 'B7', 'B8', 'C1'])).toBe('B1 to B3, B7, B8, C1')
  expect(namesInRows(['a', 'c', 'e', 'g', 'i', 'k', 'm', 'o'])).toBe('a, c, e, g, i and 3 more')
})

test('the power-up list as a table: every board in a row, every check in a column, what they ask once', () => {
  const { powerUp } = runPower(gannetHead(), { mode: '' })
  const { steps, rows, meanings } = checkTable(powerUp)
  expect(rows.map((r) => r.channel)).toEqual(Array.from({ length: 19 }, (_, i) => `B${i + 1}`))
  expect(steps.slice(0, 5)).toEqual(['continuity', 'polarity', 'fuse', 'set-point', 'low current'])
  expect(rows[3]!.items.map((i) => i?.key)).toEqual(steps.map((step) => `B4/${step}`))
  expect(rows[3]!.items.map((i) => i?.short).slice(0, 4)).toEqual(['', 'white', '3 A', '2 A'])
  expect(meanings[2]).toEqual({ step: 'fuse', sentences: [{ of: '', what: 'Its fuse is 3 A for 58 V.' }] })
  expect(powerUp.length).toBe(4 + steps.length * 19)
})
