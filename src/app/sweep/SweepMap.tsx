// Two parameters: a map of cells, the first to the right, the second upwards. Arrow keys select a cell; a click or Enter applies it.
import { type CSSProperties, type KeyboardEvent, useRef } from 'react'
import type { SweepCell } from '../../job/sweep/run.ts'
import { sweptWords } from '../../report/sweep.ts'
import { formatFigure } from '../common/format.ts'
import { rampCss } from '../common/ramp.ts'
import { axisNumber, axisTitle, placeAlong } from './model/axes.ts'
import {
  figureOf,
  isSevere,
  mapNumbers,
  rampAt,
  severeCount,
  shareOf,
  spanOf,
  wantsBlackInk,
  whyEmpty,
} from './model/plot.ts'
import { type PictureProps, parametersAlong, placesOf } from './picture.ts'
import { ScaleBar } from './ScaleBar.tsx'

const LEFT = 46
const HEAD = 20
const FOOT = 36
const LEGEND = 22

export function SweepMap(props: PictureProps) {
  const { run, figure, widthPx, heightPx, system } = props
  const [acrossAxis, upAxis] = run.axes
  if (!upAxis) return null
  const [n, m] = [acrossAxis.values.length, upAxis.values.length]
  const cellW = Math.floor((widthPx - LEFT) / n)
  const cellH = Math.max(22, Math.min(cellW, Math.floor((heightPx - HEAD - FOOT - LEGEND) / m)))
  const span = spanOf(run.cells, figure)
  const numbers = mapNumbers(span, figure, system)
  const [across, up] = parametersAlong(run.lamp, run.axes)
  const rows = Array.from({ length: m }, (_, j) => m - 1 - j)
  return (
    <div>
      <div className="sweep-map-frame" style={{ width: LEFT + n * cellW }}>
        <p className="sweep-axis-title" style={{ height: HEAD }} aria-hidden="true">
          ↑ {up && axisTitle(up, system)}
        </p>
        <Cells {...props} cellW={cellW} cellH={cellH} rows={rows} n={n} />
        <div className="sweep-across" style={{ marginLeft: LEFT, width: n * cellW }} aria-hidden="true">
          {acrossAxis.values.map((v) => (
            <span key={v} style={{ width: cellW }}>
              {axisNumber(v, across?.unit ?? '', system)}
            </span>
          ))}
          <p className="sweep-axis-title">{across && axisTitle(across, system)} →</p>
        </div>
        <CurrentLamp {...props} cellW={cellW} cellH={cellH} />
      </div>
      <ScaleBar span={span} unit={numbers.unit} text={numbers.text} leftPx={LEFT} />
    </div>
  )
}

interface CellsProps extends PictureProps {
  cellW: number
  cellH: number
  /** Values of the second parameter, from the top row down. */
  rows: readonly number[]
  n: number
}

function Cells(p: CellsProps) {
  const { run, figure, shownIndex, cellW, cellH, rows, n } = p
  const grid = useRef<HTMLDivElement>(null)
  const span = spanOf(run.cells, figure)
  const numbers = mapNumbers(span, figure, p.system)
  const up = parametersAlong(run.lamp, run.axes)[1]
  const inHand = shownIndex ?? 0
  const moveTo = (index: number) => {
    p.onLook(index)
    grid.current?.querySelector<HTMLElement>(`[data-index="${index}"]`)?.focus()
  }
  const onKeyDown = (event: KeyboardEvent) => {
    const index = Number((event.target as HTMLElement).dataset['index'] ?? inHand)
    const [i, j] = [index % n, Math.floor(index / n)]
    const next = (
      { ArrowRight: [i + 1, j], ArrowLeft: [i - 1, j], ArrowUp: [i, j + 1], ArrowDown: [i, j - 1] } as Record<
        string,
        [number, number]
      >
    )[event.key]
    if (next) {
      event.preventDefault()
      if (next[0] >= 0 && next[0] < n && next[1] >= 0 && next[1] < rows.length) moveTo(next[1] * n + next[0])
      return
    }
    if (event.key === 'Home' || event.key === 'End') {
      event.preventDefault()
      moveTo(j * n + (event.key === 'Home' ? 0 : n - 1))
    }
  }
  return (
    // biome-ignore lint/a11y/useSemanticElements: a table's cells aren't stepped through and taken
    <div
      ref={grid}
      role="grid"
      tabIndex={-1}
      className="sweep-map"
      aria-label={`${sweptWords(figure).name} over both numbers. Arrow keys look, Enter takes the values.`}
      style={{ '--cell-w': `${cellW}px`, '--cell-h': `${cellH}px` } as CSSProperties}
      onKeyDown={onKeyDown}
    >
      {rows.map((j) => (
        // biome-ignore lint/a11y/useSemanticElements: as above
        <div key={j} role="row" tabIndex={-1} className="sweep-row">
          {/* biome-ignore lint/a11y/useSemanticElements: as above */}
          <span role="rowheader" tabIndex={-1} className="sweep-row-head">
            {axisNumber(run.axes[1]!.values[j]!, up?.unit ?? '', p.system)}
          </span>
          {run.axes[0].values.map((value, i) => (
            <Cell key={value} {...p} index={j * n + i} span={span} text={numbers.text} inHand={inHand} />
          ))}
        </div>
      ))}
    </div>
  )
}

