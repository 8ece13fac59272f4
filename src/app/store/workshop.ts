// What of drawings, solids, parts list and files is shown. No history; nothing of it is saved in a lamp.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'

export type WorkshopPane = 'drawings' | 'solids' | 'parts' | 'assembly' | 'photometry'

export interface WorkshopState {
  open: boolean
  pane: WorkshopPane
  /** Name of the drawing shown; null: the first that can be drawn. */
  sheet: string | null
  /** What became of the file that was asked for last; it stands beside the buttons. */
  saved: Saved | null
}

interface Saved {
  file: string
  state: 'making' | 'saved' | 'stopped' | 'failed'
  words: string
}

export const workshop = createStore<WorkshopState>()(() => ({
  open: false,
  pane: 'drawings',
  sheet: null,
  saved: null,
}))

export const useWorkshop = <T>(pick: (s: WorkshopState) => T): T => useStore(workshop, pick)
