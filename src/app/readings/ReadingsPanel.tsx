// The built lamp: what to measure, the readings, and which part may not be as drawn.
import { type ReadingsPane, readings, useReadings } from '../store/readings.ts'
import { Choice } from '../ui/Choice.tsx'
import { HandbookLink } from '../ui/HandbookLink.tsx'
import { Panel } from '../ui/Panel.tsx'
import { Log } from './Log.tsx'
import { Plan } from './Plan.tsx'
import type { ReadingsActions } from './runner.ts'
import './readings.css'

const PANES: readonly { key: ReadingsPane; name: string }[] = [
  { key: 'log', name: 'Readings' },
  { key: 'plan', name: 'What to measure' },
]

const hide = () => readings.setState({ open: false })

export default function ReadingsPanel({ actions }: { actions: ReadingsActions }) {
  const pane = useReadings((s) => s.pane)
  return (
    <Panel
      of="readings"
      title="The built lamp"
      closeName="Close the readings"
      head={
        <Choice label="Shown" segments value={pane} options={PANES} onChoose={(p) => readings.setState({ pane: p })} />
      }
      scrolls
      hide={hide}
    >
      {pane === 'log' ? <Log actions={actions} /> : <Plan actions={actions} />}
      <HandbookLink page="12-measuring" />
      <p className="ui-hidden" role="status">
        <Announcement />
      </p>
    </Panel>
  )
}

const Announcement = () => useReadings((s) => s.announcement)
