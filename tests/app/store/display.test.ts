import { expect, test } from 'vitest'
import { createDisplay, readDisplay } from '../../../src/app/store/display.ts'

/** Local storage in memory. */
function storage(text?: string) {
  const rows = new Map(text === undefined ? [] : [['lampwright-display', text]])
  return {
    getItem: (key: string) => rows.get(key) ?? null,
    setItem: (key: string, to: string) => void rows.set(key, to),
  }
}

test('theme and size of text are kept: the next visit begins with them', () => {
  const stored = storage()
  const first = createDisplay(stored, false)
  expect(first.store.getState()).toMatchObject({ choice: 'system', theme: 'dark', text: '100' })
  first.setTheme('light')
  first.setText('130')
  expect(createDisplay(stored, false).store.getState()).toMatchObject({ choice: 'light', theme: 'light', text: '130' })
})

test('as the system: it follows the system, also later; a theme that was chosen stays', () => {
  const display = createDisplay(storage(), true)
  expect(display.store.getState().theme).toBe('light')
  display.setSystem(false)
  expect(display.store.getState().theme).toBe('dark')
  display.setTheme('light')
  display.setSystem(false)
  expect(display.store.getState().theme).toBe('light')
  display.setTheme('system')
  expect(display.store.getState().theme).toBe('dark')
})

test('what is no choice counts as none: another program’s text, another size, a storage that refuses', () => {
  const none = { choice: 'system', text: '100' }
  for (const text of ['{', 'null', '"dark"', '{"choice":"pink","text":"400"}', '{"text":130}'])
    expect(readDisplay(storage(text)), text).toEqual(none)
  const refusing = {
    getItem: () => {
      throw new Error('refused')
    },
    setItem: () => {
      throw new Error('refused')
    },
  }
  expect(readDisplay(refusing)).toEqual(none)
  const display = createDisplay(refusing, false)
  display.setText('90')
  expect(display.store.getState().text).toBe('90')
})
