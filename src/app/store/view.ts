// What the user looks at: no history, and nothing of it is saved in a lamp.
import { createStore } from 'zustand/vanilla'
import type { Place } from '../../checks/finding.ts'

export type ViewName = 'plan' | 'section' | 'solid' | 'night'

export interface ViewState {
  view: ViewName
  /** Ids of the selected boards. */
  boards: readonly string[]
  /** Selected emitters, as "boardId:siteIndex"; empty when whole boards are meant. */
  emitters: readonly string[]
  /** The place of the finding that was clicked, until something else is clicked. */
  focusedPlace: Place | null
  /** Camera exposure of Night, in EV; null: adapted like an eye. */
  exposureEv: number | null
}

export const createView = () =>
  createStore<ViewState>()(() => ({ view: 'section', boards: [], emitters: [], focusedPlace: null, exposureEv: null }))

export type View = ReturnType<typeof createView>
