// Up to four lamps side by side: what changed, profiles, figures with what differs, dangers, heat, parts.
import { MOST_COLUMNS } from '../../job/compare/result.ts'
import { T95 } from '../../num/stats.ts'
import { changeLines } from '../../report/changeLines.ts'
import {
  COLUMN_LETTERS,
  compareTable,
  DIFFERENCE_NOTE,
  type FigureRow,
  markOf,
  ROUGH_NOTE,
  SEVERE_TITLE,
  severeRows,
  severeWords,
  type WordRow,
} from '../../report/compare.ts'
import { formatFigure } from '../common/format.ts'
import { type ComparedLamp, compare, useCompare } from '../store/compare.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { Panel } from '../ui/Panel.tsx'
import { type Column, Table } from '../ui/Table.tsx'
import { type AddActions, AddLamp } from './AddLamp.tsx'
import { Profiles } from './Profiles.tsx'
import './compare.css'

export interface CompareActions extends AddActions {
  remove(key: string): void
}

const hide = () => compare.setState({ open: false })

export function ComparePanel({ actions }: { actions: CompareActions }) {
  const lamps = useCompare((s) => s.lamps)
  return (
    <Panel
      of="compare"
      title="Compare"
      closeName="Close the comparison"
      head={<AddLamp actions={actions} isDisabled={lamps.length >= MOST_COLUMNS} />}
      scrolls
      hide={hide}
    >
      <Heads lamps={lamps} onRemove={actions.remove} />
      <Announcement />
      {lamps.length < 2 ? (
        <p className="compare-quiet">
          Add up to three lamps beside A: earlier states of it, lamps stored in this browser, or files. All are traced
          with the same random numbers, so that small differences can be told from noise.
        </p>
      ) : (
        <>
          <Changes lamps={lamps} />
          <Profiles />
          <Tables lamps={lamps} />
        </>
      )}
    </Panel>
  )
}

function Announcement() {
  const words = useCompare((s) => s.announcement)
  return (
    <p className="compare-quiet" role="status">
      {words}
    </p>
  )
}

const STATES = {
  waiting: 'waits',
  tracing: 'being traced…',
  lit: 'dangers and heat wait',
  reading: 'dangers and heat being read…',
  done: '',
  failed: 'failed',
} as const

function Heads({ lamps, onRemove }: { lamps: readonly ComparedLamp[]; onRemove(key: string): void }) {
  return (
    <ol className="compare-heads">
      {lamps.map((l, i) => (
        <li key={l.key} data-column={i}>
          <b>{COLUMN_LETTERS[i]}</b>
          <span>
            {l.name}
            <small>
              {l.from}
              {STATES[l.state] && `, ${STATES[l.state]}`} {l.why || l.read?.light.why}
            </small>
          </span>
          {i > 0 && (
            <Button kind="quiet" name={`Take ${l.name} out of the comparison`} onPress={() => onRemove(l.key)}>
              ✕
            </Button>
          )}
        </li>
      ))}
    </ol>
  )
}

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

function Tables({ lamps }: { lamps: readonly ComparedLamp[] }) {
  const system = useUnitSystem()
  const columns = lamps.map((l) => l.read)
  const { figures, danger, heat, parts } = compareTable(columns, system)
  const severe = severeRows(columns, system)
  return (
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
      <Words caption="Danger, upper ends" lamps={lamps} rows={danger} />
      {severe.length > 0 && (
        <details className="compare-severe">
          <summary>{SEVERE_TITLE}</summary>
          <ul>
            {severe.map((row) => (
              <li key={row.title}>{severeWords(row)}</li>
            ))}
          </ul>
        </details>
      )}
      <Words caption="Heat and power" lamps={lamps} rows={heat} />
      <Words caption="Parts" lamps={lamps} rows={parts} />
      <p className="compare-quiet">{DIFFERENCE_NOTE}</p>
      <p className="compare-quiet">{ROUGH_NOTE}</p>
    </div>
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
      {formatFigure(figure, row.unit, system).text}
      {mark && (
        <small className="compare-mark" data-differs={mark === 'differs' || undefined}>
          {mark === 'the same'
            ? mark
            : `${sign}${formatFigure({ value, se: pm / T95 }, row.unit, system).text}, ${mark}`}
          {by === 'pairs' && ' (pairs)'}
        </small>
      )}
    </>
  )
}

function Words({
  caption,
  lamps,
  rows,
}: {
  caption: string
  lamps: readonly ComparedLamp[]
  rows: readonly WordRow[]
}) {
  const known = rows.filter((row) => row.cells.some((cell) => cell !== null))
  if (known.length === 0) return <p className="compare-quiet">{caption}: being read…</p>
  return (
    <Table
      caption={caption}
      showCaption
      rowKey={(row) => row.name}
      rows={known}
      columns={[
        { key: 'name', name: 'What', words: true, heading: true, of: (row: WordRow) => row.name },
        ...lamps.map((l, i) => ({
          key: l.key,
          name: COLUMN_LETTERS[i],
          of: (row: WordRow) => (
            <span
              className="compare-word"
              data-other={(row.cells[0] && row.cells[i] && row.cells[i] !== row.cells[0]) || undefined}
            >
              {row.cells[i] ?? '…'}
            </span>
          ),
        })),
      ]}
    />
  )
}
