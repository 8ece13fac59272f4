// Readings over the traced curve, how well they agree, and what may differ from the drawing.
import { useEffect, useRef, useState } from 'react'
import { withCause } from '../../job/fit/causes.ts'
import type { Explanation, FitResult } from '../../job/fit/result.ts'
import { readLamp } from '../../lamp/read.ts'
import {
  agreementWords,
  CAUSES_NOTE,
  causeValue,
  explanationName,
  isExplained,
  nextWords,
  probabilityText,
  verdictWords,
} from '../../report/measuring.ts'
import { sameLight } from '../common/sameLight.ts'
import { storage } from '../store/pageStorage.ts'
import { readings, useReadings } from '../store/readings.ts'
import { design, useDesign } from '../store/stores.ts'
import { Button } from '../ui/Button.tsx'
import { Table } from '../ui/Table.tsx'
import { bySet } from './model/plot.ts'
import { ReadingsPlot } from './ReadingsPlot.tsx'
import type { ReadingsActions } from './runner.ts'

export function Causes({ actions }: { actions: ReadingsActions }) {
  const compared = useReadings((s) => s.compared)
  const lamp = useDesign((s) => s.lamp)
  const isOld = compared !== null && (compared.readings !== lamp.readings || !sameLight(lamp, compared.lamp))
  return (
    <>
      <Compare actions={actions} isFirst={compared === null} />
      {isOld && <p className="readings-old">The lamp or the readings have changed since: compare again.</p>}
      {compared && <Found result={compared.result} />}
    </>
  )
}

function Compare({ actions, isFirst }: { actions: ReadingsActions; isFirst: boolean }) {
  const state = useReadings((s) => s.state)
  const why = useReadings((s) => s.why)
  const { done, all } = useReadings((s) => s.progress)
  const busy = state === 'running' || state === 'waiting'
  return (
    <div className="readings-row">
      {busy ? (
        <Button kind="plain" onPress={actions.stop}>
          Stop
        </Button>
      ) : (
        <Button
          kind="strong"
          hint="Traces the lamp with each cause in turn: half a minute or so"
          onPress={actions.compare}
        >
          {isFirst ? 'Compare with the trace' : 'Compare again'}
        </Button>
      )}
      <span className="readings-quiet" role="status">
        {state === 'waiting' && 'Waits for the lamp’s own first figures'}
        {state === 'running' && (all > 0 ? `${done} of ${all} predictions, and what follows from them` : 'Tracing…')}
        {state === 'stopped' && 'Stopped'}
      </span>
      {why && <span className="readings-why">{why}</span>}
    </div>
  )
}

/** Explanations that are listed. */
const SHOWN = 8

function Found({ result }: { result: FitResult }) {
  const { explanations, next } = result
  const frame = useRef<HTMLDivElement>(null)
  const widthPx = useWidth(frame)
  return (
    <section aria-label="Readings against the trace">
      <h3>Against the prediction</h3>
      <p>{agreementWords(result)}</p>
      <div ref={frame} className="readings-plots">
        {widthPx > 0 &&
          bySet(result.points).map(({ set, points }) => (
            <ReadingsPlot
              key={`${set} ${points[0]?.xMm} ${points[0]?.yMm}`}
              set={set}
              points={points}
              widthPx={widthPx}
            />
          ))}
      </div>
      <h3>Why it differs</h3>
      <p className="readings-verdict">{verdictWords(result)}</p>
      <Table
        caption="Explanations, likeliest first"
        rows={explanations.slice(0, SHOWN)}
        rowKey={(e: Explanation) => explanationName(e)}
        columns={[
          {
            key: 'p',
            name: 'Chance',
            of: (e: Explanation) => (isExplained(result) ? probabilityText(e.probability) : '–'),
          },
          { key: 'name', name: 'Cause', of: (e: Explanation) => explanationName(e), words: true, heading: true },
          { key: 'value', name: 'Best value (95 %)', of: (e: Explanation) => <Values of={e} />, words: true },
          { key: 'scatter', name: 'Scatter', of: (e: Explanation) => e.birge.toPrecision(2) },
          {
            key: 'adopt',
            name: <span className="ui-hidden">Adopt</span>,
            of: (e: Explanation) => isExplained(result) && <Adopt of={e} />,
          },
        ]}
      />
      {next && <p className="readings-next">{nextWords(next, explanations)}</p>}
      <p className="readings-quiet">
        Scatter: 1 is what stated uncertainties allow. {CAUSES_NOTE} {result.traced} predictions in{' '}
        {result.seconds.toPrecision(2)} s.
      </p>
    </section>
  )
}

const Values = ({ of }: { of: Explanation }) => of.causes.map((c) => <div key={c.key}>{causeValue(c)}</div>)

/** Into a copy of the lamp: the drawing stays. */
function Adopt({ of }: { of: Explanation }) {
  const changes = of.causes.filter((c) => c.key !== 'meter')
  if (changes.length === 0) return null
  const adopt = () => {
    let lamp = design.lamp()
    for (const cause of changes) {
      const made = withCause(lamp, cause, cause.value)
      if (!made.ok) return readings.setState({ why: made.why[0] ?? 'It can’t be adopted.' })
      lamp = made.lamp
    }
    const named = readLamp({ ...lamp, name: `${lamp.name.slice(0, 100)}, as built` })
    if (!named.ok) return
    void storage.add(named.lamp, 'As built')
    readings.setState({ announcement: `${named.lamp.name} has been opened beside the drawn lamp.` })
  }
  return (
    <Button kind="quiet" hint="Opens a copy of the lamp with this value; the drawn one stays" onPress={adopt}>
      Adopt
    </Button>
  )
}

function useWidth(of: { current: HTMLElement | null }): number {
  const [widthPx, setWidth] = useState(0)
  useEffect(() => {
    if (!of.current) return
    const watch = new ResizeObserver(([entry]) => entry && setWidth(Math.floor(entry.contentRect.width)))
    watch.observe(of.current)
    return () => watch.disconnect()
  }, [of])
  return widthPx
}
