// One parameter: a curve with its ±. The slider under it selects a cell; Enter or a click applies it.

import type { PointerEvent } from 'react'
import type { Parameter } from '../../job/sweep/parameters.ts'
import { sweptWords } from '../../report/sweep.ts'
import { formatFigure, toDigits } from '../common/format.ts'
import type { PlotBox } from '../common/plotBox.ts'
import { shownUnit } from '../common/unitSystem.ts'
import { axisNumber, axisTitle } from './model/axes.ts'
import { type CurveDrawing, drawCurve, figureOf, isSevere, mapNumbers, spanOf, whyEmpty } from './model/plot.ts'
import { type PictureProps, parametersAlong, placesOf } from './picture.ts'
import { Marks } from './ScaleBar.tsx'

export function SweepCurve(props: PictureProps) {
  const { run, lamp, figure, widthPx, heightPx, shownIndex, onLook, onTake, system } = props
  const { values } = run.axes[0]
  const box: PlotBox = {
    widthPx,
    heightPx: Math.max(180, Math.min(heightPx - 40, widthPx * 0.62)),
    left: 56,
    right: 18,
    top: 24,
    bottom: 42,
  }
  const [p] = parametersAlong(run.lamp, run.axes)
  const plot = drawCurve(values, run.cells, figure, box, shownUnit(p?.unit ?? '', system))
  const now = parametersAlong(lamp, run.axes)[0]?.value ?? null
  const last = values.length - 1
  const [from, to] = [values[0]!, values[last]!]
  const nearest = (event: PointerEvent<HTMLDivElement>) => {
    const at = plot.valueAt(event.clientX - event.currentTarget.getBoundingClientRect().left)
    const i = Math.round(((at - from) / (to - from)) * last)
    return Math.min(last, Math.max(0, i))
  }
  const inHand = shownIndex ?? 0
  return (
    <div className="sweep-curve">
      <div
        className="sweep-plot"
        onPointerMove={(e) => e.pointerType === 'mouse' && nearest(e) !== shownIndex && onLook(nearest(e))}
        onPointerUp={(e) => e.button === 0 && onTake(nearest(e))}
      >
        <svg width={widthPx} height={box.heightPx} aria-hidden="true">
          <Axes plot={plot} box={box} figure={figure} run={run} p={p ?? null} system={system} />
          {now !== null && now >= Math.min(from, to) && now <= Math.max(from, to) && (
            <g className="sweep-curve-now">
              <line x1={plot.x(now)} x2={plot.x(now)} y1={box.top} y2={box.heightPx - box.bottom} />
              <text x={plot.x(now) + 4} y={box.top + 9}>
                now
              </text>
            </g>
          )}
          {plot.bands.map((d) => (
            <path key={d} d={d} className="sweep-band" />
          ))}
          {plot.lines.map((d) => (
            <path key={d} d={d} className="sweep-line" />
          ))}
          <Points {...props} plot={plot} box={box} />
        </svg>
      </div>
      <input
        type="range"
        className="sweep-slide"
        style={{ marginLeft: box.left - 7, width: widthPx - box.left - box.right + 14 }}
        min={0}
        max={last}
        step={1}
        value={inHand}
        aria-label={`${sweptWords(figure).name} along the range. Arrow keys look, Enter takes the value.`}
        aria-valuetext={pointWords(props, inHand)}
        onChange={(e) => onLook(Number(e.currentTarget.value))}
        onKeyDown={(e) => {
          if (e.key === 'Enter') onTake(inHand)
        }}
      />
      <div className="sweep-legend" style={{ marginLeft: box.left }}>
        <Marks curve />
      </div>
    </div>
  )
}

function pointWords({ run, figure, system }: PictureProps, index: number): string {
  const cell = run.cells[index]
  if (!cell) return 'not traced yet'
  const value = figureOf(cell, figure)
  const words = value ? formatFigure(value, sweptWords(figure).unit, system).text : `none: ${whyEmpty(cell, figure)}`
  return `${placesOf(run, cell, system).join(', ')}: ${words}${isSevere(cell) ? '; severe finding' : ''}`
}

type AxesProps = Pick<PictureProps, 'run' | 'figure' | 'system'> & {
  plot: CurveDrawing
  box: PlotBox
  p: Parameter | null
}

function Axes({ plot, box, figure, run, p, system }: AxesProps) {
  const numbers = mapNumbers(spanOf(run.cells, figure), figure, system)
  const foot = box.heightPx - box.bottom
  return (
    <g className="sweep-axes">
      {plot.yTicks.map((v) => (
        <g key={v}>
          <line x1={box.left} x2={box.widthPx - box.right} y1={plot.y(v)} y2={plot.y(v)} />
          <text x={box.left - 6} y={plot.y(v) + 4} textAnchor="end">
            {toDigits(v * numbers.by, 4)}
          </text>
        </g>
      ))}
      {plot.xTicks.map((v) => (
        <text key={v} x={plot.x(v)} y={foot + 23} textAnchor="middle">
          {axisNumber(v, p?.unit ?? '', system)}
        </text>
      ))}
      <line className="sweep-axis-foot" x1={box.left} x2={box.widthPx - box.right} y1={foot} y2={foot} />
      <text x={box.left - 6} y={10} textAnchor="end" className="sweep-axis-words">
        {numbers.unit}
      </text>
      <text x={(box.left + box.widthPx - box.right) / 2} y={foot + 38} textAnchor="middle" className="sweep-axis-words">
        {p && axisTitle(p, system)}
      </text>
    </g>
  )
}

/** Points of the curve, and below it the findings of each. */
function Points(p: PictureProps & { plot: CurveDrawing; box: PlotBox }) {
  const { run, plot, box, shownIndex, bestIndex } = p
  const foot = box.heightPx - box.bottom
  const { values } = run.axes[0]
  const xOf = (index: number) => plot.x(values[index]!)
  const half = values.length > 1 ? Math.abs(xOf(1) - xOf(0)) / 2 : 10
  const shown = shownIndex === null ? null : run.cells[shownIndex]
  return (
    <g>
      {shown && <line className="sweep-look" x1={xOf(shown.index)} x2={xOf(shown.index)} y1={box.top} y2={foot} />}
      {plot.points.map((point) => (
        <circle
          key={point.index}
          className="sweep-point"
          cx={point.x}
          cy={point.y}
          r={point.index === shownIndex ? 5 : 3}
          data-best={point.index === bestIndex || undefined}
        />
      ))}
      {run.cells.map(
        (cell) =>
          cell &&
          (isSevere(cell) || !cell.reading) && (
            <foreignObject
              key={cell.index}
              x={Math.max(box.left, xOf(cell.index) - half)}
              y={foot + 2}
              width={Math.min(2 * half, box.widthPx - box.right - Math.max(box.left, xOf(cell.index) - half))}
              height={7}
            >
              <div className={cell.reading ? 'sweep-foot-severe' : 'sweep-foot-none'} />
            </foreignObject>
          ),
      )}
    </g>
  )
}
