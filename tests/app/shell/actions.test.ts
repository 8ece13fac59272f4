import { expect, test, vi } from 'vitest'
import type { Page } from '../../../src/app/actions/action.ts'
import { chordOf, chordText, findAction, type KeyPress } from '../../../src/app/actions/keys.ts'
import { planActions } from '../../../src/app/plan/actions.ts'
import { ACTIONS } from '../../../src/app/shell/actions.ts'
import { keyRows } from '../../../src/app/shell/keyRows.ts'
import { pageActions } from '../../../src/app/shell/pageActions.ts'
import { createDesign } from '../../../src/app/store/design.ts'
import { createResult } from '../../../src/app/store/result.ts'
import { createView } from '../../../src/app/store/view.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { inSystem } from '../../../src/num/quantity.ts'

const makePage = () => ({
  design: createDesign(gannetHead()),
  view: createView(),
  result: createResult(),
  files: { open: vi.fn(), save: vi.fn() },
  trace: { pause: vi.fn(), resume: vi.fn() },
  help: vi.fn(),
  search: vi.fn(),
})
const press = (key: string, more: Partial<KeyPress> = {}): KeyPress => ({
  key,
  ctrlKey: false,
  metaKey: false,
  shiftKey: false,
  altKey: false,
  ...more,
})
const plain = { typing: false, draft: false, overlayOpen: false }
const find = (p: KeyPress, ground = plain, page: Page = makePage()) =>
  findAction(p, ground, pageActions, page)?.id ?? null

test('ids, labels and keys of all actions are unique', () => {
  const unique = (values: readonly string[]) => expect(values.filter((v, i) => values.indexOf(v) !== i)).toEqual([])
  unique(ACTIONS.map((a) => a.id))
  unique(ACTIONS.map((a) => `${a.group}: ${a.label}`))
  unique(ACTIONS.flatMap((a) => a.keys))
})

test.each(ACTIONS.map((action) => [action.id, action] as const))(
  '%s: id, label and keys are well formed',
  (_, action) => {
    expect(action.id).toMatch(/^[a-z][\w.-]*$/)
    expect(action.label).toMatch(/^\S.*[^.\s]$/)
    for (const chord of action.keys) expect(chord).toMatch(/^(mod\+)?(shift\+)?(alt\+)?([a-z]+\d*|[^\sA-Z])$/)
  },
)

test('a press is written the same on every keyboard', () => {
  expect(chordOf(press('Z', { ctrlKey: true, shiftKey: true }))).toBe('mod+shift+z')
  expect(chordOf(press('z', { metaKey: true }))).toBe('mod+z')
  expect(chordOf(press('?', { shiftKey: true }))).toBe('?')
  expect(chordOf(press('ArrowUp', { shiftKey: true }))).toBe('shift+arrowup')
  expect(chordOf(press(' '))).toBe('space')
})

test('what a text field does with its keys is the field’s: all of it, copy, paste, word by word', () => {
  const page = makePage()
  page.view.setState({ view: 'plan', boards: ['B1'] })
  const typing = { ...plain, typing: true }
  const found = (key: string, ground = plain) =>
    findAction(press(key, { ctrlKey: true }), ground, planActions, page)?.id
  expect(['a', 'c', 'ArrowLeft'].map((key) => found(key))).toEqual(['plan-all', 'plan-clip', 'plan-pan-left'])
  expect(['a', 'c', 'v', 'x', 'ArrowLeft', 'Backspace'].map((key) => found(key, typing) ?? null)).toEqual(
    new Array(6).fill(null),
  )
  expect(find(press('s', { ctrlKey: true }), typing, page)).toBe('save')
})

test('undo and redo', () => {
  const page = makePage()
  expect(find(press('z', { ctrlKey: true }), plain, page)).toBeNull() // nothing to undo
  page.design.edit('Name', (lamp) => ({ ...lamp, name: 'x' }))
  findAction(press('z', { ctrlKey: true }), plain, pageActions, page)!.run(page)
  expect(page.design.lamp().name).toBe('Gannet Head')
  findAction(press('y', { ctrlKey: true }), plain, pageActions, page)!.run(page)
  expect(page.design.lamp().name).toBe('x')
  page.design.beginDrag('Drag')
  expect(find(press('z', { ctrlKey: true }), plain, page)).toBeNull() // not in the middle of a drag
})

test('views, files, pause, keys', () => {
  const page = makePage()
  for (const [key, view] of [
    ['1', 'plan'],
    ['2', 'section'],
    ['3', 'solid'],
    ['4', 'night'],
  ] as const) {
    findAction(press(key), plain, pageActions, page)!.run(page)
    expect(page.view.getState().view).toBe(view)
  }
  findAction(press('s', { metaKey: true }), plain, pageActions, page)!.run(page)
  expect(page.files.save).toHaveBeenCalledOnce()
  findAction(press('o', { ctrlKey: true }), plain, pageActions, page)!.run(page)
  expect(page.files.open).toHaveBeenCalledOnce()
  findAction(press('p'), plain, pageActions, page)!.run(page)
  expect(page.trace.pause).toHaveBeenCalledOnce()
  page.result.setState({ trace: 'paused' })
  findAction(press('p'), plain, pageActions, page)!.run(page)
  expect(page.trace.resume).toHaveBeenCalledOnce()
  findAction(press('?', { shiftKey: true }), plain, pageActions, page)!.run(page)
  expect(page.help).toHaveBeenCalledOnce()
  findAction(press('k', { ctrlKey: true }), plain, pageActions, page)!.run(page)
  expect(page.search).toHaveBeenCalledOnce()
})

test('what is being typed keeps its keys', () => {
  const page = makePage()
  page.design.edit('Name', (lamp) => ({ ...lamp, name: 'x' }))
  const typing = { typing: true, draft: false, overlayOpen: false }
  expect(find(press('1'), typing, page)).toBeNull()
  expect(find(press('z', { ctrlKey: true }), typing, page)).toBe('undo')
  expect(find(press('z', { ctrlKey: true }), { ...typing, draft: true }, page)).toBeNull()
  expect(find(press('s', { ctrlKey: true }), { ...typing, draft: true }, page)).toBe('save')
  expect(find(press('s', { ctrlKey: true }), { ...typing, overlayOpen: true }, page)).toBeNull()
})

test('keys are shown as a person reads them', () => {
  expect(chordText('mod+shift+z', false)).toBe('Ctrl + Shift + Z')
  expect(chordText('mod+z', true)).toBe('⌘ Z')
  expect(chordText('shift+arrowup', false)).toBe('Shift + ↑')
  expect(chordText('+', false)).toBe('+')
})

test('every key stands on the key sheet once; what is done four ways has one line', () => {
  const groups = [...new Set(ACTIONS.map((a) => a.group))]
  const shown = groups.flatMap((g) => keyRows(ACTIONS, g).flatMap(([, keys]) => keys))
  expect(shown.sort()).toEqual(ACTIONS.flatMap((a) => [...a.keys]).sort())
  expect(keyRows(ACTIONS, 'Plan').find(([what]) => inSystem(what, 'inch') === 'Nudge by 0.05 in')?.[1]).toHaveLength(4)
})
