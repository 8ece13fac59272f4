// Where a figure's spread comes from, and what to hold tighter.
import type { FigureSpread } from '../../job/tolerances/result.ts'
import { tolerancesOf } from '../../library/typicalTolerances.ts'
import { sweptWords } from '../../report/sweep.ts'
import { TOLERANCE_WORDS } from '../../report/tolerances.ts'
import { THIN } from '../common/format.ts'
import { useDesign } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { shareBars, tighterWords } from './model/words.ts'

export function Shares({ spread }: { spread: FigureSpread }) {
  const bars = shareBars(spread)
  const { name } = sweptWords(spread.name)
  return (
    <section className="tolerances-shares" aria-label={`Where the spread of ${name.toLowerCase()} comes from`}>
      <h3>{name}: where the spread comes from</h3>
      {bars.length === 0 ? (
        <p className="tolerances-quiet">
          Tracing’s own noise hides what building does to it: too little to name a tolerance. More lamps would tell.
        </p>
      ) : (
        <>
          <Tighter spread={spread} />
          <ul className="tolerances-bars">
            {bars.map((bar) => (
              <li key={bar.name} title={bar.title}>
                <span className="tolerances-bar-name">{TOLERANCE_WORDS[bar.name].name}</span>
                <span className="tolerances-bar" aria-hidden="true">
                  <i className="tolerances-bar-total" style={{ width: `${100 * bar.total}%` }} />
                  <i className="tolerances-bar-first" style={{ width: `${100 * bar.first}%` }} />
                </span>
                <span className="tolerances-bar-value">
                  {Math.round(100 * bar.first)} / {Math.round(100 * bar.total)}
                  {THIN}%
                </span>
              </li>
            ))}
          </ul>
          <p className="tolerances-quiet">
            Share of the variance: <b className="tolerances-key-first">alone</b> /{' '}
            <b className="tolerances-key-total">together with others</b>. Point at a bar for its 95{THIN}% interval.
          </p>
        </>
      )}
    </section>
  )
}

function Tighter({ spread }: { spread: FigureSpread }) {
  const system = useUnitSystem()
  const lamp = useDesign((s) => s.lamp)
  const tolerance = spread.tighter ? tolerancesOf(lamp)[spread.tighter.name] : undefined
  const words = tighterWords(spread, tolerance, system)
  if (!words) return null
  return (
    <p className="tolerances-tighter">
      <strong>{words.todo}</strong> {words.brings}
    </p>
  )
}
