// Which parts are open in the column, and which one was asked for: neither saved nor undone.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'

export type PartKey =
  | 'selection'
  | 'target'
  | 'emitters'
  | 'boards'
  | 'face'
  | 'optics'
  | 'tunnel'
  | 'lens'
  | 'heat'
  | 'power'
  | 'reading'
  | 'fill'

const opened = createStore<Readonly<Record<string, boolean>>>()(() => ({
  selection: true,
  target: true,
  emitters: true,
  lens: true,
}))

/** An object of its own at every asking, so that the same part can be asked for twice. */
export interface AskedPart {
  key: PartKey
  /** Its first field takes the keyboard. */
  typed: boolean
}
const asked = createStore<{ now: AskedPart | null }>()(() => ({ now: null }))

export const openPart = (key: string, open: boolean): void => opened.setState({ [key]: open })
export const useOpen = (key: string): boolean => useStore(opened, (s) => s[key] ?? false)

/** Opens a part and what it lies in; the column brings it into sight. */
export function askForPart(key: PartKey, typed = false): void {
  if (key === 'fill') openPart('face', true)
  openPart(key, true)
  asked.setState({ now: { key, typed } })
}
export const useAskedPart = (): AskedPart | null => useStore(asked, (s) => s.now)
