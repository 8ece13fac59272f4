// Light, temperature, voltage and current over a common time axis, with a line at the moment shown.

import { memo, useState } from 'react'
import type { ModeRun } from '../../electrothermal/result.ts'
import { scaleOf, THIN, toDigits } from '../common/format.ts'
import { prefersLog, type TimeScale, timeScale } from '../common/timeScale.ts'
import { shownUnit, type UnitSystem } from '../common/unitSystem.ts'
import { power, shownMoment, usePower } from '../store/power.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Choice } from '../ui/Choice.tsx'
import { onCurve, plotCurves } from './model/plot.ts'
import { useWidth } from './useWidth.ts'

const LEFT = 54
const RIGHT = 12
const HEIGHT = 84
const TOP = 18

interface PlotOf {
  title: string
  unit: string
  toShown(value: number): number
  zero: boolean
  curves: readonly { name: string; y: ArrayLike<number> }[]
}

function plotsOf({ curves: c }: ModeRun, system: UnitSystem): PlotOf[] {
  const most = c.lm.reduce((a, b) => Math.max(a, b), 0)
  const lm = scaleOf(most, 'lm')
  const celsius = shownUnit('°C', system)
  const same = (v: number) => v
  return [
    {
      title: 'Light of the emitters',
      unit: lm.unit,
      toShown: (v) => v * lm.by,
      zero: true,
      curves: [{ name: 'light', y: c.lm }],
    },
    {
      title: 'Temperature',
      unit: celsius.word,
      toShown: celsius.toShown,
      zero: false,
      curves: [
        { name: 'junction, hottest', y: c.junctionMaxC },
        { name: 'plate, hottest', y: c.plateMaxC },
        { name: 'plate, mean', y: c.plateMeanC },
      ],
    },
    { title: 'Supply, voltage', unit: 'V', toShown: same, zero: false, curves: [{ name: 'voltage', y: c.supplyV }] },
    { title: 'Supply, current', unit: 'A', toShown: same, zero: true, curves: [{ name: 'current', y: c.supplyA }] },
  ]
}

export function Curves({ run }: { run: ModeRun }) {
  const system = useUnitSystem()
  const [box, widthPx] = useWidth()
  const endS = run.curves.tS[run.curves.tS.length - 1]!
  const [chosenScale, setChosenScale] = useState<'even' | 'log' | null>(null)
  const scale = chosenScale ?? (prefersLog(endS) ? 'log' : 'even')
  const time = timeScale(endS, LEFT, Math.max(LEFT + 50, widthPx - RIGHT), scale === 'log')
  return (
    <div className="power-curves" ref={box}>
      <div className="power-part-head">
        <h3>Over time</h3>
        <Choice
          label="Time"
          segments
          value={scale}
          options={[
            { key: 'even', name: 'even' },
            { key: 'log', name: 'in decades' },
          ]}
          onChoose={(key: 'even' | 'log') => setChosenScale(key)}
        />
      </div>
      {endS === 0 ? (
        <p className="power-quiet">It ends at once: there is no curve.</p>
      ) : (
        widthPx > 0 &&
        plotsOf(run, system).map((p) => <Plot key={p.title} plot={p} run={run} time={time} widthPx={widthPx} />)
      )}
    </div>
  )
}

function Plot({ plot, run, time, widthPx }: { plot: PlotOf; run: ModeRun; time: TimeScale; widthPx: number }) {
  const foot = HEIGHT - 16
  return (
    <svg
      className="power-plot"
      width={widthPx}
      height={HEIGHT}
      role="img"
      aria-label={spoken(plot, run)}
      onPointerDown={(e) => lookAt(e.clientX - e.currentTarget.getBoundingClientRect().left, time)}
      onPointerMove={(e) => e.buttons === 1 && lookAt(e.clientX - e.currentTarget.getBoundingClientRect().left, time)}
    >
      <Drawn plot={plot} run={run} log={time.log} widthPx={widthPx} />
      <Now plot={plot} run={run} time={time} foot={foot} />
    </svg>
  )
}

