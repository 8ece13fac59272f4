// The stores of the page and their hooks. Components read one value per selector.
import { useStore } from 'zustand'
import { gannetHead } from '../../library/demos.ts'
import { livingSelection } from '../common/selection.ts'
import { createDesign, type DesignState } from './design.ts'
import { createResult, type ResultState } from './result.ts'
import { createShell } from './shell.ts'
import { createView, type ViewState } from './view.ts'

export const design = createDesign(gannetHead())
export const view = createView()
export const result = createResult()
/** Here because a column, too, reports a refused file. */
export const shell = createShell()

// A selection dies with its board: by whatever edit, by undo and by another lamp.
design.store.subscribe(({ lamp }, before) => {
  if (lamp.boards === before.lamp.boards && lamp.boardTypes === before.lamp.boardTypes) return
  const now = view.getState()
  const left = livingSelection(lamp, now)
  if (left.boards !== now.boards || left.emitters !== now.emitters) view.setState(left)
})

export const useDesign = <T>(pick: (s: DesignState) => T): T => useStore(design.store, pick)
export const useView = <T>(pick: (s: ViewState) => T): T => useStore(view, pick)
export const useResult = <T>(pick: (s: ResultState) => T): T => useStore(result, pick)
