// What leaves the screen, over the view: drawings to cut by, solids to print, parts list, assembly order, files for other shops, the book.
import type { ComponentType } from 'react'
import { useWorkshop, type WorkshopPane, workshop } from '../store/workshop.ts'
import { Button } from '../ui/Button.tsx'
import { Choice } from '../ui/Choice.tsx'
import { usePanel } from '../ui/usePanel.ts'
import { AssemblyPane } from './AssemblyPane.tsx'
import { DrawingsPane } from './DrawingsPane.tsx'
import { PartsPane } from './PartsPane.tsx'
import { PhotometryPane } from './PhotometryPane.tsx'
import { SolidsPane } from './SolidsPane.tsx'
import '../ui/panel.css'
import './workshop.css'

const PANES = [
  { key: 'drawings', name: 'Drawings' },
  { key: 'solids', name: 'Solids' },
  { key: 'parts', name: 'Parts list' },
  { key: 'assembly', name: 'Assembly' },
  { key: 'photometry', name: 'Photometry' },
] as const satisfies readonly { key: WorkshopPane; name: string }[]

const PANE_COMPONENTS: Record<WorkshopPane, ComponentType> = {
  drawings: DrawingsPane,
  solids: SolidsPane,
  parts: PartsPane,
  assembly: AssemblyPane,
  photometry: PhotometryPane,
}

const hide = () => workshop.setState({ open: false })

function close() {
  hide()
  const link = document.querySelector<HTMLElement>('.workshop-link button')
  // With its part folded there is no link to return the focus to.
  ;(link ?? document.querySelector<HTMLElement>('[role="tab"][aria-selected="true"]'))?.focus()
}

export default function WorkshopPanel() {
  const { title, onKeyDown } = usePanel(hide, close)
  const pane = useWorkshop((s) => s.pane)
  const Pane = PANE_COMPONENTS[pane]
  return (
    <section className="ui-panel workshop-panel" aria-labelledby="workshop-title" onKeyDown={onKeyDown}>
      <header className="workshop-head">
        <h2 id="workshop-title" ref={title} tabIndex={-1}>
          Drawings and files
        </h2>
        <Button kind="quiet" name="Close drawings and files" hint="Close (M or Esc)" onPress={close}>
          ✕
        </Button>
      </header>
      <Choice label="Show" segments value={pane} options={PANES} onChoose={(key) => workshop.setState({ pane: key })} />
      <Pane />
      <p className="ui-hidden" role="status">
        <Announcement />
      </p>
    </section>
  )
}

const Announcement = () => useWorkshop((s) => s.announcement)
