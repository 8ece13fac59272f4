// A short table of two columns, the first one ascending: a curve of a data sheet.
import { useState } from 'react'
import type { z } from 'zod'
import { LIMITS } from '../../lamp/limits.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Unit } from '../common/units.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Button } from '../ui/Button.tsx'
import { ErrorText } from './ErrorText.tsx'
import { LampNumber } from './fields.tsx'

interface PairColumn<K extends string> {
  key: K
  name: string
  unit: Unit
  of: z.ZodNumber
  step: number
}

export interface PairTableProps<A extends string, B extends string> {
  title: string
  first: PairColumn<A>
  second: PairColumn<B>
  /** Fewest rows. */
  least: number
  /** Meaning of an empty table. */
  empty?: string
  /** Adds a row, where repeating the last step is not suitable. */
  add?(rows: readonly Record<A | B, number>[]): Record<A | B, number>[]
  read(lamp: Lamp): readonly Record<A | B, number>[]
  write(lamp: Lamp, rows: Record<A | B, number>[]): Lamp
}

export function PairTable<A extends string, B extends string>(p: PairTableProps<A, B>) {
  type Row = Record<A | B, number>
  const count = useDesign((s) => p.read(s.lamp).length)
  const [why, setWhy] = useState<string | null>(null)
  const set = (label: string, change: (rows: readonly Row[]) => Row[]) =>
    setWhy(tryEdit(design, `${p.title}: ${label}`, (lamp) => p.write(lamp, change(p.read(lamp)))))
  const cell = (i: number, column: PairColumn<A> | PairColumn<B>) => (
    <LampNumber
      label={`${p.title}, row ${i + 1}, ${column.name.toLowerCase()}`}
      hideLabel
      unit={column.unit}
      of={column.of}
      step={column.step}
      read={(lamp) => p.read(lamp)[i]?.[column.key] ?? null}
      write={(lamp, v) =>
        p.write(
          lamp,
          p.read(lamp).map((row, j) => (j === i ? { ...row, [column.key]: v } : row)),
        )
      }
    />
  )
  return (
    <div className="parts-pairs">
      <div className="parts-pairs-head">
        <h4>{p.title}</h4>
        <Button
          kind="quiet"
          name={`Add a row to ${p.title}`}
          isDisabled={count >= LIMITS.tableRows}
          onPress={() =>
            set('row added', p.add ?? ((rows) => [...rows, nextRow<A, B>(rows, p.first.key, p.second.key)]))
          }
        >
          + Row
        </Button>
      </div>
      {count === 0 && p.empty && <p className="parts-note">{p.empty}</p>}
      {count > 0 && (
        <table>
          <thead>
            <tr>
              <th scope="col">{p.first.name}</th>
              <th scope="col">{p.second.name}</th>
              <th scope="col">
                <span className="ui-hidden">Delete</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {Array.from({ length: count }, (_, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: rows have no other name than their place
              <tr key={i}>
                <td>{cell(i, p.first)}</td>
                <td>{cell(i, p.second)}</td>
                <td>
                  <Button
                    kind="quiet"
                    name={`Delete row ${i + 1} of ${p.title}`}
                    isDisabled={count <= p.least}
                    onPress={() => set('row deleted', (rows) => rows.filter((_, j) => j !== i))}
                  >
                    ×
                  </Button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <ErrorText why={why} />
    </div>
  )
}

/** Extrapolates the curve by its last step, so that the new row is always higher. */
export function nextRow<A extends string, B extends string>(
  rows: readonly Record<A | B, number>[],
  first: A,
  second: B,
): Record<A | B, number> {
  const last = rows.at(-1)
  if (!last) return { [first]: 1, [second]: 1 } as Record<A | B, number>
  const before = rows.at(-2)
  const step = before ? last[first] - before[first] : Math.max(Math.abs(last[first]) * 0.5, 0.1)
  return { ...last, [first]: Math.round((last[first] + step) * 1e6) / 1e6 }
}
