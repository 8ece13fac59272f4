// How this browser shows the page: theme, size of text, and which columns where there is no room for all. Kept in the browser, in no lamp.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'

export const THEME_CHOICES = ['system', 'dark', 'light'] as const
export type ThemeChoice = (typeof THEME_CHOICES)[number]
export type Theme = 'dark' | 'light'
/** Per cent of the browser's own size. */
export const TEXT_SIZES = ['90', '100', '115', '130', '150'] as const
export type TextSize = (typeof TEXT_SIZES)[number]
export type Column = 'parts' | 'view' | 'sheet'

export interface DisplayState {
  choice: ThemeChoice
  /** What is shown: the choice, or what the system prefers. */
  theme: Theme
  text: TextSize
  /** Of the columns that don't fit side by side the one that is shown. */
  column: Column
}

/** What local storage is used for; a browser may refuse it. */
type Stored = Pick<Storage, 'getItem' | 'setItem'>

const KEY = 'lampwright-display'
const LIGHT = '(prefers-color-scheme: light)'

/** The stored choice; what isn't one of the choices counts as none. */
export function readDisplay(stored: Stored | null): Pick<DisplayState, 'choice' | 'text'> {
  const none = { choice: 'system', text: '100' } as const
  try {
    const read: unknown = JSON.parse(stored?.getItem(KEY) ?? '{}')
    const of = (key: string) => (read && typeof read === 'object' && key in read ? Reflect.get(read, key) : undefined)
    return {
      choice: THEME_CHOICES.find((c) => c === of('choice')) ?? none.choice,
      text: TEXT_SIZES.find((t) => t === of('text')) ?? none.text,
    }
  } catch {
    return none
  }
}

/** The store. Each change of theme or text size is kept. */
export function createDisplay(stored: Stored | null, prefersLight: boolean) {
  const { choice, text } = readDisplay(stored)
  let systemIsLight = prefersLight
  const themeOf = (c: ThemeChoice): Theme => (c === 'system' ? (systemIsLight ? 'light' : 'dark') : c)
  const store = createStore<DisplayState>()(() => ({ choice, text, theme: themeOf(choice), column: 'sheet' }))
  const keep = () => {
    const { choice, text } = store.getState()
    try {
      stored?.setItem(KEY, JSON.stringify({ choice, text }))
    } catch {
      // A full or forbidden storage: the choice holds until the page is closed.
    }
  }
  return {
    store,
    setTheme(choice: ThemeChoice) {
      store.setState({ choice, theme: themeOf(choice) })
      keep()
    },
    setText(text: TextSize) {
      store.setState({ text })
      keep()
    },
    showColumn: (column: Column) => store.setState({ column }),
    setSystem(isLight: boolean) {
      systemIsLight = isLight
      store.setState(({ choice }) => ({ theme: themeOf(choice) }))
    },
  }
}

function browserStorage(): Stored | null {
  try {
    return typeof localStorage === 'undefined' ? null : localStorage
  } catch {
    return null
  }
}

const media = (query: string): MediaQueryList | null => (typeof matchMedia === 'undefined' ? null : matchMedia(query))

export const display = createDisplay(browserStorage(), media(LIGHT)?.matches ?? false)
export const useDisplay = <T>(pick: (s: DisplayState) => T): T => useStore(display.store, pick)

/** Marks the page's root with theme and text size, by which the styles go, now and at each change. */
export function showDisplay(root: HTMLElement): void {
  const mark = ({ theme, text }: DisplayState) => {
    root.dataset['theme'] = theme
    root.dataset['text'] = text
  }
  mark(display.store.getState())
  display.store.subscribe(mark)
  media(LIGHT)?.addEventListener('change', ({ matches }) => display.setSystem(matches))
}

/** Media queries that the theme's colours depend on. */
const COLOURS_BY = ['(prefers-contrast: more)', '(forced-colors: active)']

/** Calls back when colours or the size of text have changed, for what is drawn on canvases. Returns what ends that. */
export function followDisplay(changed: () => void): () => void {
  const queries = COLOURS_BY.map((query) => media(query))
  for (const q of queries) q?.addEventListener('change', changed)
  const off = display.store.subscribe((now, was) => {
    if (now.theme !== was.theme || now.text !== was.text) changed()
  })
  return () => {
    for (const q of queries) q?.removeEventListener('change', changed)
    off()
  }
}
