// The only store that holds the lamp. Every edit is one step of history, and so is a whole drag.
import { temporal } from 'zundo'
import { createStore } from 'zustand/vanilla'
import type { Lamp } from '../../lamp/schema.ts'

export interface DesignState {
  lamp: Lamp
  /** The edit that produced this lamp, for the undo list. */
  label: string
}

export interface DragSession {
  preview(change: (from: Lamp) => Lamp): void
  commit(): void
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
    /** Opens a drag session. Each `preview` starts from the lamp as it was at the beginning; `commit` makes one step of history, `cancel` none. */
    beginDrag(label: string): DragSession {
      const before = store.getState()
      let done = false
      history.getState().pause()
      return {
        preview: (change) => {
          if (!done) store.setState({ lamp: change(before.lamp), label })
        },
        commit: () => {
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
    /** A drag session is open, by pointer or by held keys. */
    isDragging: () => !history.getState().isTracking,
    undo: () => history.getState().undo(),
    redo: () => history.getState().redo(),
    canUndo: () => history.getState().pastStates.length > 0,
    canRedo: () => history.getState().futureStates.length > 0,
    /** What undo and redo would take; in both lists the next one stands last. */
    steps: (): { past: readonly DesignState[]; future: readonly DesignState[] } => ({
      past: history.getState().pastStates as DesignState[],
      future: history.getState().futureStates as DesignState[],
    }),
    /** Gives the open lamp its history of an earlier visit, and its own label. */
    restoreSteps(past: readonly DesignState[], label: string, future: readonly DesignState[]) {
      history.setState({ pastStates: [...past], futureStates: [...future] })
      store.setState({ label })
    },
    /** Opens another lamp with an empty history. */
    open(lamp: Lamp) {
      store.setState({ lamp, label: 'Open' })
      history.getState().clear()
    },
  }
}

export type Design = ReturnType<typeof createDesign>
