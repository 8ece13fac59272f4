// The danger sheet, over the view: the findings, then pane by pane the figures behind them.

import type { ReactNode } from 'react'
import type { DangerStage } from '../../job/danger/result.ts'
import { FIRST_RULE } from '../../report/danger.ts'
import { leadDistances } from '../../report/dangerLead.ts'
import { THIN } from '../common/format.ts'
import { type DangerPane, danger, useDanger } from '../store/danger.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Choice } from '../ui/Choice.tsx'
import { HandbookLink } from '../ui/HandbookLink.tsx'
import { Panel } from '../ui/Panel.tsx'
import { MissingRemarks } from '../ui/TryAgain.tsx'
import { EyesPane } from './EyesPane.tsx'
import { FoundPane } from './FoundPane.tsx'
import { FrontPane } from './FrontPane.tsx'
import { HeatPane } from './HeatPane.tsx'
import { PaperPane } from './PaperPane.tsx'
import type { PaneProps } from './pane.ts'
import { SunPane } from './SunPane.tsx'
import './danger.css'

const PANES = [
  { key: 'found', name: 'Findings' },
  { key: 'front', name: 'In front' },
  { key: 'heat', name: 'What gets hot' },
  { key: 'sun', name: 'Sun' },
  { key: 'eyes', name: 'Eyes' },
  { key: 'paper', name: 'Safety notice' },
] as const satisfies readonly { key: DangerPane; name: string }[]

const PANE_COMPONENTS: Record<DangerPane, (p: PaneProps) => ReactNode> = {
  found: FoundPane,
  front: FrontPane,
  heat: HeatPane,
  sun: SunPane,
  eyes: EyesPane,
  paper: PaperPane,
}

const hide = () => danger.setState({ open: false })

export function DangerPanel() {
  const pane = useDanger((s) => s.pane)
  return (
    <Panel of="danger" title="Dangers in full" closeName="Close the dangers" head={<ReadingStatus />} hide={hide}>
      <MissingRemarks of="danger" />
      <KeyDistances />
      <Choice label="Show" segments value={pane} options={PANES} onChoose={(key) => danger.setState({ pane: key })} />
      <ActivePane />
      <p className="danger-rule">{FIRST_RULE}</p>
      <HandbookLink page="07-hot-spots-and-the-sun" />
    </Panel>
  )
}

const STAGE_WORDS: Record<DangerStage, string> = {
  beam: 'Tracing the beam',
  front: 'Searching what is in front',
  sun: 'The sun from every side',
}

function ReadingStatus() {
  const state = useDanger((s) => s.state)
  const stage = useDanger((s) => s.stage)
  const per = useDanger((s) => Math.floor(100 * s.share))
  const stale = useDanger((s) => s.stale)
  const rough = useDanger((s) => s.rough)
  const read = useDanger((s) => s.reading !== null)
  const before = stale ? ' Figures are from before the change.' : rough ? ' Rough so far.' : ''
  const words =
    state === 'running'
      ? `${STAGE_WORDS[stage]}… ${per}${THIN}%${before}`
      : state === 'waiting'
        ? `Waiting for the lamp’s first figures.${before}`
        : state === 'failed'
          ? 'Failed'
          : read && !stale && !rough
            ? 'Upper ends of ± at 95 %'
            : before.trim()
  return (
    <div className="danger-state" data-state={state}>
      <span>{words}</span>
      <span className="ui-hidden" role="status">
        {state === 'done' ? 'The dangers have been read.' : ''}
      </span>
    </div>
  )
}

/** The three most important distances, as on the printed page. */
function KeyDistances() {
  const reading = useDanger((s) => s.reading)
  const stale = useDanger((s) => s.stale)
  const system = useUnitSystem()
  if (!reading) return null
  return (
    <dl className="danger-lead" data-stale={stale || undefined}>
      {leadDistances(reading, system).map(({ what, figure, reached }) => (
        <div key={what} data-reached={reached || undefined}>
          <dt>{what}</dt>
          <dd>{figure}</dd>
        </div>
      ))}
    </dl>
  )
}

function ActivePane() {
  const reading = useDanger((s) => s.reading)
  const lamp = useDanger((s) => s.lamp)
  const pane = useDanger((s) => s.pane)
  const stale = useDanger((s) => s.stale)
  const failed = useDanger((s) => s.state === 'failed')
  const Pane = PANE_COMPONENTS[pane]
  if (!reading || !lamp)
    return (
      <p className="danger-quiet ui-panel-pane">
        {failed
          ? 'Nothing has been searched. '
          : 'Every place in front of the lamp, its parts, the sun from every side and the eyes are being searched. '}
        Until then the Dangers of the beam sheet hold.
      </p>
    )
  return (
    // It scrolls, and one pane holds nothing that can be focused: the keyboard reaches it by itself.
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reachable by keyboard (WCAG 2.1.1)
    <div key={pane} className="danger-pane ui-panel-pane" data-pane={pane} data-stale={stale || undefined} tabIndex={0}>
      <Pane reading={reading} lamp={lamp} />
    </div>
  )
}
