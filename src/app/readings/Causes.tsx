// Readings over the traced curve, how well they agree, and what may differ from the drawing.
import { useRef } from 'react'
import type { FitResult } from '../../job/fit/result.ts'
import { agreementWords, CAUSES_NOTE, nextWords, verdictWords } from '../../report/measuring.ts'
import { toDigits } from '../common/format.ts'
import { sameLight } from '../common/sameLight.ts'
import { useReadings } from '../store/readings.ts'
import { useDesign } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { useSize } from '../ui/useSize.ts'
import { Explanations } from './Explanations.tsx'
import { bySet, lightPlot } from './model/plot.ts'
import { ReadingsPlot } from './ReadingsPlot.tsx'
import { Running } from './Running.tsx'
import type { ReadingsActions } from './runner.ts'

/** `doubtful`: readings or sets that should be looked at again first. */
export function Causes({ actions, doubtful }: { actions: ReadingsActions; doubtful: number }) {
  const compared = useReadings((s) => s.compared)
  const lamp = useDesign((s) => s.lamp)
  const ranElse =
    compared !== null &&
    compared.running.length > 0 &&
    (compared.lamp.cooling !== lamp.cooling || compared.lamp.power !== lamp.power)
  const isOld = compared !== null && (ranElse || compared.readings !== lamp.readings || !sameLight(lamp, compared.lamp))
  return (
    <>
      <Compare actions={actions} isFirst={compared === null} />
      {isOld && <p className="readings-old">The lamp or the readings have changed since: compare again.</p>}
      {compared && doubtful > 0 && (
        <p className="readings-old">
          Something stands under “Look again”: what follows counts the readings as they are.
        </p>
      )}
      {compared?.result && <Found result={compared.result} />}
      {compared?.running.map((fit) => (
        <Running key={fit.kind} fit={fit} />
      ))}
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

function Found({ result }: { result: FitResult }) {
  const system = useUnitSystem()
  const { explanations, next } = result
  const frame = useRef<HTMLDivElement>(null)
  const widthPx = useSize(frame)?.widthPx ?? 0
  return (
    <section aria-label="Readings against the trace">
      <h3>Against the prediction</h3>
      <p>{agreementWords(result)}</p>
      <p className="readings-quiet">Points: what was read, with ±. Line: the lamp as drawn.</p>
      <div ref={frame} className="readings-plots">
        {widthPx > 0 &&
          bySet(result.points).map(({ set, points }) => (
            <ReadingsPlot
              key={`${set} ${points[0]?.xMm} ${points[0]?.yMm}`}
              set={set}
              plotted={lightPlot(points)}
              widthPx={widthPx}
            />
          ))}
      </div>
      <h3>Why it differs</h3>
      <p className="readings-verdict">{verdictWords(result)}</p>
      <Explanations of={explanations} />
      {next && <p className="readings-next">{nextWords(next, explanations, system)}</p>}
      <p className="readings-quiet">
        Scatter: 1 is what stated uncertainties allow. {CAUSES_NOTE} {result.traced} predictions in{' '}
        {toDigits(result.seconds, 2)} s.
      </p>
    </section>
  )
}
