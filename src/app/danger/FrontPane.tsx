// In front of the lamp: the clear distance of each material, its threshold, and where the light exceeds it.

import { harmWords } from '../../checks/words.ts'
import { lightInFront, readHarmAt } from '../../hazard/inTheWay.ts'
import type { ClearOf, DangerReading } from '../../job/danger/result.ts'
import { thresholds } from '../../library/thresholds.ts'
import { inSystem } from '../../num/quantity.ts'
import { T95 } from '../../num/stats.ts'
import { belowWords } from '../../report/danger.ts'
import { lightSentence, ownPlaceSentences } from '../../report/dangerPlaces.ts'
import { clearDistance, formatValue, toDigits } from '../common/format.ts'
import { danger, useDanger } from '../store/danger.ts'
import { useDesign } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import { Toggle } from '../ui/Toggle.tsx'
import { setThreshold } from './edits.ts'
import { FrontMap } from './FrontMap.tsx'
import { keepAway, untilHarm, upTo } from './model/words.ts'
import type { PaneProps } from './pane.ts'
import { showPlace } from './pane.ts'

export function FrontPane({ reading }: PaneProps) {
  return (
    <>
      <h3>Keep clear</h3>
      <ClearTable reading={reading} />
      <p className="danger-quiet">
        Distances from the lamp’s front, rounded up; times for what is dark and dry, rounded down. Bars are to one
        scale. Worst place in front: {upTo(reading.worstKWm2)}.
      </p>
      <h3>Where it is that strong</h3>
      <FrontMap reading={reading} />
      <Outlines />
      <h3>Where light gathers in front</h3>
      <Foci reading={reading} />
      <Elsewhere reading={reading} />
    </>
  )
}

/** Smaller discs, beside and behind the lamp, inside. */
function Elsewhere({ reading }: { reading: DangerReading }) {
  const system = useUnitSystem()
  const sentences = ownPlaceSentences(reading, system)
  return (
    <>
      <p className="danger-quiet">{inSystem(lightSentence(reading), system)}</p>
      {sentences.length > 0 && <h3>Elsewhere</h3>}
      {sentences.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
    </>
  )
}

function ClearTable({ reading }: { reading: DangerReading }) {
  const system = useUnitSystem()
  const far = Math.max(1, ...reading.clear.map((c) => c.clearDistanceMm))
  const distanceMm = useDanger((s) => s.distanceMm)
  // From the lamp itself, so that the mark doesn't wait for the reading.
  const choices = useDesign((s) => s.lamp.danger)
  const table = thresholds(choices, reading.ambientC)
  const harm = readHarmAt(
    reading.front,
    distanceMm,
    reading.clear,
    reading.ambientC,
    lightInFront(reading.front, { small: reading.small }),
  )
  return (
    <table className="danger-table danger-clear">
      <thead>
        <tr>
          <th scope="col">What is there</th>
          <th scope="col">Harm from</th>
          <th scope="col">Keep clear</th>
          <th scope="col">At the worst place</th>
          <th scope="col">
            <NumberField
              label="At"
              value={distanceMm}
              unit="mm"
              step={100}
              min={1}
              max={1_000_000}
              description="Time to harm at this distance from the front"
              onSet={(mm) => {
                danger.setState({ distanceMm: mm })
                return null
              }}
            />
          </th>
        </tr>
      </thead>
      <tbody>
        {table.map((t, i) => {
          const c = reading.clear[i]!
          return (
            <tr key={t.id} data-changed={t.changedFrom !== null || undefined}>
              <th scope="row">
                {t.name}
                <details className="danger-why">
                  <summary aria-label={`${t.name}: source of its threshold`}>source</summary>
                  {t.source}
                </details>
              </th>
              <td className="danger-threshold" data-head="Harm from">
                <NumberField
                  label={`${t.name}: harm from, kW/m²`}
                  hideLabel
                  value={t.kWm2}
                  unit=""
                  step={0.1}
                  min={0.01}
                  max={1000}
                  onSet={(kWm2) => setThreshold(t.id, t.name, kWm2 === (t.changedFrom ?? t.kWm2) ? null : kWm2)}
                />
                <span className="danger-unit">kW/m²</span>
                {t.changedFrom !== null && (
                  <span className="danger-changed">
                    <strong>changed</strong> from {toDigits(t.changedFrom)}
                    <Button
                      kind="quiet"
                      name={`${t.name}: back to the published threshold`}
                      onPress={() => setThreshold(t.id, t.name, null)}
                    >
                      back
                    </Button>
                  </span>
                )}
              </td>
              <td data-head="Keep clear">
                <Keep of={c} far={far} />
              </td>
              <td data-head="At the worst place" data-harmed={c.secondsAtWorst !== null || undefined}>
                {c.secondsAtWorst === null
                  ? belowWords(c.shareAtWorst)
                  : `${inSystem(harmWords(c.harm), system)} in ${untilHarm(c.secondsAtWorst)}`}
              </td>
              <td data-head="At the distance above" data-harmed={harm.seconds[t.id] !== null || undefined}>
                {untilHarm(harm.seconds[t.id])}
              </td>
            </tr>
          )
        })}
      </tbody>
      <tfoot>
        <tr>
          <td colSpan={4}>Up to there, at the worst place of that plane</td>
          <td>{upTo(harm.kWm2)}</td>
        </tr>
      </tfoot>
    </table>
  )
}

function Keep({ of, far }: { of: ClearOf; far: number }) {
  const system = useUnitSystem()
  return (
    <>
      <b>{keepAway(of.clearDistanceMm, system)}</b>
      <span className="danger-bar" aria-hidden="true">
        <span
          data-burns={of.harm === 'catches fire' || of.harm === 'chars and glows' || undefined}
          style={{ width: `${(100 * of.clearDistanceMm) / far}%` }}
        />
      </span>
    </>
  )
}

function Outlines() {
  const on = useDanger((s) => s.outlines)
  return (
    <div className="danger-toggle">
      <Toggle
        label="Draw these outlines in the Section and the Solid"
        value={on}
        onChange={(outlines) => danger.setState({ outlines })}
      />
    </div>
  )
}

function Foci({ reading }: { reading: DangerReading }) {
  const system = useUnitSystem()
  const { foci } = reading
  if (foci.length === 0) return <p className="danger-quiet">Nowhere: the light only thins out from the front on.</p>
  return (
    <table className="danger-table danger-foci">
      <thead>
        <tr>
          <th scope="col">Before the front</th>
          <th scope="col">Beside the axis</th>
          <th scope="col">Up to</th>
          <th scope="col">Over</th>
          <th scope="col">Place</th>
        </tr>
      </thead>
      <tbody>
        {foci.slice(0, 12).map((f) => (
          <tr key={`${f.xMm} ${f.yMm} ${f.zMm}`}>
            <td>{clearDistance(f.distanceMm, system)}</td>
            <td>{formatValue(Math.round(Math.hypot(f.xMm, f.yMm)), 'mm', 3, system)}</td>
            <td>{upTo(f.kWm2 + T95 * f.se)}</td>
            <td>⌀ {formatValue(f.discMm, 'mm', 2, system)}</td>
            <td>
              <button
                type="button"
                className="danger-where"
                aria-label={`Show the place ${clearDistance(f.distanceMm, system)} before the front`}
                onClick={() => showPlace({ kind: 'point', xMm: f.xMm, yMm: f.yMm, zMm: f.zMm, on: 'front' })}
              >
                show
              </button>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
