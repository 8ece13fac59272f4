// The plate's temperature over the face, seen from the target, boards over it; the hottest board is named.
import { useEffect, useMemo, useRef } from 'react'
import type { ModeRun } from '../../job/powerResult.ts'
import { boardTypeOf, lampFromBoard } from '../../lamp/place.ts'
import type { Board, BoardType, Lamp } from '../../lamp/schema.ts'
import { outlinePath } from '../../layout/outline.ts'
import { redraw } from '../frame.ts'
import { THIN } from '../measure/format.ts'
import { filmAt, filmSpan, hottestAt, momentWords } from '../measure/powerPlot.ts'
import { RAMP, RAMP_SIZE, rampCss } from '../measure/ramp.ts'
import { power, shownMoment, usePower } from '../store/power.ts'
import { useDesign } from '../store/stores.ts'

export function PlateMap({ run }: { run: ModeRun }) {
  const lamp = useDesign((s) => s.lamp)
  const { film } = run
  const span = useMemo(() => filmSpan(film), [film])
  const wide = film.toXMm - film.fromXMm
  const high = film.toYMm - film.fromYMm
  return (
    <figure className="power-map">
      <figcaption className="power-part-head">
        <h3>Plate over the face</h3>
        <Hottest run={run} />
      </figcaption>
      <div className="power-map-frame" style={{ aspectRatio: `${wide} / ${high}` }}>
        <Film run={run} span={span} />
        <svg
          viewBox={`${film.fromXMm} ${-film.toYMm} ${wide} ${high}`}
          aria-hidden="true"
          className="power-map-boards"
          strokeWidth={wide / 300}
        >
          <Outlines lamp={lamp} />
          <HotMark run={run} lamp={lamp} sizeMm={wide} />
        </svg>
      </div>
      <div className="power-map-scale" aria-hidden="true">
        <span>
          {Math.round(span[0])}
          {THIN}°C
        </span>
        <i style={{ background: `linear-gradient(90deg, ${[0, 0.2, 0.4, 0.6, 0.8, 1].map(rampCss).join(', ')})` }} />
        <span>
          {Math.round(span[1])}
          {THIN}°C
        </span>
      </div>
    </figure>
  )
}

/** Drawn straight from the store: the slider moves it without React. */
function Film({ run, span }: { run: ModeRun; span: [number, number] }) {
  const canvas = useRef<HTMLCanvasElement>(null)
  useEffect(() => {
    const draw = () => {
      const pen = canvas.current?.getContext('2d')
      if (!pen) return
      const atS = shownMoment(run, power.getState().atS)
      paint(pen, run, span, atS)
      if (canvas.current) canvas.current.dataset['moment'] = momentWords(atS)
    }
    draw()
    return power.subscribe((now, before) => {
      if (now.atS !== before.atS) redraw('power-film', draw)
    })
  }, [run, span])
  return (
    <canvas
      ref={canvas}
      width={run.film.columns}
      height={run.film.rows}
      role="img"
      aria-label={`Temperature of the plate over the face: ${Math.round(span[0])} to ${Math.round(span[1])} °C over the whole run`}
    />
  )
}

function paint(pen: CanvasRenderingContext2D, { film }: ModeRun, [least, most]: [number, number], atS: number) {
  const { columns, rows } = film
  const now = filmAt(film, atS)
  const image = pen.createImageData(columns, rows)
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const c = now[row * columns + column]!
      if (Number.isNaN(c)) continue
      const at = 4 * ((rows - 1 - row) * columns + column)
      const shade = 3 * Math.round(Math.min(1, Math.max(0, (c - least) / (most - least))) * (RAMP_SIZE - 1))
      for (let k = 0; k < 3; k++) image.data[at + k] = RAMP[shade + k]!
      image.data[at + 3] = 255
    }
  }
  pen.putImageData(image, 0, 0)
}

function Outlines({ lamp }: { lamp: Lamp }) {
  return useMemo(
    () => (
      <g className="power-map-outlines">
        {lamp.boards.map((b) => (
          <path key={b.id} d={outlineOf(b, boardTypeOf(lamp, b))} />
        ))}
      </g>
    ),
    [lamp],
  )
}

function outlineOf(board: Board, { outline }: BoardType): string {
  if (outline.shape === 'disc') {
    const r = outline.diameterMm / 2
    return `M${board.xMm - r} ${-board.yMm}a${r} ${r} 0 0 0 ${2 * r} 0a${r} ${r} 0 0 0 ${-2 * r} 0Z`
  }
  const corners = outlinePath(outline).map(([x, y]) => lampFromBoard(board, x, y))
  return `M${corners.map(([x, y]) => `${x.toFixed(2)} ${(-y).toFixed(2)}`).join('L')}Z`
}

const useHottest = (run: ModeRun) => usePower((s) => hottestAt(run, shownMoment(run, s.atS)).index)

function Hottest({ run }: { run: ModeRun }) {
  const index = useHottest(run)
  const c = usePower((s) => Math.round(hottestAt(run, shownMoment(run, s.atS)).c))
  const id = useDesign((s) => s.lamp.boards[index]?.id)
  return (
    <span className="power-quiet">
      hottest: board {id ?? index + 1}, junction {c}
      {THIN}°C
    </span>
  )
}

function HotMark({ run, lamp, sizeMm }: { run: ModeRun; lamp: Lamp; sizeMm: number }) {
  const board = lamp.boards[useHottest(run)]
  if (!board || !lamp.boardTypes.some((t) => t.id === board.type)) return null
  return (
    <g className="power-map-hot">
      <path d={outlineOf(board, boardTypeOf(lamp, board))} />
      <text
        className="power-map-name"
        x={board.xMm}
        y={-board.yMm}
        fontSize={sizeMm / 22}
        textAnchor="middle"
        dominantBaseline="central"
      >
        {board.id}
      </text>
    </g>
  )
}
