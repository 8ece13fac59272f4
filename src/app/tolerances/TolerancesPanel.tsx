// The lamp as it may come out of the workshop: its tolerances, many lamps built within them, how the figures spread and why.

import { useState } from 'react'
import { variedOf } from '../../job/tolerances/design.ts'
import type { Spread } from '../../job/tolerances/result.ts'
import { fewestLamps, lampCount, toleranceFault } from '../../job/tolerances/run.ts'
import { inSystem } from '../../num/quantity.ts'
import { NOT_SPREAD_NOTE, TWO_ERRORS_NOTE } from '../../report/tolerances.ts'
import { roundUp, withUnit } from '../common/format.ts'
import { useDesign } from '../store/stores.ts'
import { isRunOf, tolerances, useTolerances } from '../store/tolerances.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { Group } from '../ui/Group.tsx'
import { HandbookLink } from '../ui/HandbookLink.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import { Panel } from '../ui/Panel.tsx'
import { leftWords } from './model/words.ts'
import { Shares } from './Shares.tsx'
import { SpreadTables } from './SpreadTables.tsx'
import { ToleranceRows } from './ToleranceRows.tsx'
import './tolerances.css'

export interface ToleranceActions {
  begin(): void
  stop(): void
  restart(): void
  /** Retraces with the tolerance halved that the shown figure asks for. */
  confirm(): void
  setLamps(lamps: number): void
}

/** More are for the command line, which can be spread over machines. */
const MOST_ON_PAGE = 10_000

const hide = () => tolerances.setState({ open: false })

export function TolerancesPanel({ actions }: { actions: ToleranceActions }) {
  return (
    <Panel of="tolerances" title="Tolerances" closeName="Close the tolerances" scrolls hide={hide}>
      <div className="tolerances-body">
        <div className="tolerances-entered">
          <Entered />
          <RunRow actions={actions} />
        </div>
        <Results actions={actions} />
      </div>
      <HandbookLink page="14-tolerances" />
    </Panel>
  )
}

/** Folded once there are results, which are what one comes back for. */
function Entered() {
  const lamp = useDesign((s) => s.lamp)
  const hasResults = useTolerances((s) => (isRunOf(s.run, lamp) ? (s.run.spread?.figures.length ?? 0) > 0 : false))
  const [isOpen, open] = useState<boolean | null>(null)
  const count = variedOf(lamp).length
  return (
    <Group
      title="What varies"
      level={3}
      summary={`${count} ${count === 1 ? 'tolerance' : 'tolerances'}`}
      isOpen={isOpen ?? !hasResults}
      onToggle={open}
    >
      <ToleranceRows />
    </Group>
  )
}

function RunRow({ actions }: { actions: ToleranceActions }) {
  const state = useTolerances((s) => s.state)
  const lamps = useTolerances((s) => s.lamps)
  const lamp = useDesign((s) => s.lamp)
  const have = useTolerances((s) => (isRunOf(s.run, lamp) ? s.run.readings.length : 0))
  const fault = toleranceFault(lamp)
  const all = lampCount(lamp, { lamps })
  const running = state === 'running'
  return (
    <div className="tolerances-run">
      <NumberField
        label="Lamps to build"
        value={lamps}
        unit=""
        integer
        min={fewestLamps(lamp)}
        max={MOST_ON_PAGE}
        step={64}
        description="More lamps tell more; those that are there already stay"
        onSet={(n) => {
          actions.setLamps(n)
          return null
        }}
      />
      {running ? (
        <Button onPress={actions.stop}>Stop</Button>
      ) : (
        <Button kind="strong" isDisabled={fault !== null || (have >= all && have > 0)} onPress={actions.begin}>
          {have === 0 ? 'Build and trace' : 'Go on'}
        </Button>
      )}
      {!running && have > 0 && (
        <Button kind="quiet" name="Build all of them anew" hint="Build all of them anew" onPress={actions.restart}>
          ↻
        </Button>
      )}
      <RunState fault={fault} have={have} all={all} />
    </div>
  )
}

function RunState({ fault, have, all }: { fault: string | null; have: number; all: number }) {
  const state = useTolerances((s) => s.state)
  const why = useTolerances((s) => s.why)
  const leftS = useTolerances((s) => s.leftS)
  const words =
    fault ??
    (state === 'running'
      ? `${have} of ${all} lamps${leftWords(leftS)}. ${why}`
      : state === 'failed'
        ? `Failed: ${why}`
        : state === 'done'
          ? `${have} lamps built and traced`
          : have > 0
            ? `Stopped after ${have} of ${all} lamps; what has come is kept`
            : `${all} lamps, built at random within the tolerances`)
  return (
    <div className="tolerances-state" data-state={fault ? 'failed' : state} role="status">
      {state === 'running' && <progress value={have} max={all} aria-label="Lamps traced" />}
      <span>{words}</span>
    </div>
  )
}

function Results({ actions }: { actions: ToleranceActions }) {
  const lamp = useDesign((s) => s.lamp)
  const spread = useTolerances((s) => (isRunOf(s.run, lamp) ? s.run.spread : null))
  const figure = useTolerances((s) => s.figure)
  const running = useTolerances((s) => s.state === 'running')
  const have = useTolerances((s) => (isRunOf(s.run, lamp) ? s.run.readings.length : 0))
  if (!spread || spread.figures.length === 0)
    return (
      <p className="tolerances-quiet tolerances-none">
        {running || have > 0
          ? `The first figures come after ${fewestLamps(lamp)} lamps.`
          : 'Nothing is built yet. The run goes on when this panel is closed, and after the page was closed.'}
      </p>
    )
  const shown = spread.figures.find((f) => f.name === figure) ?? spread.figures[0]
  return (
    <div className="tolerances-results">
      {shown && <Shares spread={shown} actions={actions} />}
      <div className="tolerances-tables">
        <SevereLines spread={spread} />
        <SpreadTables spread={spread} />
        <SunLine spread={spread} />
        <p className="tolerances-quiet">
          {TWO_ERRORS_NOTE} {NOT_SPREAD_NOTE}
        </p>
      </div>
    </div>
  )
}

/** By geometry, so that no built lamp is worse: the traced sun of the drawn one stands on its sheet. */
const SunLine = ({ spread: { sunMostKWm2 } }: { spread: Spread }) =>
  sunMostKWm2 === null ? null : (
    <p>
      Sun inside, from any side: <strong>at most {withUnit(roundUp(sunMostKWm2, 2), 'kW/m²')}</strong> in any of these
      lamps, by geometry: all that falls in, on one disc. Cover the lamp whenever it is off.
    </p>
  )

/** Severe findings that come only with building first: those of the drawn lamp stand on the sheet already. */
function SevereLines({ spread: { severe, lamps, empty } }: { spread: Spread }) {
  const system = useUnitSystem()
  const fresh = severe.filter(({ drawn }) => !drawn)
  if (fresh.length === 0 && !empty) return null
  return (
    <ul className="tolerances-severe">
      {fresh.map(({ rule, title, lamps: n }) => (
        <li key={rule}>
          <strong>
            {n} of {lamps} lamps have a severe finding that the drawn one hasn’t,
          </strong>{' '}
          for instance: {inSystem(title, system)}
        </li>
      ))}
      {empty && (
        <li>
          {empty.lamps} of {lamps} can’t be built: {inSystem(empty.why, system)}
        </li>
      )}
    </ul>
  )
}
