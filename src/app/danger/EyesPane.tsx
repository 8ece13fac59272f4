import { flickerWords, groupSentence, HAZARDS, riskWords } from '../../checks/eyeWords.ts'
import type { EyeDistances } from '../../hazard/eyeSheet.ts'
import { inSystem } from '../../num/quantity.ts'
import { EYE_NOTE, eyeLeadSentence, FLICKER_NOTE, SCREENING_NOTE, trafficSentence } from '../../report/danger.ts'
import { clearDistance, THIN, toDigits } from '../common/format.ts'
import type { UnitSystem } from '../common/unitSystem.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { untilHarm } from './model/words.ts'
import type { PaneProps } from './pane.ts'

const away = (metres: number, system: UnitSystem): string =>
  metres > 0 ? clearDistance(1000 * metres, system) : `under ${clearDistance(200, system)}`

/** Safe distances for eyes. The note that this is a screening stands beside the figures, not below them. */
export function EyesPane({ reading: { eye } }: PaneProps) {
  const system = useUnitSystem()
  if (!eye) return <p className="danger-quiet">No light leaves the lamp.</p>
  return (
    <>
      <p>
        <b>{eyeLeadSentence(eye, system)}</b> Never look in, through field glasses least of all.
      </p>
      <p className="danger-caution">{SCREENING_NOTE}</p>
      <table className="danger-table">
        <thead>
          <tr>
            <th scope="col">Keep away</th>
            <th scope="col">A blink, 0.25{THIN}s</th>
            <th scope="col">10{THIN}s</th>
            <th scope="col">100{THIN}s</th>
            <th scope="col">No limit</th>
          </tr>
        </thead>
        <tbody>
          {eye.distances.map((d) => (
            <Row key={d.angleDeg} name={d.angleDeg === 0 ? 'Worst place' : `${d.angleDeg}° aside or more`} of={d} />
          ))}
          <Row name="Worst place, field glasses" of={eye.glasses} />
        </tbody>
      </table>
      <p>
        Keep at least so far away for a look of so long; upper ends. At {clearDistance(eye.nearest.distanceMm, system)},
        at the worst place: blue light {limitWords(eye.nearest.blueSeconds)}, retinal heat{' '}
        {limitWords(eye.nearest.thermalSeconds)}.
      </p>
      <h3>Risk group, by screening</h3>
      <p>{inSystem(groupSentence(eye.risk), system)}.</p>
      <table className="danger-table">
        <tbody>
          {eye.risk.at200.rows.map((r) => (
            <tr key={r.hazard}>
              <th scope="row">{HAZARDS[r.hazard]}</th>
              <td>{riskWords(r)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <h3>Drivers and aircraft</h3>
      <p>{trafficSentence(eye, system)}</p>
      <p className="danger-quiet">
        Source: weighted radiance {toDigits(eye.source.blueWm2sr)}
        {THIN}W/m²sr blue, {toDigits(eye.source.thermalWm2sr)}
        {THIN}W/m²sr retinal heat. {EYE_NOTE}
      </p>
      <h3>Dimmed by pulse width</h3>
      {eye.flicker.map((f) => (
        <p key={f.driver}>{flickerWords(f)}.</p>
      ))}
      <p>{FLICKER_NOTE}</p>
    </>
  )
}

function Row({ name, of: { metres, noLimitM } }: { name: string; of: EyeDistances }) {
  const system = useUnitSystem()
  return (
    <tr>
      <th scope="row">{name}</th>
      <td data-harmed={metres.blink > 0 || undefined}>{away(metres.blink, system)}</td>
      <td data-harmed={metres.tenSeconds > 0 || undefined}>{away(metres.tenSeconds, system)}</td>
      <td data-harmed={metres.hundredSeconds > 0 || undefined}>{away(metres.hundredSeconds, system)}</td>
      <td>{away(noLimitM, system)}</td>
    </tr>
  )
}

const limitWords = (seconds: number | null) =>
  seconds === null ? 'stays below its limit' : `reaches its limit after ${untilHarm(seconds)}`
