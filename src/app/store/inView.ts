// What of the sheet is in view, for what a trace does first. Apart from the view's own store: a change there is taken as a view that was asked for.
import { createStore } from 'zustand/vanilla'

interface InView {
  /** The comparisons: the lamps without a part. */
  comparisons: boolean
}

export const inView = createStore<InView>()(() => ({ comparisons: false }))
