// From a key press to an act.
import type { Act, Page } from './action.ts'

export interface Press {
  key: string
  ctrlKey: boolean
  metaKey: boolean
  shiftKey: boolean
  altKey: boolean
}

/** A press as acts write it. Shift is part of a letter's or an arrow's chord, never of a sign's: `?` is `?` on every keyboard. */
export function chordOf(press: Press): string {
  const key = press.key.toLowerCase()
  const sign = key.length === 1 && !/[\p{L} ]/u.test(key)
  const chord = [key === ' ' ? 'space' : key]
  if (press.altKey) chord.unshift('alt')
  if (press.shiftKey && !sign) chord.unshift('shift')
  if (press.ctrlKey || press.metaKey) chord.unshift('mod')
  return chord.join('+')
}

/** Where the press fell: what is being typed keeps its keys, and so does an open dialog or list. */
export interface Ground {
  typing: boolean
  /** Typed words not yet taken: undo belongs to them. */
  draft: boolean
  /** A dialog, menu or list has the keyboard. */
  covered: boolean
}

const UNDOING = ['mod+z', 'mod+shift+z', 'mod+y']

export function actFor(press: Press, ground: Ground, acts: readonly Act[], page: Page): Act | null {
  if (ground.covered) return null
  const chord = chordOf(press)
  if (ground.typing && !chord.startsWith('mod+')) return null
  if (ground.draft && UNDOING.includes(chord)) return null
  return acts.find((act) => act.keys.includes(chord) && (act.when?.(page) ?? true)) ?? null
}

export function groundOf(target: EventTarget | null): Ground {
  if (!(target instanceof Element)) return { typing: false, draft: false, covered: false }
  const typing =
    target instanceof HTMLInputElement ||
    target instanceof HTMLTextAreaElement ||
    target instanceof HTMLSelectElement ||
    (target instanceof HTMLElement && target.isContentEditable)
  const covered = target.closest('[role="dialog"], [role="alertdialog"], [role="listbox"], [role="menu"]') !== null
  return { typing, draft: target.hasAttribute('data-draft'), covered }
}

/** The page's one key listener; returns how to take it off. */
export function listenForKeys(acts: readonly Act[], page: Page): () => void {
  const onKey = (event: KeyboardEvent) => {
    if (event.defaultPrevented || event.isComposing) return
    const act = actFor(event, groundOf(event.target), acts, page)
    // The browser's own dialog for these would act on the page, not on the lamp.
    const ours = act !== null || ['mod+s', 'mod+o'].includes(chordOf(event))
    if (ours) event.preventDefault()
    act?.run(page)
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

/** A chord as a person reads it. */
export function chordText(chord: string, apple: boolean): string {
  const parts = chord === '+' ? ['+'] : chord.replace(/\+\+$/, '+plus').split('+')
  return parts
    .map((p) => (p === 'mod' ? (apple ? '⌘' : 'Ctrl') : p === 'plus' ? '+' : (NAMES[p] ?? p.toUpperCase())))
    .join(apple ? ' ' : ' + ')
}
