// Up to four lamps side by side, pane by pane: light and what changed, night, dangers, heat, parts.
import { type ComponentType, Suspense } from 'react'
import { MOST_COLUMNS } from '../../job/compare/result.ts'
import { COLUMN_LETTERS } from '../../report/compare.ts'
import { type ComparedLamp, type ComparePane, compare, useCompare } from '../store/compare.ts'
import { Button } from '../ui/Button.tsx'
import { Choice } from '../ui/Choice.tsx'
import { HandbookLink } from '../ui/HandbookLink.tsx'
import { Panel } from '../ui/Panel.tsx'
import { type AddActions, AddLamp } from './AddLamp.tsx'
import { DangersPane } from './DangersPane.tsx'
import { HeatPane, PartsPane } from './HeatParts.tsx'
import { LightPane } from './LightPane.tsx'
import { stateWords } from './stateWords.ts'
import './compare.css'

export interface CompareActions extends AddActions {
  remove(key: string): void
}

const PANES = [
  { key: 'light', name: 'Light' },
  { key: 'night', name: 'Night' },
  { key: 'dangers', name: 'Dangers' },
  { key: 'heat', name: 'Heat' },
  { key: 'parts', name: 'Parts' },
] as const satisfies readonly { key: ComparePane; name: string }[]

const hide = () => compare.setState({ open: false })

/** `Night` draws the lamps' light on their target. */
export function ComparePanel({ actions, Night }: { actions: CompareActions; Night: ComponentType }) {
  const lamps = useCompare((s) => s.lamps)
  const pane = useCompare((s) => s.pane)
  return (
    <Panel
      of="compare"
      title="Compare"
      closeName="Close the comparison"
      head={<AddLamp actions={actions} isDisabled={lamps.length >= MOST_COLUMNS} />}
      hide={hide}
    >
      <Heads lamps={lamps} onRemove={actions.remove} />
      <Announcement />
      {lamps.length < 2 ? (
        <div className="compare-quiet">
          Add up to three lamps beside A: earlier states of it, its other modes, lamps stored in this browser, examples,
          or files, which may also be dropped here. All are traced with the same random numbers, so that small
          differences can be told from noise.
          <HandbookLink page="15-comparing" />
        </div>
      ) : (
        <>
          <div className="compare-show">
            <Choice
              label="Show"
              segments
              value={pane}
              options={PANES}
              onChoose={(key) => compare.setState({ pane: key })}
            />
            <span className="compare-aside">
              <HandbookLink page="15-comparing" />
              <WideButton />
            </span>
          </div>
          <Pane pane={pane} lamps={lamps} Night={Night} />
        </>
      )}
    </Panel>
  )
}

function Pane({ pane, lamps, Night }: { pane: ComparePane; lamps: readonly ComparedLamp[]; Night: ComponentType }) {
  if (pane === 'night')
    return (
      <Suspense fallback={null}>
        <Night />
      </Suspense>
    )
  return (
    // It scrolls, and a pane may hold nothing that can be focused: the keyboard reaches it by itself.
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reachable by keyboard (WCAG 2.1.1)
    <div key={pane} className="compare-pane ui-panel-pane" tabIndex={0}>
      {pane === 'light' && <LightPane lamps={lamps} />}
      {pane === 'dangers' && <DangersPane lamps={lamps} />}
      {pane === 'heat' && <HeatPane lamps={lamps} />}
      {pane === 'parts' && <PartsPane lamps={lamps} />}
    </div>
  )
}

function WideButton() {
  const wide = useCompare((s) => s.wide)
  return (
    <span className="compare-wide" data-wide={wide || undefined}>
      <Button
        kind="quiet"
        hint={wide ? 'Parts and beam sheet beside it again' : 'Over the parts and the beam sheet, too'}
        onPress={() => compare.setState({ wide: !wide })}
      >
        {wide ? 'Narrow' : 'Wide'}
      </Button>
    </span>
  )
}

/** What was added stands in the heads: its name is for screen readers; why something was not is for all. */
function Announcement() {
  const words = useCompare((s) => s.announcement)
  const refused = useCompare((s) => s.refused)
  return (
    <p className={refused ? 'compare-refused' : 'ui-hidden'} role="status">
      {words}
    </p>
  )
}

function Heads({ lamps, onRemove }: { lamps: readonly ComparedLamp[]; onRemove(key: string): void }) {
  return (
    <ol className="compare-heads">
      {lamps.map((l, i) => (
        <li key={l.key} data-column={i}>
          <b>{COLUMN_LETTERS[i]}</b>
          <span>
            <bdi translate="no">{l.name}</bdi>
            <small>{l.from}</small>
            <small className="compare-state" title={l.read?.light.why ?? stateWords(l, lamps)}>
              {l.read?.light.why ?? stateWords(l, lamps)}
            </small>
          </span>
          {i > 0 && (
            <Button kind="quiet" name={`Take ${l.name} out of the comparison`} onPress={() => onRemove(l.key)}>
              ✕
            </Button>
          )}
        </li>
      ))}
    </ol>
  )
}
