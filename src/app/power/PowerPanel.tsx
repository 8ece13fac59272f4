// Heat and power, over the view: each mode's duration and what ends it; the wiring; the checklist for the first power-up.
import { type PowerPage, power, usePower } from '../store/power.ts'
import { Choice } from '../ui/Choice.tsx'
import { HandbookLink } from '../ui/HandbookLink.tsx'
import { Panel } from '../ui/Panel.tsx'
import { MissingRemarks } from '../ui/TryAgain.tsx'
import { Modes } from './Modes.tsx'
import { PowerUp } from './PowerUp.tsx'
import { Wiring } from './Wiring.tsx'
import './power.css'
import './powerPrint.css'
import './powerUp.css'

const PAGES: readonly { key: PowerPage; name: string }[] = [
  { key: 'modes', name: 'Modes' },
  { key: 'wiring', name: 'Wiring' },
  { key: 'list', name: 'Power-up list' },
]

const HANDBOOK = { modes: '08-heat-and-minutes', wiring: '09-battery-fuses-wires', list: '11-first-power-up' } as const

const hide = () => power.setState({ open: false })

export function PowerPanel() {
  const page = usePower((s) => s.page)
  const ready = usePower((s) => s.report !== null)
  return (
    <Panel
      of="power"
      title="Heat and power"
      closeName="Close heat and power"
      head={
        <>
          <Choice label="Shown" segments value={page} options={PAGES} onChoose={(page) => power.setState({ page })} />
          <State />
        </>
      }
      scrolls
      hide={hide}
    >
      <MissingRemarks of="heat" />
      {ready && page === 'modes' && <Modes />}
      {ready && page === 'wiring' && <Wiring />}
      {ready && page === 'list' && <PowerUp />}
      <HandbookLink page={HANDBOOK[page]} />
      <p className="ui-hidden" role="status">
        <Announcement />
      </p>
    </Panel>
  )
}

const Announcement = () => usePower((s) => s.announcement)

function State() {
  const words = usePower((s) =>
    s.why ? 'Not computed' : s.report === null ? 'Being run…' : s.stale ? 'Edit being run…' : '',
  )
  const failed = usePower((s) => s.why !== '')
  return (
    <span className="power-state" data-failed={failed || undefined}>
      {words}
    </span>
  )
}
