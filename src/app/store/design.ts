// The one door to the lamp. Every edit is one step of history; a held handle is one step however long it was dragged.
import { temporal } from 'zundo'
import { createStore } from 'zustand/vanilla'
import type { Lamp } from '../../lamp/schema.ts'

export interface DesignState {
  lamp: Lamp
  /** Which edit led here, for the undo list. */
  label: string
}

export interface Held {
  show(change: (from: Lamp) => Lamp): void
  drop(): void
  cancel(): void
}

export function createDesign(first: Lamp) {
  const store = createStore<DesignState>()(
    temporal((): DesignState => ({ lamp: first, label: 'Open' }), {
      limit: 200,
      equality: (a, b) => a.lamp === b.lamp,
    }),
  )
  const history = store.temporal

  function put(label: string, lamp: Lamp) {
    if (lamp !== store.getState().lamp) store.setState({ lamp, label })
  }

  return {
    store,
    lamp: () => store.getState().lamp,
    /** One step of history; returning the same lamp is no step. */
    edit(label: string, change: (lamp: Lamp) => Lamp) {
      put(label, change(store.getState().lamp))
    },
    /** A drag: `show` as often as wanted, each time from the lamp as it was when held; `drop` makes one step, `cancel` none. */
    hold(label: string): Held {
      const before = store.getState()
      let done = false
      history.getState().pause()
      return {
        show: (change) => {
          if (!done) store.setState({ lamp: change(before.lamp), label })
        },
        drop: () => {
          if (done) return
          done = true
          const last = store.getState().lamp
          if (last !== before.lamp) store.setState(before)
          history.getState().resume()
          put(label, last)
        },
        cancel: () => {
          if (done) return
          done = true
          store.setState(before)
          history.getState().resume()
        },
      }
    },
    /** A hand, or a run of keys, is on it. */
    held: () => !history.getState().isTracking,
    undo: () => history.getState().undo(),
    redo: () => history.getState().redo(),
    canUndo: () => history.getState().pastStates.length > 0,
    canRedo: () => history.getState().futureStates.length > 0,
    /** Another lamp on the sheet; its history starts anew. */
    open(lamp: Lamp) {
      store.setState({ lamp, label: 'Open' })
      history.getState().clear()
    },
  }
}

export type Design = ReturnType<typeof createDesign>
