// A plain table of text and figures; figures are aligned right.
import { Fragment, type ReactNode } from 'react'
import './ui.css'

export interface Column<R> {
  key: string
  name: ReactNode
  of(row: R): ReactNode
  /** Text, aligned left; figures are aligned right. */
  words?: boolean
  /** The row's header cell. */
  heading?: boolean
}

export interface TableProps<R> {
  caption: string
  showCaption?: boolean
  columns: readonly Column<R>[]
  rows: readonly R[]
  rowKey(row: R, index: number): string | number
  /** In a line of its own under the row, over all columns; null: none. */
  below?(row: R): ReactNode
}

export function Table<R>(p: TableProps<R>) {
  return (
    <table className="ui-table">
      <caption className={p.showCaption ? 'ui-caption' : 'ui-hidden'}>{p.caption}</caption>
      <thead>
        <tr>
          {p.columns.map((c) => (
            <th key={c.key} scope="col" className={c.words ? 'ui-words' : 'ui-figures'}>
              {c.name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {p.rows.map((row, i) => (
          <Fragment key={p.rowKey(row, i)}>
            <tr>
              {p.columns.map((c) =>
                c.heading ? (
                  <th key={c.key} scope="row" className={c.words ? 'ui-words' : 'ui-figures'} {...named(c)}>
                    {c.of(row)}
                  </th>
                ) : (
                  <td key={c.key} className={c.words ? 'ui-words' : 'ui-figures'} {...named(c)}>
                    {c.of(row)}
                  </td>
                ),
              )}
            </tr>
            <Below columns={p.columns.length}>{p.below?.(row)}</Below>
          </Fragment>
        ))}
      </tbody>
    </table>
  )
}

/** Where a row stands as a card (shellPhoneParts.css), each cell says its column. */
const named = <R,>({ name }: Column<R>) => (typeof name === 'string' ? { 'data-head': name } : {})

function Below({ columns, children }: { columns: number; children: ReactNode }) {
  if (!children) return null
  return (
    <tr className="ui-below">
      <td className="ui-words" colSpan={columns}>
        {children}
      </td>
    </tr>
  )
}
