// Which parts are open in the column: neither saved nor undone.

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
  | 'reading'

const opened = createStore<Readonly<Record<string, boolean>>>()(() => ({
  selection: true,
  target: true,
  emitters: true,
  lens: true,
}))

export const openPart = (key: string, open: boolean): void => opened.setState({ [key]: open })
export const useOpen = (key: string): boolean => useStore(opened, (s) => s[key] ?? false)
