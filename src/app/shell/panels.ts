// Only one panel is open at a time, and what was asked for is seen where the columns don't fit side by side.
import { compare } from '../store/compare.ts'
import { danger } from '../store/danger.ts'
import { display } from '../store/display.ts'
import { handbook } from '../store/handbook.ts'
import { onPartRequest } from '../store/openParts.ts'
import { optimize } from '../store/optimize.ts'
import { power } from '../store/power.ts'
import { readings } from '../store/readings.ts'
import { view } from '../store/stores.ts'
import { sweep } from '../store/sweep.ts'
import { tolerances } from '../store/tolerances.ts'
import { workshop } from '../store/workshop.ts'

interface Openable {
  setState(part: { open: boolean }): void
  subscribe(onChange: (now: { open: boolean }, before: { open: boolean }) => void): () => void
}

const PANELS: readonly Openable[] = [sweep, compare, optimize, tolerances, danger, power, workshop, readings, handbook]

export function keepOnePanelOpen(): void {
  for (const panel of PANELS)
    panel.subscribe((now, before) => {
      if (!now.open || before.open) return
      for (const other of PANELS) if (other !== panel) other.setState({ open: false })
    })
}

/** As in shellNarrow.css: from there on the view is alone, or not there. */
const ONE_COLUMN = '(max-width: 760px)'

/** A panel or a view that was asked for brings the view's column to the front, a part whose field was asked for that of the parts. */
export function followColumns(isOneColumn = () => matchMedia(ONE_COLUMN).matches): void {
  const showView = () => {
    if (isOneColumn()) display.showColumn('view')
  }
  for (const panel of PANELS) panel.subscribe((now, before) => now.open && !before.open && showView())
  view.subscribe((now, before) => now.view !== before.view && showView())
  onPartRequest(({ focusField }) => focusField && display.showColumn('parts'))
}
