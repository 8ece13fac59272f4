// Parts lists of lamps side by side: what differs, row by row, and how many rows are alike.
import type { Part } from '../bill/part.ts'
import type { ColumnSoFar } from '../job/compare/result.ts'
import { inSystem } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { amountWords, partWords, sizeWords } from './partsTable.ts'

export interface PartRow {
  name: string
  size: string
  /** Null: not known yet. */
  cells: (string | null)[]
  /** Against the first lamp: “7 more”, “0.2 m less”, “only here”, “not here”; null: as many. */
  marks: (string | null)[]
}

export interface PartRows {
  rows: PartRow[]
  /** So many rows have the same amount in every lamp. */
  alike: number
}

type Sum = Pick<Part, 'amount' | 'unit'>

/** Rows are matched by what is bought: name, size and place. */
export function partRows(columns: readonly (ColumnSoFar | null)[], system: UnitSystem = 'metric'): PartRows {
  const lists = columns.map((c) => c && sumsOf(c.parts.list, system))
  const keys = [...new Set(lists.flatMap((list) => (list ? [...list.keys()] : [])))]
  const all = keys.map((key): PartRow => {
    const [name = '', size = ''] = JSON.parse(key) as string[]
    const sums = lists.map((list) => list && (list.get(key) ?? 'none'))
    const [first = null] = sums
    return {
      name,
      size,
      cells: sums.map((s) => (s === null ? null : s === 'none' ? '–' : amountWords(s, system))),
      marks: sums.map((s, i) => (i > 0 ? markOf(first, s, system) : null)),
    }
  })
  const rows = all.filter(({ marks }) => marks.some((m) => m !== null))
  return { rows, alike: all.length - rows.length }
}

function sumsOf(list: readonly Part[], system: UnitSystem): Map<string, Sum> {
  const sums = new Map<string, Sum>()
  for (const part of list) {
    const key = JSON.stringify([inSystem(partWords(part), system), sizeWords(part.size, system)])
    const known = sums.get(key)
    sums.set(key, { unit: part.unit, amount: part.amount + (known?.amount ?? 0) })
  }
  return sums
}

function markOf(a: Sum | 'none' | null, b: Sum | 'none' | null, system: UnitSystem): string | null {
  if (a === null || b === null) return null
  if (a === 'none' || b === 'none') return a === b ? null : b === 'none' ? 'not here' : 'only here'
  const [was, is] = [amountWords(a, system), amountWords(b, system)]
  if (was === is) return null
  const more = b.amount - a.amount
  return `${amountWords({ unit: a.unit, amount: Math.abs(more) }, system)} ${more > 0 ? 'more' : 'less'}`
}
