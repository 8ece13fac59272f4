// What changed, profiles, figures with what differs.
import { useMemo } from 'react'
import { T95 } from '../../num/stats.ts'
import { changeLines } from '../../report/changeLines.ts'
import { COLUMN_LETTERS, DIFFERENCE_NOTE, type FigureRow, figureRows, markOf } from '../../report/compare.ts'
import { formatFigure } from '../common/format.ts'
import { type ComparedLamp, useReads } from '../store/compare.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { type Column, Table } from '../ui/Table.tsx'
import { Profiles } from './Profiles.tsx'

export function LightPane({ lamps }: { lamps: readonly ComparedLamp[] }) {
  const reads = useReads()
  const figures = useMemo(() => figureRows(reads), [reads])
  return (
    <>
      <Changes lamps={lamps} />
      <Profiles />
      <div className="compare-tables">
        {figures.length > 0 && (
          <Table
            caption="Light"
            showCaption
            columns={figureColumns(lamps)}
            rows={figures}
            rowKey={(row: FigureRow) => row.figure}
          />
        )}
        <p className="compare-quiet">{DIFFERENCE_NOTE}</p>
      </div>
    </>
  )
}

/** No part of a lamp is known to more; how two differ is known better than each, and has digits of its own. */
const MOST_DIGITS = 4
const MOST_CHANGES = 6

function Changes({ lamps }: { lamps: readonly ComparedLamp[] }) {
  const system = useUnitSystem()
  const [first, ...others] = lamps
  return (
    <section className="compare-changes" aria-label="What changed">
      {others.map((l, i) => {
        const lines = first ? changeLines(first.lamp, l.lamp, system) : []
        return (
          <div key={l.key}>
            <h3>
              From A to {COLUMN_LETTERS[i + 1]}
              {lines.length === 0 && ': nothing changed'}
            </h3>
            <ul>
              {lines.slice(0, MOST_CHANGES).map((line) => (
                <li key={line}>{line}</li>
              ))}
              {lines.length > MOST_CHANGES && (
                <li>
                  <details>
                    <summary>{lines.length - MOST_CHANGES} more</summary>
                    <ul>
                      {lines.slice(MOST_CHANGES).map((line) => (
                        <li key={line}>{line}</li>
                      ))}
                    </ul>
                  </details>
                </li>
              )}
            </ul>
          </div>
        )
      })}
    </section>
  )
}

const figureColumns = (lamps: readonly ComparedLamp[]): Column<FigureRow>[] => [
  { key: 'name', name: 'Figure', words: true, heading: true, of: (row) => row.name },
  ...lamps.map((l, i) => ({ key: l.key, name: COLUMN_LETTERS[i], of: (row: FigureRow) => <Cell row={row} at={i} /> })),
]

function Cell({ row, at }: { row: FigureRow; at: number }) {
  const system = useUnitSystem()
  const figure = row.figures[at]
  const d = row.differences[at]
  if (!figure) return '–'
  const { value, pm, by } = d ?? { value: 0, pm: 0, by: 'exact' }
  const mark = d && markOf(d)
  const sign = value > 0 ? '+' : ''
  return (
    <>
      {formatFigure(figure, row.unit, system, MOST_DIGITS).text}
      {mark && (
        <small className="compare-mark" data-differs={mark === 'differs' || undefined}>
          {mark === 'the same'
            ? mark
            : `${sign}${formatFigure({ value, se: pm / T95 }, row.unit, system, MOST_DIGITS).text}, ${mark}`}
          {by === 'pairs' && ' (pairs)'}
        </small>
      )}
    </>
  )
}
