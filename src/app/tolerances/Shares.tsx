// Where a figure's spread comes from, and what to hold tighter.
import type { FigureSpread } from '../../job/tolerances/result.ts'
import { tolerancesOf } from '../../library/typicalTolerances.ts'
import { spreadWords, TOLERANCE_WORDS } from '../../report/tolerances.ts'
import { THIN } from '../common/format.ts'
import { useDesign } from '../store/stores.ts'
import { useTolerances } from '../store/tolerances.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { confirmedWords, shareBars, tighterWords } from './model/words.ts'

interface SharesProps {
  spread: FigureSpread
  actions: { confirm(): void; stop(): void }
}

export function Shares({ spread, actions }: SharesProps) {
  const bars = shareBars(spread)
  const { name } = spreadWords(spread.name)
  return (
    <section className="tolerances-shares" aria-label={`Where the spread of ${name.toLowerCase()} comes from`}>
      <h3>{name}: where the spread comes from</h3>
      {bars.length === 0 ? (
        <p className="tolerances-quiet">
          Tracing’s own noise hides what building does to it: too little to name a tolerance. More lamps would tell.
        </p>
      ) : (
        <>
          <Tighter spread={spread} actions={actions} />
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

function Tighter({ spread, actions }: SharesProps) {
  const system = useUnitSystem()
  const lamp = useDesign((s) => s.lamp)
  const tolerance = spread.tighter ? tolerancesOf(lamp)[spread.tighter.name] : undefined
  const words = tighterWords(spread, tolerance, system)
  if (!words) return null
  return (
    <div className="tolerances-tighter">
      <p>
        <strong>{words.todo}</strong> {words.brings}
      </p>
      <Confirm spread={spread} actions={actions} />
    </div>
  )
}

/** By retracing: the estimate above is of the shares. */
function Confirm({ spread, actions }: SharesProps) {
  const system = useUnitSystem()
  const confirmed = useTolerances((s) => s.confirmed)
  const confirming = useTolerances((s) => s.confirming)
  const isRunning = useTolerances((s) => s.state === 'running')
  const words = confirmedWords(spread, confirmed, system)
  if (words) return <p role="status">{words}</p>
  if (confirming)
    return (
      <p className="tolerances-confirm">
        <span role="status">
          {confirming.have} of {confirming.all} lamps retraced with{' '}
          {TOLERANCE_WORDS[confirming.name].name.toLowerCase()} halved
        </span>
        <Button kind="quiet" name="Stop retracing" onPress={actions.stop}>
          Stop
        </Button>
      </p>
    )
  return (
    <Button isDisabled={isRunning} onPress={actions.confirm}>
      Retrace with it halved
    </Button>
  )
}
