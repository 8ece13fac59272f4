// A comparison as text: what changed, figures with ± and which of them differ, dangers, heat, parts.
import type { Column } from '../job/compare/result.ts'
import type { Lamp } from '../lamp/schema.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { changeLines } from '../report/changeLines.ts'
import {
  COLUMN_LETTERS,
  type CompareTable,
  compareTable,
  DIFFERENCE_NOTE,
  differenceCells,
  type FigureRow,
  markOf,
  ROUGH_NOTE,
  shownTimes,
  type WordRow,
} from '../report/compare.ts'
import { DANGER_ROWS_NOTE } from '../report/compareDanger.ts'
import { foundWords } from '../report/compareFindings.ts'
import type { PartRow } from '../report/compareParts.ts'
import { shownIn } from '../report/sweep.ts'
import { columns, duration, whole, withError, wrapped } from './format.ts'
import { stripControls } from './io.ts'

const WIDTH = 96
const MOST_CHANGES = 24

export function compareText(
  names: readonly string[],
  lamps: readonly Lamp[],
  read: readonly Column[],
  settings: { rays: number; seed: number; threads: number; rough: boolean; seconds: number },
  system: UnitSystem = 'metric',
): string {
  const table = compareTable(read, system)
  const parts = [
    head(names, lamps, read, settings),
    changed(lamps, system),
    section('Light', figureLines(table, system)),
    section('Against A', differenceLines(table, system)),
    section('Findings; figures are those of the first lamp that has one', findingLines(table)),
    ...table.danger.map(({ title, rows }) => section(`Danger, upper ends. ${title}`, rows.flatMap(rowLines))),
    section('Heat and power', wordLines(table.heat)),
    section('Parts', wordLines(table.parts)),
    section(`Parts that differ (${whole(table.list.alike)} rows are alike)`, table.list.rows.flatMap(partLines)),
    wrapped(DIFFERENCE_NOTE, WIDTH, ''),
    wrapped(DANGER_ROWS_NOTE, WIDTH, ''),
    ...(settings.rough ? [wrapped(ROUGH_NOTE, WIDTH, '')] : []),
    'The night side by side is drawn on the page.',
  ]
  return `${parts.filter((p) => p !== '').join('\n\n')}\n`
}

const section = (title: string, lines: readonly string[]): string =>
  lines.length === 0 ? '' : [title, ...lines.map((line) => `  ${line}`)].join('\n')

function head(
  names: readonly string[],
  lamps: readonly Lamp[],
  read: readonly Column[],
  { rays, seed, threads, seconds }: { rays: number; seed: number; threads: number; seconds: number },
): string {
  const rows = lamps.map((lamp, i) => [
    COLUMN_LETTERS[i] ?? '',
    stripControls(lamp.name),
    stripControls(names[i] ?? ''),
    stripControls(read[i]?.light.why ?? ''),
  ])
  const workers = threads === 1 ? '1 thread' : `${threads} threads`
  return `${columns(rows).join('\n')}\n${whole(rays)} rays each, seed ${seed}, ${workers}, ${duration(seconds)}; ± is at 95 %`
}

function changed(lamps: readonly Lamp[], system: UnitSystem): string {
  const [first, ...others] = lamps
  if (!first) return ''
  return others
    .map((lamp, i) => {
      const lines = changeLines(first, lamp, system)
      const title = `What changed from A to ${COLUMN_LETTERS[i + 1]}`
      if (lines.length === 0) return `${title}: nothing`
      const more = lines.length - MOST_CHANGES
      const shown = lines.slice(0, MOST_CHANGES).map((line) => wrapped(stripControls(line), WIDTH, '    '))
      return section(title, [...shown, ...(more > 0 ? [`and ${more} more`] : [])])
    })
    .join('\n\n')
}

const unitText = (unit: string, system: UnitSystem): string => (unit === 'deg' ? '°' : shownIn(unit, system).word)

function figureLines({ figures }: CompareTable, system: UnitSystem): string[] {
  const count = figures[0]?.figures.length ?? 0
  const letters = COLUMN_LETTERS.slice(0, count)
  const rows = figures.map((row) => [
    row.name,
    ...row.figures.flatMap((f) => {
      if (!f) return ['–', '']
      const { value, error } = withError(f, shownTimes(row.unit, system))
      return [value, error]
    }),
    unitText(row.unit, system),
  ])
  const right = letters.flatMap((_, i) => [1 + 2 * i, 2 + 2 * i])
  return figures.length === 0 ? [] : columns([['', ...letters.flatMap((l) => [l, '']), ''], ...rows], right)
}

function differenceLines({ figures }: CompareTable, system: UnitSystem): string[] {
  const count = figures[0]?.figures.length ?? 0
  const letters = COLUMN_LETTERS.slice(1, count)
  const rows = figures.map((row) => [
    row.name,
    ...row.differences.slice(1).flatMap((d) => differenceWords(d, row, system)),
  ])
  const right = letters.flatMap((_, i) => [1 + 3 * i, 2 + 3 * i])
  return figures.length === 0 ? [] : columns([['', ...letters.flatMap((l) => [`${l} − A`, '', ''])], ...rows], right)
}

function differenceWords(d: FigureRow['differences'][number], row: FigureRow, system: UnitSystem): string[] {
  if (!d) return ['–', '', '']
  const [value, pm, by] = differenceCells(d, row.unit, system)
  return [value, pm, `${unitText(row.unit, system)}  ${markOf(d)}${d.by === 'exact' ? '' : ` (${by})`}`]
}

function wordLines(rows: readonly WordRow[]): string[] {
  const count = rows[0]?.cells.length ?? 0
  const body = rows.map(({ name, cells }) => [stripControls(name), ...cells.map((cell) => stripControls(cell ?? '–'))])
  return count === 0 ? [] : columns([['', ...COLUMN_LETTERS.slice(0, count)], ...body])
}

/** A line for each answer, with the lamps that give it. */
function rowLines({
  name,
  cells,
  marks,
}: {
  name: string
  cells: readonly (string | null)[]
  marks: readonly (string | null)[]
}): string[] {
  const answers = new Map<string, string[]>()
  for (const [i, cell] of cells.entries()) {
    const mark = marks[i]
    const words = `${(cell ?? '–').replaceAll('\u00a0', ' ')}${mark ? `  [${mark}]` : ''}`
    answers.set(words, [...(answers.get(words) ?? []), COLUMN_LETTERS[i] ?? ''])
  }
  return [
    stripControls(name),
    ...columns([...answers].map(([words, letters]) => [`  ${letters.join(' ')}`, stripControls(words)])),
  ]
}

const partLines = ({ name, size, cells, marks }: PartRow): string[] =>
  rowLines({ name: size === '' ? name : `${name}: ${size}`, cells, marks })

const findingLines = ({ findings }: CompareTable): string[] =>
  findings
    .filter(({ severity }) => severity !== 'note')
    .flatMap(({ title, lamps, marks }) => {
      const [head = '', ...rest] = rowLines({ name: title, cells: lamps.map(foundWords), marks })
      return [wrapped(head, WIDTH, '  '), ...rest]
    })
