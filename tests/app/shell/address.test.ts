import { beforeEach, expect, test } from 'vitest'
import { type AddressWindow, followAddress, hashOf, parseShown } from '../../../src/app/shell/address.ts'
import { danger } from '../../../src/app/store/danger.ts'
import { handbook, openHandbook } from '../../../src/app/store/handbook.ts'
import { view } from '../../../src/app/store/stores.ts'
import { workshop } from '../../../src/app/store/workshop.ts'
import { settle } from '../../kit/storagePage.ts'

/** A window's address and its history, as in a browser. */
function fakeWindow(hash = '') {
  const entries = [`/?engine=cpu${hash}`]
  let at = 0
  const events = new EventTarget()
  const url = () => new URL(entries[at]!, 'http://x')
  const location = {
    get hash() {
      return url().hash
    },
    get pathname() {
      return url().pathname
    },
    get search() {
      return url().search
    },
  }
  const history = {
    pushState: (_: unknown, __: string, to: string) => void entries.splice(++at, entries.length, to),
    replaceState: (_: unknown, __: string, to: string) => void entries.splice(at, 1, to),
  }
  const go = (by: number) => {
    at += by
    events.dispatchEvent(new Event('popstate'))
  }
  const page = { location, history, addEventListener: events.addEventListener.bind(events) } as unknown as AddressWindow
  return { page, go, entries }
}

beforeEach(() => {
  view.setState({ view: 'section' })
  danger.setState({ open: false, pane: 'front' })
  workshop.setState({ open: false, pane: 'drawings' })
  handbook.setState({ open: false, page: '01-first-lamp' })
})

test('what is shown, as an address and back', () => {
  for (const hash of [
    '',
    '#view=plan',
    '#panel=power&pane=list',
    '#view=night&panel=dangers&pane=sun',
    '#panel=handbook&pane=12-measuring',
  ])
    expect(hashOf(parseShown(hash))).toBe(hash)
  expect(hashOf(parseShown('#view=nowhere&panel=dangers&pane=none&x=1'))).toBe('#panel=dangers')
  expect(hashOf(parseShown('#lamp=1.abc'))).toBe('')
})

test('views and panels are steps, panes are not; the options before the # stay; back and forward', async () => {
  const { page, go, entries } = fakeWindow()
  followAddress(page)
  view.setState({ view: 'plan' })
  await settle()
  danger.setState({ open: true })
  await settle()
  danger.setState({ pane: 'heat' })
  await settle()
  expect(entries).toEqual(['/?engine=cpu', '/?engine=cpu#view=plan', '/?engine=cpu#view=plan&panel=dangers&pane=heat'])
  go(-1)
  await settle()
  expect([view.getState().view, danger.getState().open]).toEqual(['plan', false])
  go(-1)
  await settle()
  expect(view.getState().view).toBe('section')
  go(2)
  await settle()
  expect([view.getState().view, danger.getState().open, danger.getState().pane]).toEqual(['plan', true, 'heat'])
  expect(entries).toHaveLength(3)
})

test('a page of the handbook, and away from it', async () => {
  const { page, go, entries } = fakeWindow()
  followAddress(page)
  openHandbook('12-measuring')
  await settle()
  expect(entries.at(-1)).toBe('/?engine=cpu#panel=handbook&pane=12-measuring')
  go(-1)
  expect(handbook.getState().open).toBe(false)
  go(1)
  expect(handbook.getState()).toEqual({ open: true, page: '12-measuring' })
})

test('one panel in place of another is one step', async () => {
  const { page, entries } = fakeWindow('#panel=dangers')
  followAddress(page)
  expect(danger.getState().open).toBe(true)
  danger.setState({ open: false })
  workshop.setState({ open: true, pane: 'parts' })
  await settle()
  expect(entries).toEqual(['/?engine=cpu#panel=dangers', '/?engine=cpu#panel=workshop&pane=parts'])
})
