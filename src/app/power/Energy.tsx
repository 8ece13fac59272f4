// Energy balance until the moment shown.
import type { ModeRun } from '../../electrothermal/result.ts'
import { THIN, toDigits } from '../common/format.ts'
import { momentWords } from '../common/timeScale.ts'
import { shownMoment, usePower } from '../store/power.ts'
import { energyAt, energyWords } from './model/plot.ts'

export function Energy({ run }: { run: ModeRun }) {
  const atS = usePower((s) => shownMoment(run, s.atS))
  const { inJ, lines } = energyAt(run, atS)
  return (
    <section className="power-energy" aria-labelledby="power-energy-title">
      <div className="power-part-head">
        <h3 id="power-energy-title">Where the energy went</h3>
        <span className="power-quiet">
          {energyWords(inJ)} until {momentWords(atS)}
        </span>
      </div>
      {lines.length === 0 ? (
        <p className="power-quiet">At switch-on nothing has gone anywhere yet.</p>
      ) : (
        <dl>
          {lines.map((l) => (
            <div key={l.name} data-light={l.name === 'Leaves as light' || undefined}>
              <dt>{l.name}</dt>
              <dd>
                <i style={{ width: `${Math.min(100, 100 * l.share)}%` }} />
                <span>
                  {toDigits(100 * l.share, 2)}
                  {THIN}%
                </span>
                <span>{energyWords(l.joule, inJ)}</span>
              </dd>
            </div>
          ))}
        </dl>
      )}
    </section>
  )
}
