import { useEffect, useRef, useState } from 'react'
import type { Sheet } from '../../job/beam/sheet.ts'
import { shownText } from '../common/decimalMark.ts'
import { formatFigure, formatValue, scaleOf, toDecimals, toDigits } from '../common/format.ts'
import type { PlotBox } from '../common/plotBox.ts'
import { redraw } from '../frame.ts'
import { useSheet } from './contexts.ts'
import { drawProfile, extremes, marks, outOfRound, plotHalfDeg, readProfile } from './model/profilePlot.ts'
import { Part } from './Part.tsx'
import { WhileVisible } from './WhileVisible.tsx'

/** From this difference between directions the beam counts as out of round. */
const OUT_OF_ROUND = 0.03

export function Profile() {
  const { sheet, widthPx } = useSheet()
  const [log, setLog] = useState(false)
  const { profile, figures } = sheet
  const halfDeg = plotHalfDeg(profile, figures.fieldAngleDeg?.value)
  const box: PlotBox = { widthPx, heightPx: Math.round(widthPx * 0.58), left: 40, right: 6, top: 14, bottom: 22 }
  const plot = drawProfile(profile, box, halfDeg, log)
  const unit = scaleOf(plot.peakCd, 'cd')
  return (
    <figure className="sheet-profile">
      <figcaption className="sheet-profile-head">
        <span>{unit.unit}, averaged round the axis</span>
        <span className="sheet-switch">
          <button type="button" aria-pressed={!log} onClick={() => setLog(false)}>
            linear
          </button>
          <button type="button" aria-pressed={log} onClick={() => setLog(true)}>
            logarithmic
          </button>
        </span>
      </figcaption>
      <div className="sheet-plot">
        <svg width={widthPx} height={box.heightPx} role="img" aria-label={plotWords(sheet)}>
          <Axes plot={plot} box={box} by={unit.by} log={log} />
          <path d={plot.band} className="sheet-band" />
          <path d={plot.line} className="sheet-curve" />
          {marks(figures.beamAngleDeg, figures.fieldAngleDeg, halfDeg).map((m) => (
            <Mark
              key={m.word}
              y={plot.y(plot.peakCd * m.share)}
              fromX={plot.x(-m.figure.value / 2)}
              toX={plot.x(m.figure.value / 2)}
              words={`${m.word} ${formatValue(m.figure.value, 'deg')}`}
            />
          ))}
        </svg>
        <Reader sheet={sheet} halfDeg={halfDeg} plot={plot} box={box} />
      </div>
      <ByDirection sheet={sheet} />
    </figure>
  )
}

function plotWords(sheet: Sheet): string {
  const { axialIntensityCd: axial, beamAngleDeg: beam, fieldAngleDeg: field } = sheet.figures
  return [
    'Intensity over the angle from the axis.',
    axial && `On the axis ${formatFigure(axial, 'cd').text}.`,
    beam && `Half of the peak at a full angle of ${formatFigure(beam, 'deg').text}.`,
    field && `A tenth at ${formatFigure(field, 'deg').text}.`,
  ]
    .filter(Boolean)
    .join(' ')
}

type Plot = ReturnType<typeof drawProfile>

function Axes({ plot, box, by, log }: { plot: Plot; box: PlotBox; by: number; log: boolean }) {
  const foot = box.heightPx - box.bottom
  return (
    <g className="sheet-axes">
      {plot.yTicks.map((cd) => (
        <g key={cd}>
          <line x1={box.left} x2={box.widthPx - box.right} y1={plot.y(cd)} y2={plot.y(cd)} />
          <text x={box.left - 5} y={plot.y(cd) + 4} textAnchor="end">
            {log && cd * by < 0.001 ? (cd * by).toExponential(0).replace('e-', 'e\u2212') : toDigits(cd * by, 3)}
          </text>
        </g>
      ))}
      {plot.xTicks.map((deg) => (
        <text key={deg} x={plot.x(deg)} y={foot + 15} textAnchor="middle">
          {deg < 0 ? `\u2212${-deg}` : deg}°
        </text>
      ))}
      <line className="sheet-axis-line" x1={plot.x(0)} x2={plot.x(0)} y1={box.top} y2={foot} />
      <line className="sheet-axis-foot" x1={box.left} x2={box.widthPx - box.right} y1={foot} y2={foot} />
    </g>
  )
}

