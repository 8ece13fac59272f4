import { EYE_NOTE, FLICKER_NOTE, SCREENING_NOTE } from '../../report/danger.ts'
import { clearDistance, THIN, toDigits } from '../common/format.ts'
import { untilHarm } from './model/words.ts'
import type { PaneProps } from './pane.ts'

const away = (metres: number): string => (metres > 0 ? clearDistance(1000 * metres) : `under 200${THIN}mm`)

/** Safe distances for eyes. The note that this is a screening stands beside the figures, not below them. */
export function EyesPane({ reading: { eye } }: PaneProps) {
  if (!eye) return <p className="danger-quiet">No light leaves the lamp.</p>
  return (
    <>
      <p className="danger-caution">{SCREENING_NOTE}</p>
      <table className="danger-table">
        <thead>
          <tr>
            <th scope="col">Look</th>
            <th scope="col">A blink, 0.25{THIN}s</th>
            <th scope="col">10{THIN}s</th>
            <th scope="col">100{THIN}s</th>
            <th scope="col">All day</th>
          </tr>
        </thead>
        <tbody>
          {eye.distances.map((d) => (
            <tr key={d.angleDeg}>
              <th scope="row">{d.angleDeg === 0 ? 'Straight in' : `From ${d.angleDeg}° aside`}</th>
              <td data-harmed={d.metres.blink > 0 || undefined}>{away(d.metres.blink)}</td>
              <td data-harmed={d.metres.tenSeconds > 0 || undefined}>{away(d.metres.tenSeconds)}</td>
              <td data-harmed={d.metres.hundredSeconds > 0 || undefined}>{away(d.metres.hundredSeconds)}</td>
              <td>{away(d.noLimitM)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>
        Keep at least so far away for a look of so long; upper ends. At {clearDistance(eye.nearest.distanceMm)},
        straight in: blue light {limitWords(eye.nearest.blueSeconds)}, retinal heat{' '}
        {limitWords(eye.nearest.thermalSeconds)}. <b>Never look in, through field glasses least of all.</b>
      </p>
      <p className="danger-quiet">
        Source: weighted radiance {toDigits(eye.source.blueWm2sr)}
        {THIN}W/m²sr blue, {toDigits(eye.source.thermalWm2sr)}
        {THIN}W/m²sr retinal heat. {EYE_NOTE}
      </p>
      <h3>Dimmed by pulse width</h3>
      <p>{FLICKER_NOTE}</p>
    </>
  )
}

const limitWords = (seconds: number | null) =>
  seconds === null ? 'stays below its limit' : `reaches its limit after ${untilHarm(seconds)}`
