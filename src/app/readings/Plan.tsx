// What to measure: steps, places and what the meter will show; to print, or as a table to fill in.

import { planCsv, planHtml, planWords } from '../../report/measuringPlan.ts'
import { pageMark, shownHtml } from '../common/decimalMark.ts'
import { sameLight } from '../common/sameLight.ts'
import { fileStem, saveFile } from '../common/saveFile.ts'
import { readings, useReadings } from '../store/readings.ts'
import { useDesign } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import { Table } from '../ui/Table.tsx'
import type { ReadingsActions } from './runner.ts'

export function Plan({ actions }: { actions: ReadingsActions }) {
  const made = useReadings((s) => s.plan)
  const lamp = useDesign((s) => s.lamp)
  const isOld = made !== null && !sameLight(lamp, made.lamp)
  return (
    <div className="readings-plan">
      <MakePlan actions={actions} />
      {isOld && <p className="readings-old">The lamp has changed since: make the plan again.</p>}
      {made && <Words plan={made.plan} lamp={made.lamp} />}
    </div>
  )
}

function MakePlan({ actions }: { actions: ReadingsActions }) {
  const state = useReadings((s) => s.state)
  const why = useReadings((s) => s.why)
  const wallM = useReadings((s) => s.wallM)
  const busy = state === 'running' || state === 'waiting'
  return (
    <div className="readings-row">
      <NumberField
        label="Wall at"
        value={wallM}
        whenEmpty="chosen by the lamp"
        unit="m"
        min={0.5}
        max={1000}
        step={0.5}
        description="From the lamp’s front; emptied, it is chosen by the lamp"
        onSet={(value) => {
          readings.setState({ wallM: value })
          return null
        }}
        onClear={() => {
          readings.setState({ wallM: null })
          return null
        }}
      />
      {busy ? (
        <Button onPress={actions.stop}>Stop</Button>
      ) : (
        <Button kind="strong" onPress={actions.plan}>
          Make the plan
        </Button>
      )}
      <span className="readings-quiet" role="status">
        {state === 'waiting' && 'Waits for the lamp’s own first figures'}
        {state === 'running' && 'Lux are being traced…'}
      </span>
      {why && <span className="readings-why">{why}</span>}
    </div>
  )
}

type Made = NonNullable<ReturnType<typeof readings.getState>['plan']>

function Words({ plan, lamp }: Made) {
  const words = planWords(plan, lamp, useUnitSystem())
  const stem = fileStem(lamp.name)
  return (
    <article aria-label="Measuring plan">
      <div className="readings-row">
        <Button
          hint="A page to print, with empty columns; it opens on a phone"
          onPress={() => saveFile(`${stem}-measuring.html`, shownHtml(planHtml(words)), 'text/html')}
        >
          Page to print
        </Button>
        <Button
          hint="A table for a spreadsheet; filled in, it is pasted under Readings"
          onPress={() => saveFile(`${stem}-readings.csv`, planCsv(plan, pageMark), 'text/csv')}
        >
          CSV to fill in
        </Button>
        <span className="readings-quiet">As drawn: {words.drawn.join(', ')}</span>
      </div>
      <h3>Before you switch on</h3>
      <ul className="readings-safety">
        {words.safety.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <h3>How</h3>
      <ol>
        {words.steps.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ol>
      <h3>FL 1’s figures</h3>
      <ul>
        {words.fl1.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <div className="readings-tables">
        {words.tables.map(({ title, head, rows }) => (
          <Table
            key={title}
            caption={title}
            showCaption
            rows={rows}
            rowKey={(row) => row[0] ?? ''}
            columns={head.slice(0, 2).map((name, i) => ({ key: name, name, of: (row: string[]) => row[i] ?? '' }))}
          />
        ))}
      </div>
    </article>
  )
}
