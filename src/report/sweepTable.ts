// A sweep as a table for other programs: a row for each cell, with value and standard error of every figure.
import { findingsIn } from '../checks/finding.ts'
import type { CsvCell } from '../files/csv.ts'
import { SWEPT_NAMES, type SweptName } from '../job/sweep/figures.ts'
import { type Parameter, parametersOf } from '../job/sweep/parameters.ts'
import type { SweepAxes } from '../job/sweep/plan.ts'
import type { SweepCell } from '../job/sweep/run.ts'
import type { Lamp } from '../lamp/schema.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { shownIn, sweptWords } from './sweep.ts'

/** Shares of 1 have the unit '1'. */
export const unitFor = (name: SweptName): string => {
  const { unit } = sweptWords(name)
  return unit === '%' ? '1' : unit
}
const axisUnit = ({ unit }: Parameter): string => (unit === 'share' || unit === '' ? '1' : unit)

/** In the units of `system`; the paths and names of figures stay. */
export function sweepTable(
  lamp: Lamp,
  axes: SweepAxes,
  cells: readonly SweepCell[],
  seed: number,
  system: UnitSystem = 'metric',
): CsvCell[][] {
  const known = parametersOf(lamp)
  const units = axes.map(({ path }) => shownIn(axisUnit(known.find((p) => p.path === path)!), system))
  const head: CsvCell[] = [
    ...axes.map(({ path }, i) => `${path} (${units[i]?.word ?? ''})`),
    'rays',
    'seed',
    ...SWEPT_NAMES.flatMap((name) => {
      const { word } = shownIn(unitFor(name), system)
      return [`${name} (${word})`, `${name} se (${word})`]
    }),
    'severe findings',
    'warnings',
    'worst finding',
    'why there is no lamp',
  ]
  const shown = cells.map((cell) => ({
    ...cell,
    values: cell.values.map((v, i) => tidy(units[i]?.toShown(v) ?? v)),
  }))
  return [head, ...shown.map((cell) => rowOf(cell, seed, system))]
}

/** 25.4 mm are 1 in, not 1.0000000000000002. */
const tidy = (x: number): number => Number(x.toPrecision(12))

function rowOf({ values, reading, why }: SweepCell, seed: number, system: UnitSystem): CsvCell[] {
  if (!reading) return [...values, 0, seed, ...SWEPT_NAMES.flatMap(() => [null, null]), null, null, null, why]
  const count = (severity: string) => reading.findings.filter((f) => f.severity === severity).length
  return [
    ...values,
    reading.rays,
    seed,
    ...SWEPT_NAMES.flatMap((name): CsvCell[] => {
      const figure = reading.figures[name]
      const { toShown } = shownIn(unitFor(name), system)
      return figure ? [toShown(figure.value), toShown(figure.se)] : [null, null]
    }),
    count('severe'),
    count('warning'),
    findingsIn(reading.findings.slice(0, 1), system)[0]?.title ?? null,
    null,
  ]
}
