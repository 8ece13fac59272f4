// What the page frame shows over the lamp: the key sheet, and a file that didn't fit.
import { createStore } from 'zustand/vanilla'

export interface ShellState {
  help: boolean
  /** Why a file was refused, by name. */
  refused: { file: string; why: readonly string[] } | null
  /** A file is held over the page. */
  dropping: boolean
  /** What a lamp was saved with, until it is closed or the lamp changes; null: nothing to say. */
  saved: { titles: readonly string[]; known: boolean } | null
}

export const createShell = () =>
  createStore<ShellState>()(() => ({ help: false, refused: null, dropping: false, saved: null }))
export type ShellStore = ReturnType<typeof createShell>
