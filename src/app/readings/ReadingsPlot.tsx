// One set of readings, with ±, over what is traced for its places.
import { toDigits } from '../common/format.ts'
import type { PlotBox } from '../common/plotBox.ts'
import { drawReadings, type Plotted } from './model/plot.ts'

export function ReadingsPlot({ set, plotted, widthPx }: { set: string; plotted: Plotted; widthPx: number }) {
  const box: PlotBox = { widthPx, heightPx: 190, left: 62, right: 8, top: 22, bottom: 34 }
  const plot = drawReadings(plotted, box)
  const foot = box.heightPx - box.bottom
  return (
    <figure className="readings-plot">
      <svg
        width={widthPx}
        height={box.heightPx}
        role="img"
        aria-label={`${set}: ${plot.points.map((p) => p.words).join('; ')}`}
      >
        <g className="readings-axes">
          {plot.yTicks.map((lx) => (
            <g key={lx}>
              <line x1={box.left} x2={widthPx - box.right} y1={plot.y(lx)} y2={plot.y(lx)} />
              <text x={box.left - 6} y={plot.y(lx) + 4} textAnchor="end">
                {toDigits(lx, 3)}
              </text>
            </g>
          ))}
          {plot.xTicks.map((v) => (
            <text key={v} x={plot.x(v)} y={foot + 16} textAnchor="middle">
              {toDigits(v, 4)}
            </text>
          ))}
          <line className="readings-foot" x1={box.left} x2={widthPx - box.right} y1={foot} y2={foot} />
          <text x={box.left - 6} y={11} textAnchor="end">
            {plotted.unit}
          </text>
          <text x={(box.left + widthPx - box.right) / 2} y={foot + 31} textAnchor="middle">
            {set}: {plot.xWords}
          </text>
        </g>
        <path d={plot.band} className="readings-band" />
        <path d={plot.curve} className="readings-curve" />
        {plot.points.map((p) => (
          <g key={p.key} className="readings-point" data-out={p.standsOut || undefined}>
            <line x1={p.x} x2={p.x} y1={p.low} y2={p.high} />
            <circle cx={p.x} cy={p.y} r={3.5} />
          </g>
        ))}
      </svg>
    </figure>
  )
}
