// What the leaf components of the sheet read. The folding parts around them never change, so a new run renders only the leaves.
import { createContext, useContext } from 'react'
import type { Sheet } from '../../job/beam/sheet.ts'
import type { StateWord } from './words.ts'

export interface SheetContextValue {
  sheet: Sheet
  /** Inner width of the column. */
  widthPx: number
}

export const SheetContext = createContext<SheetContextValue | null>(null)
/** A context of its own: during a drag the state changes twice as often as the sheet, and few leaves read it. */
export const StateContext = createContext<StateWord>('waiting')

export function useSheet(): SheetContextValue {
  const shown = useContext(SheetContext)
  if (!shown) throw new Error('sheet: no sheet is shown here')
  return shown
}
