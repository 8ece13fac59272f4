// A table's column widths and the lines of its cells.
import type { Table } from '../model.ts'
import { breakLines, joined } from './lines.ts'
import type { Measure } from './place.ts'

/** Points between two columns. */
const GAP = 8
/** Sizes that are tried, largest first. */
const SIZES = [8.5, 7.5, 6.5] as const

export interface LaidTable {
  size: number
  /** Of each column: left edge from the table's own, and width. */
  columns: { x: number; width: number; right: boolean }[]
  head: string[][] | null
  rows: string[][][]
}

/** Cells as lines, in columns that together are at most so wide. */
export function layTable({ head, rows, right = [] }: Table, width: number, measure: Measure): LaidTable {
  const all = head ? [head, ...rows] : rows
  const count = all.reduce((most, r) => Math.max(most, r.length), 1)
  const room = width - GAP * (count - 1)
  const wide = (size: number, pieces: (cell: string) => readonly string[]) =>
    Array.from({ length: count }, (_, i) =>
      all.reduce(
        (most, row, k) =>
          Math.max(most, ...pieces(row[i] ?? '').map((p) => measure(p, size, head !== undefined && k === 0))),
        0,
      ),
    )
  const words = (cell: string) => joined(cell).split(' ')
  const size = SIZES.find((s) => sum(wide(s, words)) <= room) ?? SIZES[SIZES.length - 1] ?? 7
  const widths = shared(
    wide(size, (cell) => [cell]),
    wide(size, words),
    room,
  )
  const columns = widths.map((w, i) => ({
    x: sum(widths.slice(0, i)) + GAP * i,
    width: w,
    right: right.includes(i),
  }))
  const cells = (row: readonly string[], bold: boolean) =>
    columns.map((c, i) => breakLines(row[i] ?? '', c.width + 0.01, size, bold, measure))
  return { size, columns, head: head ? cells(head, true) : null, rows: rows.map((r) => cells(r, false)) }
}

/** A column of less than this share of the room isn't broken, where the others can spare it. */
const NARROW_SHARE = 0.17

/** As wide as their text where all fits; else narrow ones so, each of the others as wide as its longest word, and the rest by what each would have more. */
function shared(natural: readonly number[], longest: readonly number[], room: number): number[] {
  if (sum(natural) <= room) return [...natural]
  const whole = natural.map((w, i) => (w < NARROW_SHARE * room ? w : (longest[i] ?? 0)))
  const least = sum(whole) < room && whole.some((w, i) => w < (natural[i] ?? 0)) ? whole : longest
  const needed = sum(least)
  if (needed >= room) return least.map((w) => (w * room) / needed)
  const wish = natural.map((w, i) => w - (least[i] ?? 0))
  const more = (room - needed) / sum(wish)
  return least.map((w, i) => w + more * (wish[i] ?? 0))
}

const sum = (x: readonly number[]): number => x.reduce((a, b) => a + b, 0)
