// Lamps side by side in rows: figures with ± and whether they differ from the first lamp's, then dangers, heat and parts in words.
import { findingsIn, type Severity } from '../checks/finding.ts'
import { type Difference, figureDifference } from '../job/compare/difference.ts'
import type { ColumnFinding, ColumnMode, ColumnSoFar } from '../job/compare/result.ts'
import { SWEPT_NAMES, type SweptFigures, type SweptName } from '../job/sweep/figures.ts'
import { inSystem } from '../num/quantity.ts'
import { T95 } from '../num/stats.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { runTime, stopWords } from './answers.ts'
import { upDegrees } from './danger.ts'
import { leadDistances } from './dangerLead.ts'
import { whole, withError } from './numbers.ts'
import { massWords, moneyWords } from './partsTable.ts'
import { type SweptWords, shownIn, sweptWords } from './sweep.ts'

/** Behind the name of each lamp and over its column. */
export const COLUMN_LETTERS = ['A', 'B', 'C', 'D'] as const

export interface FigureRow extends Pick<SweptWords, 'name' | 'unit'> {
  figure: SweptName
  /** Of each lamp; undefined: it has none, or not yet. */
  figures: (SweptFigures[SweptName] | undefined)[]
  /** Against the first lamp; null for that one, and where either has none. */
  differences: (Difference | null)[]
}

/** A row without ±. */
export interface WordRow {
  name: string
  /** Null: not known yet. */
  cells: (string | null)[]
}

export interface CompareTable {
  figures: FigureRow[]
  danger: WordRow[]
  heat: WordRow[]
  parts: WordRow[]
}

type Columns = readonly (ColumnSoFar | null)[]

/** The first lamp comes first; null: not read yet. Words are in the units of `system`, figures metric. */
export function compareTable(columns: Columns, system: UnitSystem = 'metric'): CompareTable {
  return {
    figures: SWEPT_NAMES.flatMap((name) => figureRow(columns, name)),
    danger: dangerRows(columns, system),
    heat: heatRows(columns, system),
    parts: partsRows(columns, system),
  }
}

function figureRow(columns: Columns, figure: SweptName): FigureRow[] {
  const figures = columns.map((c) => c?.light.figures[figure])
  if (figures.every((f) => f === undefined)) return []
  const [first] = columns
  const differences = columns.map((c, i) =>
    i > 0 && first && c ? figureDifference(first.light, c.light, figure) : null,
  )
  const { name, unit } = sweptWords(figure)
  return [{ figure, name, unit, figures, differences }]
}

export type Mark = 'differs' | 'within ±' | 'the same'

export const markOf = ({ differs, value, pm }: Difference): Mark =>
  differs ? 'differs' : value === 0 || pm === 0 ? 'the same' : 'within ±'

/** From a figure's value to what is shown of it, in per cent or the builder's unit. */
export const shownTimes = (unit: FigureRow['unit'], system: UnitSystem): number =>
  unit === '%' ? 100 : shownIn(unit, system).toShown(1)

const BY: Record<Difference['by'], string> = { pairs: 'pairs', joined: 'joined ±', exact: 'exact' }

/** "−1,234", "± 56" and which ± it is; a share in per cent. */
export function differenceCells(
  { value, pm, by }: Difference,
  unit: FigureRow['unit'],
  system: UnitSystem = 'metric',
): [string, string, string] {
  const shown = withError({ value, se: pm / T95 }, shownTimes(unit, system))
  const sign = value > 0 ? '+' : ''
  return [value === 0 ? '0' : `${sign}${shown.value}`, value === 0 && pm === 0 ? '' : shown.error, BY[by]]
}

function dangerRows(columns: Columns, system: UnitSystem): WordRow[] {
  const row = (name: string, cell: (d: NonNullable<ColumnSoFar['danger']>) => string): WordRow => ({
    name,
    cells: columns.map((c) => (c?.danger ? cell(c.danger) : null)),
  })
  const keep = (of: 'eye' | 'fire' | 'hand') => (d: NonNullable<ColumnSoFar['danger']>) =>
    leadDistances(d, system)
      .filter((l) => l.of === of)
      .map((l) => (l.reached || of === 'eye' ? l.figure : `anywhere: ${l.figure} of the limit`))
      .join()
      .replaceAll('\u00a0', ' ')
  return [
    row('Keep eyes away', keep('eye')),
    row('Keep what burns away', keep('fire')),
    row('Keep bare skin away', keep('hand')),
    row('Hottest place in front', (d) => `${Number((Math.ceil(d.worstKWm2 * 100) / 100).toPrecision(4))} kW/m²`),
    ...(['severe', 'warning'] as const).map((severity) => ({
      name: severity === 'severe' ? 'Severe findings' : 'Warnings',
      cells: columns.map((c) => (c?.danger && c.heat ? String(findingsOf(c, severity).length) : null)),
    })),
  ]
}

