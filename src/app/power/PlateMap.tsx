// The plate's temperature over the face, seen from the target, with the boards drawn over it and the hottest one labelled.

import { useEffect, useMemo, useRef } from 'react'
import type { ModeRun } from '../../electrothermal/result.ts'
import { boardTypeOf, lampFromBoard } from '../../lamp/place.ts'
import type { Board, BoardType, Lamp } from '../../lamp/schema.ts'
import { outlinePath } from '../../layout/outline.ts'
import { degreesText } from '../common/format.ts'
import { colourRange, type FrameScale, hottestAt, plateImage, rangeWords } from '../common/plateFrames.ts'
import { rampCss } from '../common/ramp.ts'
import { momentWords } from '../common/timeScale.ts'
import { redraw } from '../frame.ts'
import { power, shownMoment, usePower } from '../store/power.ts'
import { useDesign } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Choice } from '../ui/Choice.tsx'

export function PlateMap({ run }: { run: ModeRun }) {
  const lamp = useDesign((s) => s.lamp)
  const { plateFrames: film } = run
  const wide = film.toXMm - film.fromXMm
  const high = film.toYMm - film.fromYMm
  return (
    <figure className="power-map">
      <figcaption className="power-part-head">
        <h3>Plate over the face</h3>
        <Hottest run={run} />
      </figcaption>
      <div className="power-map-frame" style={{ aspectRatio: `${wide} / ${high}` }}>
        <Film run={run} />
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
      <Scale run={run} />
    </figure>
  )
}

/** The colour scale, and whether it is the same for all moments. */
function Scale({ run }: { run: ModeRun }) {
  const system = useUnitSystem()
  const scale = usePower((s) => s.scale)
  const [least, most] = usePower((s) =>
    colourRange(run.plateFrames, s.scale, shownMoment(run, s.atS)).map(Math.round).join(),
  ).split(',')
  const words = usePower((s) => rangeWords(run.plateFrames, s.scale, shownMoment(run, s.atS), system))
  return (
    <>
      <div className="power-map-scale" aria-hidden="true">
        <span>{degreesText(Number(least), system)}</span>
        <i style={{ background: `linear-gradient(90deg, ${[0, 0.2, 0.4, 0.6, 0.8, 1].map(rampCss).join(', ')})` }} />
        <span>{degreesText(Number(most), system)}</span>
      </div>
      <p className="power-quiet power-map-words">{words}.</p>
      <Choice
        label="Colours"
        segments
        description="This moment: the plate’s pattern stands out. The whole run: moments compare with one another"
        value={scale}
        options={[
          { key: 'moment', name: 'this moment' },
          { key: 'run', name: 'whole run' },
        ]}
        onChoose={(scale: FrameScale) => power.setState({ scale })}
      />
    </>
  )
}

/** Subscribes to the store itself: moving the slider doesn't render React. */
function Film({ run }: { run: ModeRun }) {
  const system = useUnitSystem()
  const canvas = useRef<HTMLCanvasElement>(null)
  const words = usePower((s) => rangeWords(run.plateFrames, s.scale, shownMoment(run, s.atS), system))
  useEffect(() => {
    const { plateFrames: film } = run
    const draw = () => {
      const pen = canvas.current?.getContext('2d')
      if (!pen) return
      const { atS, scale } = power.getState()
      const at = shownMoment(run, atS)
      pen.putImageData(new ImageData(plateImage(film, colourRange(film, scale, at), at), film.columns, film.rows), 0, 0)
      if (canvas.current) canvas.current.dataset['moment'] = momentWords(at)
    }
    draw()
    return power.subscribe((now, before) => {
      if (now.atS !== before.atS || now.scale !== before.scale) redraw('power-film', draw)
    })
  }, [run])
  return (
    <canvas
      ref={canvas}
      width={run.plateFrames.columns}
      height={run.plateFrames.rows}
      role="img"
      aria-label={`Temperature of the plate over the face. ${words}`}
    />
  )
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
  const system = useUnitSystem()
  const index = useHottest(run)
  const c = usePower((s) => Math.round(hottestAt(run, shownMoment(run, s.atS)).c))
  const id = useDesign((s) => s.lamp.boards[index]?.id)
  return (
    <span className="power-quiet">
      hottest: board {id ?? index + 1}, junction {degreesText(c, system)}
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
