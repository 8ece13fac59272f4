// Rows in words, a column for each lamp, with what differs from the first.
import type { ReactNode } from 'react'
import { COLUMN_LETTERS } from '../../report/compare.ts'
import type { ComparedLamp } from '../store/compare.ts'
import { Table } from '../ui/Table.tsx'

export interface WordTableRow {
  key: string
  name: ReactNode
  /** Null: not known yet. */
  cells: readonly (ReactNode | null)[]
  /** Against the first lamp; null: alike. */
  marks: readonly (string | null)[]
}

export function WordTable({
  caption,
  lamps,
  rows,
}: {
  caption: string
  lamps: readonly ComparedLamp[]
  rows: readonly WordTableRow[]
}) {
  return (
    <Table
      caption={caption}
      showCaption
      rowKey={(row) => row.key}
      rows={rows}
      columns={[
        { key: 'name', name: 'What', words: true, heading: true, of: (row: WordTableRow) => row.name },
        ...lamps.map((l, i) => ({
          key: l.key,
          name: COLUMN_LETTERS[i],
          of: (row: WordTableRow) => (
            <>
              {row.cells[i] ?? '…'}
              <Mark words={row.marks[i] ?? null} />
            </>
          ),
        })),
      ]}
    />
  )
}

const SIGNS: Readonly<Record<string, string>> = { worse: '▲ ', better: '▼ ' }

function Mark({ words }: { words: string | null }) {
  if (words === null) return null
  return (
    <small className="compare-mark" data-mark={words in SIGNS || words === 'within ±' ? words : 'other'}>
      <span aria-hidden="true">{SIGNS[words]}</span>
      {words}
    </small>
  )
}
