// Lamps side by side in rows: figures with ± and whether they differ from the first lamp's, then dangers, heat and parts in words.
import { type Difference, figureDifference } from '../job/compare/difference.ts'
import type { ColumnMode, ColumnSoFar } from '../job/compare/result.ts'
import { SWEPT_NAMES, type SweptFigures, type SweptName } from '../job/sweep/figures.ts'
import { allInSystem, inSystem } from '../num/quantity.ts'
import { T95 } from '../num/stats.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { runTime, stopWords } from './answers.ts'
import { type DangerGroup, dangerGroups } from './compareDanger.ts'
import { type FindingRow, findingRows } from './compareFindings.ts'
import { type PartRows, partRows } from './compareParts.ts'
import { upDegrees } from './danger.ts'
import { short, whole, withError } from './numbers.ts'
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
  danger: DangerGroup[]
  findings: FindingRow[]
  heat: WordRow[]
  parts: WordRow[]
  /** What one of the lamps has more of than the first, or less. */
  list: PartRows
}

type Columns = readonly (ColumnSoFar | null)[]

/** The first lamp comes first; null: not read yet. */
export function compareTable(columns: Columns, system: UnitSystem = 'metric'): CompareTable {
  return {
    figures: figureRows(columns),
    danger: dangerGroups(columns, system),
    findings: findingRows(columns, system),
    heat: heatRows(columns, system),
    parts: massRows(columns, system),
    list: partRows(columns, system),
  }
}

export const figureRows = (columns: Columns): FigureRow[] => SWEPT_NAMES.flatMap((name) => figureRow(columns, name))

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

const NONE = '–'

export function heatRows(columns: Columns, system: UnitSystem = 'metric'): WordRow[] {
  const ids = new Map(columns.flatMap((c) => c?.heat?.modes ?? []).map((m) => [m.id, m.name]))
  const rows = [...ids].flatMap(([id, name]) => {
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
      row('from the supply', (m) => `${short(m.startW)} W`),
    ]
  })
  return allInSystem(rows, system)
}

const degrees = (c: number, system: UnitSystem): string =>
  Number.isFinite(c) ? inSystem(upDegrees(c), system).replaceAll('\u00a0', ' ') : '–'

export function massRows(columns: Columns, system: UnitSystem = 'metric'): WordRow[] {
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
    row('Kinds of parts', (p) => whole(p.list.length)),
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
  'Dangers are from few rays so far: their ± is wider, and so are the upper ends. The whole reading follows.'
