// Heat and power, over the view: each mode's duration and what ends it; the wiring; the checklist for the first power-up.
import { type PowerPage, power, usePower } from '../store/power.ts'
import { Button } from '../ui/Button.tsx'
import { Choice } from '../ui/Choice.tsx'
import { MissingRemarks } from '../ui/TryAgain.tsx'
import { usePanel } from '../ui/usePanel.ts'
import { Modes } from './Modes.tsx'
import { PowerUp } from './PowerUp.tsx'
import { Wiring } from './Wiring.tsx'
import '../ui/panel.css'
import './power.css'
import './powerPrint.css'
import './powerUp.css'

const PAGES: readonly { key: PowerPage; name: string }[] = [
  { key: 'modes', name: 'Modes' },
  { key: 'wiring', name: 'Wiring' },
  { key: 'list', name: 'Power-up list' },
]

const hide = () => power.setState({ open: false })

function close() {
  hide()
  const link = document.querySelector<HTMLElement>('.power-link button')
  // With both parts folded there is no link to return the focus to.
  ;(link ?? document.querySelector<HTMLElement>('[role="tab"][aria-selected="true"]'))?.focus()
}

export function PowerPanel() {
  const { title, onKeyDown } = usePanel(hide, close)
  const page = usePower((s) => s.page)
  const ready = usePower((s) => s.report !== null)
  return (
    <section className="ui-panel ui-panel-scrolls power-panel" aria-labelledby="power-title" onKeyDown={onKeyDown}>
      <header className="power-head">
        <h2 id="power-title" ref={title} tabIndex={-1}>
          Heat and power
        </h2>
        <Choice label="Shown" segments value={page} options={PAGES} onChoose={(page) => power.setState({ page })} />
        <State />
        <Button kind="quiet" name="Close heat and power" hint="Close (W or Esc)" onPress={close}>
          ✕
        </Button>
      </header>
      <MissingRemarks of="heat" />
      {ready && page === 'modes' && <Modes />}
      {ready && page === 'wiring' && <Wiring />}
      {ready && page === 'list' && <PowerUp />}
      <p className="ui-hidden" role="status">
        <Announcement />
      </p>
    </section>
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
