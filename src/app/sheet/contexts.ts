// What the sheet's leaves read. The folding frames round them never change, so a new run redraws the leaves alone.
import { createContext, useContext } from 'react'
import type { Sheet } from '../../job/beam/sheet.ts'
import type { StateWord } from './words.ts'

export interface Shown {
  sheet: Sheet
  /** Inner width of the column. */
  widthPx: number
}

export const ShownContext = createContext<Shown | null>(null)
/** Apart from the sheet: while a handle is dragged it changes twice as often, and few leaves say it. */
export const StateContext = createContext<StateWord>('waiting')

export function useShown(): Shown {
  const shown = useContext(ShownContext)
  if (!shown) throw new Error('sheet: no sheet is shown here')
  return shown
}