/** Of light, danger, heat and power; each once. */
export function findingsOf(column: ColumnSoFar, severity: Severity): ColumnFinding[] {
  const traced = column.danger?.findings ?? []
  // What geometry says of the sun gives way to the sun that was traced.
  const hasSun = traced.some((f) => f.rule.startsWith('sun-'))
  const light = column.light.findings.filter((f) => !hasSun || f.rule !== BY_GEOMETRY)
  const all = [...light, ...traced, ...(column.heat?.findings ?? [])]
  const known = new Map(all.map((f) => [`${f.rule}\0${f.title}`, f]))
  return [...known.values()].filter((f) => f.severity === severity)
}

const BY_GEOMETRY = 'sun-inside'

export interface SevereRow {
  /** Of the first lamp that has it; `more`: so many more of its kind there. */
  title: string
  more: number
  letters: string[]
}

/** Kind by kind, with the lamps that have it. */
export function severeRows(columns: Columns, system: UnitSystem = 'metric'): SevereRow[] {
  const rows = new Map<string, SevereRow>()
  for (const [i, column] of columns.entries()) {
    const letter = COLUMN_LETTERS[i] ?? ''
    for (const { rule, title } of column ? findingsIn(findingsOf(column, 'severe'), system) : []) {
      const row = rows.get(rule)
      if (!row) rows.set(rule, { title, more: 0, letters: [letter] })
      else if (row.letters.length === 1 && row.letters[0] === letter) row.more++
      else if (!row.letters.includes(letter)) row.letters.push(letter)
    }
  }
  return [...rows.values()]
}

/** "A B: title"; the figures in a title are those of the first lamp that is named. */
export const severeWords = ({ title, more, letters }: SevereRow): string =>
  `${letters.join(' ')}: ${title}${more > 0 ? ` And ${more} more of this kind.` : ''}`

export const SEVERE_TITLE = 'Severe findings; figures are those of the first lamp named'

const NONE = '–'

function heatRows(columns: Columns, system: UnitSystem): WordRow[] {
  const ids = new Map(columns.flatMap((c) => c?.heat?.modes ?? []).map((m) => [m.id, m.name]))
  return [...ids].flatMap(([id, name]) => {
    const row = (what: string, cell: (m: ColumnMode) => string): WordRow => ({
      name: `${name}, ${what}`,
      cells: columns.map((c) => {
        if (!c?.heat) return null
        const mode = c.heat.modes.find((m) => m.id === id)
        return mode ? cell(mode) : NONE
      }),
    })
    return [
      row('runs', (m) => `${runTime(m)}: ${stopWords(m, system)}`),
      row('hottest junction', (m) => degrees(m.junctionMaxC, system)),
      row('hottest place of the plate', (m) => degrees(m.plateMaxC, system)),
      row('from the supply', (m) => `${m.startW.toPrecision(3)} W`),
    ]
  })
}

const degrees = (c: number, system: UnitSystem): string =>
  Number.isFinite(c) ? inSystem(upDegrees(c), system).replaceAll('\u00a0', ' ') : '–'

function partsRows(columns: Columns, system: UnitSystem): WordRow[] {
  const row = (name: string, cell: (p: ColumnSoFar['parts']) => string): WordRow => ({
    name,
    cells: columns.map((c) => (c ? cell(c.parts) : null)),
  })
  const mass = ({ knownG, unknown }: ColumnSoFar['parts']['mass']) =>
    `${knownG > 0 ? massWords(knownG, system) : 'not known'}${unknown.length > 0 ? `, ${unknown.length} not weighed` : ''}`
  return [
    row('Mass of the lamp', (p) => mass(p.mass)),
    row('Mass beside it', (p) => mass(p.apart)),
    row('Emitters', (p) => whole(p.emitters)),
    row('Kinds of parts', (p) => whole(p.rows)),
    row('Price', ({ cost }) =>
      cost.priced === 0
        ? 'none typed'
        : `${moneyWords(cost.total, cost.currency)}, ${cost.priced} of ${cost.rows} priced`,
    ),
  ]
}

export const DIFFERENCE_NOTE =
  'Differences are against A, with their ± at 95 %: of 20 rows that are alike about one is marked by chance. pairs: eight short traces of both lamps with the same random numbers show that their errors go together, and the difference is known better than each ± says. joined ±: both ± by √(a² + b²). Hot spots always by the joined ±.'
export const ROUGH_NOTE =
  'Dangers are upper ends of a first reading from few rays, without ±; the danger sheet of each lamp reads them whole. The sun on a single lamp is searched more finely there.'
