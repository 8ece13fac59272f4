import { expect, test, vi } from 'vitest'
import type { Page } from '../../../src/app/actions/action.ts'
import { actFor, chordOf, chordText, type Press } from '../../../src/app/actions/keys.ts'
import { ACTS } from '../../../src/app/shell/actions.ts'
import { keyRows } from '../../../src/app/shell/keyRows.ts'
import { pageActs } from '../../../src/app/shell/pageActions.ts'
import { createDesign } from '../../../src/app/store/design.ts'
import { createResult } from '../../../src/app/store/result.ts'
import { createView } from '../../../src/app/store/view.ts'
import { gannetHead } from '../../../src/library/demos.ts'

const makePage = () => ({
  design: createDesign(gannetHead()),
  view: createView(),
  result: createResult(),
  files: { open: vi.fn(), save: vi.fn() },
  trace: { pause: vi.fn(), resume: vi.fn() },
  help: vi.fn(),
})
const press = (key: string, more: Partial<Press> = {}): Press => ({
  key,
  ctrlKey: false,
  metaKey: false,
  shiftKey: false,
  altKey: false,
  ...more,
})
const plain = { typing: false, draft: false, covered: false }
const find = (p: Press, ground = plain, page: Page = makePage()) => actFor(p, ground, pageActs, page)?.id ?? null

test('ids, labels and keys of all acts are unique', () => {
  const unique = (values: readonly string[]) => expect(values.filter((v, i) => values.indexOf(v) !== i)).toEqual([])
  unique(ACTS.map((a) => a.id))
  unique(ACTS.map((a) => `${a.group}: ${a.label}`))
  unique(ACTS.flatMap((a) => a.keys))
})

test.each(ACTS.map((act) => [act.id, act] as const))('%s: id, label and keys are well formed', (_, act) => {
  expect(act.id).toMatch(/^[a-z][\w.-]*$/)
  expect(act.label).toMatch(/^\S.*[^.\s]$/)
  for (const chord of act.keys) expect(chord).toMatch(/^(mod\+)?(shift\+)?(alt\+)?([a-z]+\d*|[^\sA-Z])$/)
})

test('a press is written the same on every keyboard', () => {
  expect(chordOf(press('Z', { ctrlKey: true, shiftKey: true }))).toBe('mod+shift+z')
  expect(chordOf(press('z', { metaKey: true }))).toBe('mod+z')
  expect(chordOf(press('?', { shiftKey: true }))).toBe('?')
  expect(chordOf(press('ArrowUp', { shiftKey: true }))).toBe('shift+arrowup')
  expect(chordOf(press(' '))).toBe('space')
})

test('undo and redo', () => {
  const page = makePage()
  expect(find(press('z', { ctrlKey: true }), plain, page)).toBeNull() // nothing to undo
  page.design.edit('Name', (lamp) => ({ ...lamp, name: 'x' }))
  actFor(press('z', { ctrlKey: true }), plain, pageActs, page)!.run(page)
  expect(page.design.lamp().name).toBe('Gannet Head')
  actFor(press('y', { ctrlKey: true }), plain, pageActs, page)!.run(page)
  expect(page.design.lamp().name).toBe('x')
  page.design.hold('Drag')
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
    actFor(press(key), plain, pageActs, page)!.run(page)
    expect(page.view.getState().view).toBe(view)
  }
  actFor(press('s', { metaKey: true }), plain, pageActs, page)!.run(page)
  expect(page.files.save).toHaveBeenCalledOnce()
  actFor(press('o', { ctrlKey: true }), plain, pageActs, page)!.run(page)
  expect(page.files.open).toHaveBeenCalledOnce()
  actFor(press('p'), plain, pageActs, page)!.run(page)
  expect(page.trace.pause).toHaveBeenCalledOnce()
  page.result.setState({ trace: 'paused' })
  actFor(press('p'), plain, pageActs, page)!.run(page)
  expect(page.trace.resume).toHaveBeenCalledOnce()
  actFor(press('?', { shiftKey: true }), plain, pageActs, page)!.run(page)
  expect(page.help).toHaveBeenCalledOnce()
})

test('what is being typed keeps its keys', () => {
  const page = makePage()
  page.design.edit('Name', (lamp) => ({ ...lamp, name: 'x' }))
  const typing = { typing: true, draft: false, covered: false }
  expect(find(press('1'), typing, page)).toBeNull()
  expect(find(press('z', { ctrlKey: true }), typing, page)).toBe('undo')
  expect(find(press('z', { ctrlKey: true }), { ...typing, draft: true }, page)).toBeNull()
  expect(find(press('s', { ctrlKey: true }), { ...typing, draft: true }, page)).toBe('save')
  expect(find(press('s', { ctrlKey: true }), { ...typing, covered: true }, page)).toBeNull()
})

test('keys are shown as a person reads them', () => {
  expect(chordText('mod+shift+z', false)).toBe('Ctrl + Shift + Z')
  expect(chordText('mod+z', true)).toBe('⌘ Z')
  expect(chordText('shift+arrowup', false)).toBe('Shift + ↑')
  expect(chordText('+', false)).toBe('+')
})

test('every key stands on the key sheet once; what is done four ways has one line', () => {
  const groups = [...new Set(ACTS.map((a) => a.group))]
  const shown = groups.flatMap((g) => keyRows(ACTS, g).flatMap(([, keys]) => keys))
  expect(shown.sort()).toEqual(ACTS.flatMap((a) => [...a.keys]).sort())
  expect(keyRows(ACTS, 'Plan').find(([what]) => what === 'Nudge by 1 mm')?.[1]).toHaveLength(4)
})
