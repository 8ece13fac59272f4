// Only one panel is open at a time.
import { compare } from '../store/compare.ts'
import { danger } from '../store/danger.ts'
import { handbook } from '../store/handbook.ts'
import { power } from '../store/power.ts'
import { sweep } from '../store/sweep.ts'
import { workshop } from '../store/workshop.ts'

interface Openable {
  setState(part: { open: boolean }): void
  subscribe(onChange: (now: { open: boolean }, before: { open: boolean }) => void): () => void
}

const PANELS: readonly Openable[] = [sweep, compare, danger, power, workshop, handbook]

export function keepOnePanelOpen(): void {
  for (const panel of PANELS)
    panel.subscribe((now, before) => {
      if (!now.open || before.open) return
      for (const other of PANELS) if (other !== panel) other.setState({ open: false })
    })
}
