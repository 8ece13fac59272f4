// The stores of the page and their hooks. Components read one value per selector.
import { useStore } from 'zustand'
import { gannetHead } from '../../library/demos.ts'
import { createDesign, type DesignState } from './design.ts'
import { createResult, type ResultState } from './result.ts'
import { createShell } from './shell.ts'
import { createView, type ViewState } from './view.ts'

export const design = createDesign(gannetHead())
export const view = createView()
export const result = createResult()
/** Here because a column, too, reports a refused file. */
export const shell = createShell()

export const useDesign = <T>(pick: (s: DesignState) => T): T => useStore(design.store, pick)
export const useView = <T>(pick: (s: ViewState) => T): T => useStore(view, pick)
export const useResult = <T>(pick: (s: ResultState) => T): T => useStore(result, pick)