function Mark({ y, fromX, toX, words }: { y: number; fromX: number; toX: number; words: string }) {
  return (
    <g className="sheet-level">
      <line x1={fromX} x2={toX} y1={y} y2={y} />
      <circle cx={fromX} cy={y} r={3} />
      <circle cx={toX} cy={y} r={3} />
      <text x={toX + 7} y={y + 1}>
        {words}
      </text>
    </g>
  )
}

/** Reads the curve at an angle: by pointer on the plot, or by the slider under it with the arrow keys. */
function Reader({ sheet, halfDeg, plot, box }: { sheet: Sheet; halfDeg: number; plot: Plot; box: PlotBox }) {
  const input = useRef<HTMLInputElement>(null)
  const output = useRef<HTMLOutputElement>(null)
  const cursor = useRef<HTMLDivElement>(null)

  const write = () => {
    if (!input.current || !output.current || !cursor.current) return
    const deg = Math.round(Number(input.current.value) * 1000) / 1000
    const read = readProfile(sheet.profile, deg)
    const words = `${formatValue(deg, 'deg', 3)}: ${formatFigure({ value: read.cd, se: read.se }, 'cd').text}, ${formatValue(read.cd / plot.peakCd, '%', 3)} of the peak`
    const text = shownText(words)
    output.current.textContent = text
    input.current.setAttribute('aria-valuetext', text)
    cursor.current.style.transform = `translateX(${plot.x(deg)}px)`
  }
  const later = () => redraw('sheet-profile', write)
  useEffect(later)

  const step = halfDeg > 20 ? 0.5 : halfDeg > 4 ? 0.1 : 0.02
  // A slider counts steps from its minimum: a multiple of the step, so that 0° is one of its values.
  const reach = Math.floor(halfDeg / step) * step
  return (
    <>
      <div
        className="sheet-plot-touch"
        style={{ height: box.heightPx }}
        onPointerMove={(e) => {
          if (!input.current) return
          const deg = plot.degAt(e.clientX - e.currentTarget.getBoundingClientRect().left)
          input.current.value = String(Math.min(halfDeg, Math.max(-halfDeg, deg)))
          later()
        }}
      >
        <div ref={cursor} className="sheet-cursor" style={{ top: box.top, bottom: box.bottom }} />
      </div>
      <input
        ref={input}
        type="range"
        className="sheet-slide"
        style={{ marginLeft: plot.x(-reach) - 7, width: plot.x(reach) - plot.x(-reach) + 14 }}
        min={-reach}
        max={reach}
        step={step}
        defaultValue={0}
        aria-label="Read the profile at an angle"
        onInput={later}
      />
      <output ref={output} className="sheet-readout" />
    </>
  )
}

const deg = (d: number) => formatValue(d, 'deg', 3)

const DIRECTIONS = (
  <Part level={4} title="By direction" open={false}>
    <WhileVisible>
      <DirectionTable />
    </WhileVisible>
  </Part>
)

function ByDirection({ sheet }: { sheet: Sheet }) {
  const by = sheet.profile.byDirection
  const ends = extremes(by)
  if (!ends || outOfRound(by) < OUT_OF_ROUND) return <p className="sheet-quiet">The beam is round.</p>
  const [wide, narrow] = ends
  return (
    <>
      <p className="sheet-quiet">
        Not round: beam angle {deg(wide.beamDeg)} towards {deg(wide.azimuthDeg)}, {deg(narrow.beamDeg)} towards{' '}
        {deg(narrow.azimuthDeg)} (from +x, anticlockwise).
      </p>
      {DIRECTIONS}
    </>
  )
}

function DirectionTable() {
  const by = useSheet().sheet.profile.byDirection
  return (
    <table className="sheet-table">
      <thead>
        <tr>
          <th scope="col">Towards</th>
          <th scope="col">Beam angle</th>
          <th scope="col">Field angle</th>
        </tr>
      </thead>
      <tbody>
        {by.map((d) => (
          <tr key={d.azimuthDeg}>
            <th scope="row">{deg(d.azimuthDeg)}</th>
            <td>{toDecimals(d.beamDeg, 2)}°</td>
            <td>{toDecimals(d.fieldDeg, 2)}°</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