type CellProps = CellsProps & {
  index: number
  span: readonly [number, number] | null
  text: (value: number) => string
  inHand: number
}

function Cell({ index, span, text, inHand, ...p }: CellProps) {
  const cell = p.run.cells[index]
  const value = figureOf(cell, p.figure)?.value
  const share = value !== undefined && span ? shareOf(value, span) : null
  return (
    // biome-ignore lint/a11y/useSemanticElements: as above
    <button
      type="button"
      role="gridcell"
      className="sweep-cell-button"
      data-index={index}
      data-kind={kindOf(cell, value)}
      data-best={index === p.bestIndex || undefined}
      data-light={(share !== null && wantsBlackInk(share)) || undefined}
      aria-selected={index === p.shownIndex}
      aria-label={cellWords(p, cell, index)}
      tabIndex={index === inHand ? 0 : -1}
      style={share === null ? undefined : { background: rampCss(rampAt(share)) }}
      onPointerEnter={(e) => e.pointerType === 'mouse' && p.onLook(index)}
      onFocus={() => index !== p.shownIndex && p.onLook(index)}
      onClick={() => p.onTake(index)}
    >
      {value !== undefined && p.cellW >= 40 && text(value)}
      {isSevere(cell) && <i className="sweep-severe" />}
    </button>
  )
}

const kindOf = (cell: SweepCell | undefined, value: number | undefined): string =>
  !cell ? 'to come' : value === undefined ? 'none' : 'value'

/** A cell's accessible name. */
function cellWords(p: PictureProps, cell: SweepCell | undefined, index: number): string {
  if (!cell) return 'Not traced yet'
  const figure = figureOf(cell, p.figure)
  const at = placesOf(p.run, cell, p.system).join(', ')
  const words = figure
    ? formatFigure(figure, sweptWords(p.figure).unit, p.system).text
    : `none: ${whyEmpty(cell, p.figure)}`
  const severe = severeCount(cell)
  return [
    `${at}: ${words}`,
    severe > 0 && `${severe} severe ${severe === 1 ? 'finding' : 'findings'}`,
    index === p.bestIndex && 'the best',
  ]
    .filter(Boolean)
    .join('; ')
}

/** Marks the current lamp. */
function CurrentLamp({ run, lamp, cellW, cellH }: CellsProps | (PictureProps & { cellW: number; cellH: number })) {
  const [a, b] = parametersAlong(lamp, run.axes)
  const i = placeAlong(run.axes[0].values, a?.value ?? null)
  const j = placeAlong(run.axes[1]!.values, b?.value ?? null)
  if (i === null || j === null) return null
  const m = run.axes[1]!.values.length
  return (
    <svg
      className="sweep-now"
      width={28}
      height={28}
      viewBox="-14 -14 28 28"
      style={{ left: LEFT + (i + 0.5) * cellW - 14, top: HEAD + (m - 0.5 - j) * cellH - 14 }}
      aria-hidden="true"
    >
      <path className="sweep-now-under" d="M-12 0H-4M4 0H12M0-12V-4M0 4V12" />
      <path d="M-12 0H-4M4 0H12M0-12V-4M0 4V12" />
    </svg>
  )
}
