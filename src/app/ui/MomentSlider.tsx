// The slider for the moment of a mode, shared by all that show one.

import { useMemo } from 'react'
import type { ModeRun } from '../../electrothermal/result.ts'
import { degreesText } from '../common/format.ts'
import { hottestAt } from '../common/plateFrames.ts'
import { momentWords, timeScale } from '../common/timeScale.ts'
import { power, shownMoment, usePower } from '../store/power.ts'
import { useDesign } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'

const STEPS = 1000

export function MomentSlider({ run }: { run: ModeRun }) {
  const system = useUnitSystem()
  const atS = usePower((s) => shownMoment(run, s.atS))
  const boards = useDesign((s) => s.lamp.boards)
  const endS = run.curves.tS[run.curves.tS.length - 1]!
  const time = useMemo(() => timeScale(endS, 0, STEPS), [endS])
  const hot = hottestAt(run, atS)
  const name = boards[hot.index]?.id ?? `${hot.index + 1}`
  return (
    <input
      type="range"
      className="ui-moment"
      min={0}
      max={STEPS}
      step={1}
      disabled={endS === 0}
      value={Math.round(time.x(atS))}
      aria-label="Moment after switch-on"
      aria-valuetext={`${momentWords(atS)}; hottest junction ${degreesText(hot.c, system)} on board ${name}`}
      onChange={(e) => {
        const step = Number(e.currentTarget.value)
        power.setState({ atS: step === STEPS ? null : time.log && step === 0 ? 0 : time.at(step) })
      }}
    />
  )
}
