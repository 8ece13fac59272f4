// What leaves the screen, over the view: drawings to cut by, solids to print, parts list, assembly order and files for other shops.
import type { ComponentType } from 'react'
import { useWorkshop, type WorkshopPane, workshop } from '../store/workshop.ts'
import { Choice } from '../ui/Choice.tsx'
import { Panel } from '../ui/Panel.tsx'
import { AssemblyPane } from './AssemblyPane.tsx'
import { DrawingsPane } from './DrawingsPane.tsx'
import { PartsPane } from './PartsPane.tsx'
import { PhotometryPane } from './PhotometryPane.tsx'
import { SolidsPane } from './SolidsPane.tsx'
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

const hide = () => workshop.setState({ open: false, saved: null })

const choose = (pane: WorkshopPane) => workshop.setState({ pane, saved: null })

export default function WorkshopPanel() {
  const pane = useWorkshop((s) => s.pane)
  const Pane = PANE_COMPONENTS[pane]
  return (
    <Panel of="workshop" title="Drawings and files" closeName="Close drawings and files" hide={hide}>
      <Choice label="Show" segments value={pane} options={PANES} onChoose={choose} />
      <Pane />
    </Panel>
  )
}
