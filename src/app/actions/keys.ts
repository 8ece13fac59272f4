// Finds the action for a key press.
import type { Action, Page } from './action.ts'

export interface KeyPress {
  key: string
  ctrlKey: boolean
  metaKey: boolean
  shiftKey: boolean
  altKey: boolean
}

/** A key press in the form that actions declare. Shift counts with letters and arrows, not with signs: `?` is `?` on every keyboard layout. */
export function chordOf(press: KeyPress): string {
  const key = press.key.toLowerCase()
  const sign = key.length === 1 && !/[\p{L} ]/u.test(key)
  const chord = [key === ' ' ? 'space' : key]
  if (press.altKey) chord.unshift('alt')
  if (press.shiftKey && !sign) chord.unshift('shift')
  if (press.ctrlKey || press.metaKey) chord.unshift('mod')
  return chord.join('+')
}

/** What has the keyboard: a text field and an open dialog or list keep their own keys. */
export interface KeyContext {
  typing: boolean
  /** The field holds text that is not yet committed: undo belongs to the field. */
  draft: boolean
  /** A dialog, menu or list has the focus. */
  overlayOpen: boolean
}

/** What a text field does with the keyboard itself. */
const TEXT_CHORDS = ['a', 'c', 'v', 'x', 'arrowleft', 'arrowright', 'arrowup', 'arrowdown', 'backspace', 'delete'].map(
  (key) => `mod+${key}`,
)
const UNDO_CHORDS = ['mod+z', 'mod+shift+z', 'mod+y']

export function findAction(
  press: KeyPress,
  context: KeyContext,
  actions: readonly Action[],
  page: Page,
): Action | null {
  if (context.overlayOpen) return null
  const chord = chordOf(press)
  if (context.typing && (!chord.startsWith('mod+') || TEXT_CHORDS.includes(chord))) return null
  if (context.draft && UNDO_CHORDS.includes(chord)) return null
  return actions.find((action) => action.keys.includes(chord) && (action.when?.(page) ?? true)) ?? null
}

function readKeyContext(target: EventTarget | null): KeyContext {
  if (!(target instanceof Element)) return { typing: false, draft: false, overlayOpen: false }
  const typing =
    target instanceof HTMLInputElement ||
    target instanceof HTMLTextAreaElement ||
    target instanceof HTMLSelectElement ||
    (target instanceof HTMLElement && target.isContentEditable)
  const overlayOpen = target.closest('[role="dialog"], [role="alertdialog"], [role="listbox"], [role="menu"]') !== null
  return { typing, draft: target.hasAttribute('data-draft'), overlayOpen }
}

/** The page's only key listener. Returns a function that removes it. */
export function listenForKeys(actions: readonly Action[], page: Page): () => void {
  const onKey = (event: KeyboardEvent) => {
    if (event.defaultPrevented || event.isComposing) return
    const action = findAction(event, readKeyContext(event.target), actions, page)
    // The browser would save or open the page itself, not the lamp.
    const ours = action !== null || ['mod+s', 'mod+o'].includes(chordOf(event))
    if (ours) event.preventDefault()
    action?.run(page)
  }
  window.addEventListener('keydown', onKey)
  return () => window.removeEventListener('keydown', onKey)
}

const NAMES: Record<string, string> = {
  shift: 'Shift',
  alt: 'Alt',
  arrowup: '↑',
  arrowdown: '↓',
  arrowleft: '←',
  arrowright: '→',
  escape: 'Esc',
  delete: 'Delete',
  backspace: 'Backspace',
  space: 'Space',
  enter: 'Enter',
  tab: 'Tab',
}

/** A chord as shown on screen. */
export function chordText(chord: string, apple: boolean): string {
  const parts = chord === '+' ? ['+'] : chord.replace(/\+\+$/, '+plus').split('+')
  return parts
    .map((p) => (p === 'mod' ? (apple ? '⌘' : 'Ctrl') : p === 'plus' ? '+' : (NAMES[p] ?? p.toUpperCase())))
    .join(apple ? ' ' : ' + ')
}
