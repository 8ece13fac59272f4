// The checks of each channel: boards down, checks across. A board's button shows its checks in full.

import { Fragment, useMemo, useState } from 'react'
import type { PowerUpItem } from '../../electrothermal/result.ts'
import { type CheckRow, checkTable, sharedFigures } from '../../report/checkTable.ts'
import { onWords } from '../../report/wiringBlocks.ts'
import { type Remark, remarksOn, remarkWords } from '../../report/wiringTable.ts'
import { usePower } from '../store/power.ts'
import { usePowerFindings } from '../store/severe.ts'

interface TableProps {
  items: readonly PowerUpItem[]
  done: ReadonlySet<string>
  onTick(item: PowerUpItem, on: boolean): void
}

export function PowerUpTable({ items, done, onTick }: TableProps) {
  const table = useMemo(() => checkTable(items), [items])
  const parts = useParts(table.rows)
  const [open, setOpen] = useState<string | null>(null)
  if (table.rows.length === 0) return null
  const toggle = (channel: string) => setOpen(open === channel ? null : channel)
  return (
    <>
      <div className="power-checks-box">
        <table className="ui-table power-checks">
          <caption className="ui-hidden">Checks of each channel</caption>
          <thead>
            <tr>
              <th scope="col" className="ui-words">
                Channel
              </th>
              {table.steps.map((step) => (
                <th key={step} scope="col" className="ui-words">
                  {step}
                </th>
              ))}
            </tr>
          </thead>
          {parts.map((part) => (
            <tbody key={part.id}>
              {part.words !== '' && (
                <tr>
                  <th scope="rowgroup" className="power-checks-group ui-words" colSpan={table.steps.length + 1}>
                    {part.words}
                  </th>
                </tr>
              )}
              {part.figures.some((f) => f) && (
                <tr className="power-checks-figures">
                  <th scope="row" className="ui-words">
                    each
                  </th>
                  {part.figures.map((figure, i) => (
                    // biome-ignore lint/suspicious/noArrayIndexKey: a check's place in the table is its name
                    <td key={i} className="ui-words">
                      {figure && unbroken(figure)}
                    </td>
                  ))}
                </tr>
              )}
              {part.rows.map((row) => (
                <Fragment key={row.channel}>
                  <Row
                    row={row}
                    figures={part.figures}
                    done={done}
                    isOpen={open === row.channel}
                    onOpen={toggle}
                    onTick={onTick}
                  />
                  {open === row.channel && <InFull row={row} columns={table.steps.length + 1} />}
                </Fragment>
              ))}
            </tbody>
          ))}
        </table>
      </div>
      <h3>What each check asks</h3>
      <Meanings meanings={table.meanings} items={items} />
    </>
  )
}

/** A figure and its unit stay together; a line may end after a comma. */
const unbroken = (figures: string) => figures.replace(/(?<!,) /g, '\u00a0')

/** Rows by group, each under its heading where a lamp has several. */
function useParts(rows: readonly CheckRow[]) {
  const groups = usePower((s) => s.report?.groups)
  const wiring = usePower((s) => s.report?.wiring)
  return useMemo(() => {
    const part = (id: string, words: string, own: readonly CheckRow[]) => ({
      id,
      words,
      rows: own,
      figures: sharedFigures(own),
    })
    if (!groups || !wiring || groups.length < 2) return [part('', '', rows)]
    const groupOf = new Map(wiring.flatMap((w) => (w.channel !== null ? [[w.channel, w.group] as const] : [])))
    return groups.map((g) =>
      part(
        g.id,
        `${g.name}: ${g.boards} ${g.boards === 1 ? 'board' : 'boards'}, on ${onWords(g)}`,
        rows.filter((r) => groupOf.get(r.channel) === g.id),
      ),
    )
  }, [groups, wiring, rows])
}

function Row(p: {
  row: CheckRow
  figures: readonly (string | null)[]
  done: ReadonlySet<string>
  isOpen: boolean
  onOpen(channel: string): void
  onTick: TableProps['onTick']
}) {
  const { channel, items } = p.row
  return (
    <tr>
      <th scope="row" className="ui-words">
        <button type="button" className="power-checks-name" aria-expanded={p.isOpen} onClick={() => p.onOpen(channel)}>
          {channel}
        </button>
      </th>
      {items.map((item, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a check's place in the table is its name
        <td key={i} className="ui-words">
          {item && (
            <label className="power-check" title={item.what}>
              <input
                type="checkbox"
                aria-label={`${channel}, ${item.step}: ${item.what}`}
                checked={p.done.has(item.key)}
                onChange={(e) => p.onTick(item, e.currentTarget.checked)}
              />
              {(p.figures[i] ?? null) === null && <span>{unbroken(item.short)}</span>}
            </label>
          )}
        </td>
      ))}
    </tr>
  )
}

const InFull = ({ row, columns }: { row: CheckRow; columns: number }) => (
  <tr className="ui-below">
    <td className="ui-words" colSpan={columns}>
      {row.items.map((item) => item && <p key={item.key}>{`${item.step}: ${item.what}`}</p>)}
    </td>
  </tr>
)

/** What is asked, once for all channels, and what was found about their fuses. */
function Meanings(p: { meanings: ReturnType<typeof checkTable>['meanings']; items: readonly PowerUpItem[] }) {
  const findings = usePowerFindings()
  const remarks = useMemo(() => {
    const found = new Map<string, Remark>()
    for (const { channel, fuseOf } of p.items)
      if (channel !== null && fuseOf !== null)
        for (const r of remarksOn(findings, [{ kind: 'fuse', id: fuseOf }])) found.set(r.title, r)
    return [...found.values()]
  }, [p.items, findings])
  return (
    <ul className="power-meanings" aria-label="What is checked on every channel">
      {p.meanings.map(({ step, sentences }) => (
        <li key={step}>
          <b>{step}</b>{' '}
          {sentences.length === 0
            ? 'differs from channel to channel: the figure is in its cell, the sentence under its name.'
            : sentences.map(({ of, what }) => `${of === '' ? '' : `${of}: `}${what}`).join(' ')}
          {step === 'fuse' &&
            remarks.map((r) => (
              <strong key={r.title} className="power-remark" data-severity={r.severity}>
                {remarkWords(r)}
              </strong>
            ))}
        </li>
      ))}
    </ul>
  )
}
