// The picture: how the best came, or the front, whose points are chosen by a click or by the slider under it.
import type { PointerEvent } from 'react'
import type { OptimizePlan } from '../../job/choose/plan.ts'
import type { OptimizeProgress } from '../../job/choose/run.ts'
import { wishWords } from '../../report/choose.ts'
import type { PlotBox } from '../common/plotBox.ts'
import { drawSearch, nearestPoint, type SearchDrawing } from './model/plot.ts'
import { wishText } from './model/words.ts'

interface Props {
  plan: OptimizePlan
  progress: OptimizeProgress
  widthPx: number
  /** Of the front, the lamp in hand. */
  at: number | null
  onLook(index: number): void
}

export function Picture({ plan, progress, widthPx, at, onLook }: Props) {
  const isFront = plan.wants.length > 1
  const box: PlotBox = {
    widthPx,
    heightPx: Math.max(150, Math.min(isFront ? 280 : 170, widthPx * 0.45)),
    left: 62,
    right: 18,
    top: 22,
    bottom: 42,
  }
  const plot = drawSearch(plan, progress, box)
  const choose = (event: PointerEvent<HTMLDivElement>) => {
    const frame = event.currentTarget.getBoundingClientRect()
    const nearest = nearestPoint(plot.points, event.clientX - frame.left, event.clientY - frame.top)
    if (isFront && nearest) onLook(nearest.index)
  }
  return (
    <div className="optimize-picture">
      <div className={isFront ? 'optimize-front' : undefined} onPointerUp={choose}>
        <svg width={widthPx} height={box.heightPx} aria-hidden="true">
          <Axes plot={plot} box={box} />
          <path d={plot.line} className="optimize-line" />
          {/* The one in hand above its neighbours. */}
          {plot.points
            .toSorted((p, q) => Number(p.index === at) - Number(q.index === at))
            .map((p) => (
              <circle
                key={p.index}
                className="optimize-point"
                cx={p.x}
                cy={p.y}
                r={p.index === at ? 7 : isFront ? 4 : 2.5}
                data-broken={!p.keeps || undefined}
                data-shown={p.index === at || undefined}
              />
            ))}
        </svg>
      </div>
      {isFront && plot.points.length > 0 && <FrontSlider {...{ plan, progress, box, at, onLook }} />}
    </div>
  )
}

type SliderProps = Omit<Props, 'widthPx'> & { box: PlotBox }

function FrontSlider({ plan, progress, box, at, onLook }: SliderProps) {
  const last = progress.front.length - 1
  const shown = Math.min(last, at ?? 0)
  const figures = progress.front[shown]?.evaluation.figures ?? {}
  const words = plan.wants.map(({ figure }) => `${wishWords(figure).name} ${wishText(figure, figures[figure])}`)
  return (
    <input
      type="range"
      className="optimize-slide"
      style={{ marginLeft: box.left - 7, width: box.widthPx - box.left - box.right + 14 }}
      min={0}
      max={last}
      step={1}
      value={shown}
      aria-label="Along the front"
      aria-valuetext={words.join(', ')}
      onChange={(e) => onLook(Number(e.currentTarget.value))}
    />
  )
}

function Axes({ plot, box }: { plot: SearchDrawing; box: PlotBox }) {
  const foot = box.heightPx - box.bottom
  return (
    <g className="optimize-axes">
      {plot.yTicks.map(({ at, text }) => (
        <g key={text}>
          <line x1={box.left} x2={box.widthPx - box.right} y1={at} y2={at} />
          <text x={box.left - 6} y={at + 4} textAnchor="end">
            {text}
          </text>
        </g>
      ))}
      {plot.xTicks.map(({ at, text }) => (
        <text key={text} x={at} y={foot + 16} textAnchor="middle">
          {text}
        </text>
      ))}
      <line className="optimize-axis-foot" x1={box.left} x2={box.widthPx - box.right} y1={foot} y2={foot} />
      <text x={box.left} y={11} className="optimize-axis-words">
        {plot.yWords}
      </text>
      <text x={box.widthPx - box.right} y={foot + 34} textAnchor="end" className="optimize-axis-words">
        {plot.xWords}
      </text>
    </g>
  )
}
