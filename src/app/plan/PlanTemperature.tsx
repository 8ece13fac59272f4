// The plate's temperature over the face: mode, moment and colour scale.

import type { ModeRun } from '../../electrothermal/result.ts'
import { degreesText } from '../common/format.ts'
import { colourRange, hottestAt, rangeWords } from '../common/plateFrames.ts'
import { rampCss } from '../common/ramp.ts'
import { momentWords } from '../common/timeScale.ts'
import { usePlan } from '../store/plan.ts'
import { power, shownMoment, shownRun, usePower } from '../store/power.ts'
import { useDesign } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Choice } from '../ui/Choice.tsx'
import { MomentSlider } from '../ui/MomentSlider.tsx'

export function PlanTemperature() {
  const on = usePlan((s) => s.overlay === 'warmth')
  return on ? <Panel /> : null
}

function Panel() {
  const run = usePower(shownRun)
  const why = usePower((s) => s.why)
  const known = usePower((s) => s.report !== null)
  if (!run)
    return (
      <div className="plan-returned">
        {why || (known ? 'No board stands on the face.' : 'Heat and power are being run…')}
      </div>
    )
  return <OfRun run={run} />
}

const RAMP_CSS = `linear-gradient(90deg, ${Array.from({ length: 9 }, (_, i) => rampCss(i / 8)).join(', ')})`

function OfRun({ run }: { run: ModeRun }) {
  const system = useUnitSystem()
  const modes = usePower((s) => s.report?.modes)
  const stale = usePower((s) => s.stale)
  const scale = usePower((s) => s.scale)
  const atS = usePower((s) => shownMoment(run, s.atS))
  const boards = useDesign((s) => s.lamp.boards)
  const hot = hottestAt(run, atS)
  const [least, most] = colourRange(run.plateFrames, scale, atS)
  return (
    <div className="plan-warmth">
      <Choice
        label="Mode"
        segments={(modes?.length ?? 0) <= 4}
        value={run.id}
        options={(modes ?? []).map((m) => ({ key: m.id, name: m.name }))}
        asTyped
        onChoose={(mode: string) => power.setState({ mode, atS: null })}
      />
      <MomentSlider run={run} />
      <Choice
        label="Colours over"
        segments
        value={scale}
        options={[
          { key: 'moment', name: 'this moment' },
          { key: 'run', name: 'whole run' },
        ]}
        onChoose={(scale: 'moment' | 'run') => power.setState({ scale })}
      />
      <p>
        <span>
          <b className="plan-now">{momentWords(atS)}</b> after switch-on{stale && ' (edit being run…)'}
        </span>
        <span>
          hottest: board{' '}
          <b className="plan-now">
            {boards[hot.index]?.id ?? hot.index + 1}, junction {degreesText(hot.c, system)}
          </b>
        </span>
        <span>{rangeWords(run.plateFrames, scale, atS, system)}</span>
        <span className="plan-ramp-row" aria-hidden="true">
          {degreesText(least, system)} <i className="plan-ramp" style={{ background: RAMP_CSS }} />{' '}
          {degreesText(most, system)}
        </span>
      </p>
    </div>
  )
}
