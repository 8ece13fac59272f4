// What the shell shows over the page: the key sheet, the error of a file, the notice after a save.
import { createStore } from 'zustand/vanilla'

export interface ShellState {
  help: boolean
  /** The search for a command. */
  search: boolean
  /** The choice of what the book holds. */
  book: boolean
  /** The ways to a new lamp: built from answers, or begun from an example. */
  start: 'own' | 'wish' | 'example' | null
  /** Name of a refused file, or a link, and the reasons. */
  fileError: { file: string; link?: true; why: readonly string[] } | null
  /** A file is being dragged over the page. */
  dropping: boolean
  /** Severe findings of the saved lamp, until the notice is closed or the lamp changes; null: no notice. */
  saved: { titles: readonly string[]; known: boolean } | null
  printed: Printed
  /** The page is being printed. */
  printing: boolean
}

/** What is printed behind the page of answers. */
export interface Printed {
  section: boolean
  plan: boolean
  /** The whole beam sheet. */
  sheet: boolean
}

export const createShell = () =>
  createStore<ShellState>()(() => ({
    help: false,
    search: false,
    book: false,
    start: null,
    fileError: null,
    dropping: false,
    saved: null,
    printed: { section: true, plan: true, sheet: false },
    printing: false,
  }))