const lookAt = (px: number, time: TimeScale) => power.setState({ atS: time.at(px) })

function spoken({ title, unit, toShown, curves }: PlotOf, run: ModeRun): string {
  const last = run.curves.tS.length - 1
  const ranges = curves.map(
    ({ name, y }) => `${name} ${toDigits(toShown(y[0]!))} to ${toDigits(toShown(y[last]!))} ${unit}`,
  )
  return `${title} from switch-on to the end: ${ranges.join('; ')}`
}

/** Everything but the moment, so that it renders only for another run or width. */
const Drawn = memo(function Drawn(p: { plot: PlotOf; run: ModeRun; log: boolean; widthPx: number }) {
  const { plot, run, log, widthPx } = p
  const foot = HEIGHT - 16
  const right = widthPx - RIGHT
  const endS = run.curves.tS[run.curves.tS.length - 1]!
  const time = timeScale(endS, LEFT, right, log)
  const { paths, y, yTicks } = plotCurves(
    run.curves.tS,
    plot.curves.map((c) => Float64Array.from(c.y, plot.toShown)),
    time,
    [TOP, foot],
    plot.zero,
  )
  return (
    <g>
      <text x={LEFT} y={11} className="power-plot-title">
        {plot.title}, {plot.unit}
      </text>
      {plot.curves.length > 1 && <Key names={plot.curves.map((c) => c.name)} right={right} narrow={widthPx < 480} />}
      {yTicks.map((v) => (
        <g key={v}>
          <line x1={LEFT} x2={right} y1={y(v)} y2={y(v)} />
          <text x={LEFT - 5} y={y(v) + 4} textAnchor="end">
            {toDigits(v)}
          </text>
        </g>
      ))}
      {time.ticks.map((t) => (
        <text key={t.tS} x={time.x(t.tS)} y={HEIGHT - 3} textAnchor={t.tS === 0 ? 'start' : 'middle'}>
          {t.words}
        </text>
      ))}
      {run.steppedDown && (
        <line
          className="power-plot-step"
          x1={time.x(run.steppedDown.atS)}
          x2={time.x(run.steppedDown.atS)}
          y1={TOP}
          y2={foot}
        />
      )}
      {paths.map((d, i) => (
        <path key={plot.curves[i]!.name} d={d} data-nth={i} className="power-curve" />
      ))}
    </g>
  )
}, alike)

/** Shorter labels where there is little room. */
function Key({ names, right, narrow }: { names: readonly string[]; right: number; narrow: boolean }) {
  const signs = ['━', '╌', '┈']
  const words = narrow ? ['junction', 'plate', 'its mean'] : names
  return (
    <text x={right} y={11} textAnchor="end">
      {words.map((name, i) => `${signs[i]} ${name}`).join('  ')}
    </text>
  )
}

function alike(a: { plot: PlotOf; run: ModeRun; log: boolean; widthPx: number }, b: typeof a): boolean {
  return (
    a.run === b.run &&
    a.log === b.log &&
    a.widthPx === b.widthPx &&
    a.plot.title === b.plot.title &&
    a.plot.unit === b.plot.unit
  )
}

function Now({ plot, run, time, foot }: { plot: PlotOf; run: ModeRun; time: TimeScale; foot: number }) {
  const atS = usePower((s) => shownMoment(run, s.atS))
  const x = time.x(atS)
  const value = toDigits(plot.toShown(onCurve(run.curves.tS, plot.curves[0]!.y, atS)))
  const nearEnd = x > time.x(Number.POSITIVE_INFINITY) - 60
  return (
    <g className="power-plot-now">
      <line x1={x} x2={x} y1={TOP} y2={foot} />
      <text x={nearEnd ? x - 4 : x + 4} y={TOP + 9} textAnchor={nearEnd ? 'end' : 'start'}>
        {value}
        {THIN}
        {plot.unit}
      </text>
    </g>
  )
}
