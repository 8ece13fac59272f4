// Temperatures, volts and amperes over the lamp's own run of heat and power, and what may differ.
import { useRef } from 'react'
import type { RunningFit } from '../../job/fit/result.ts'
import { RUNNING_NOTES, runningTitle, runningVerdict, runningWords } from '../../report/measuring.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { useSize } from '../ui/useSize.ts'
import { Explanations } from './Explanations.tsx'
import { runningPlots } from './model/plot.ts'
import { ReadingsPlot } from './ReadingsPlot.tsx'

export function Running({ fit }: { fit: RunningFit }) {
  const system = useUnitSystem()
  const frame = useRef<HTMLDivElement>(null)
  const widthPx = useSize(frame)?.widthPx ?? 0
  return (
    <section aria-label={runningTitle(fit)}>
      <h3>{runningTitle(fit)}</h3>
      <p>{runningWords(fit, system)}</p>
      <p className="readings-quiet">Points: what was read, with ±. Line: the lamp as drawn.</p>
      <div ref={frame} className="readings-plots">
        {widthPx > 0 &&
          runningPlots(fit.points).map(({ name, plotted }) => (
            <ReadingsPlot key={name} set={name} plotted={plotted} widthPx={widthPx} />
          ))}
      </div>
      <p className="readings-verdict">{runningVerdict(fit)}</p>
      <Explanations of={fit.explanations} />
      <p className="readings-quiet">Scatter: 1 is what stated uncertainties allow. {RUNNING_NOTES[fit.kind]}</p>
    </section>
  )
}
