// A sweep as a table for other programs: a row for each cell, with value and standard error of every figure.
import type { CsvCell } from '../files/csv.ts'
import { SWEPT_NAMES, type SweptName } from '../job/sweep/figures.ts'
import { type Parameter, parametersOf } from '../job/sweep/parameters.ts'
import type { SweepAxes } from '../job/sweep/plan.ts'
import type { SweepCell } from '../job/sweep/run.ts'
import type { Lamp } from '../lamp/schema.ts'
import { sweptWords } from './sweep.ts'

/** Shares of 1 have the unit '1'. */
export const unitFor = (name: SweptName): string => {
  const { unit } = sweptWords(name)
  return unit === '%' ? '1' : unit
}
const axisUnit = ({ unit }: Parameter): string => (unit === 'share' || unit === '' ? '1' : unit)

export function sweepTable(lamp: Lamp, axes: SweepAxes, cells: readonly SweepCell[], seed: number): CsvCell[][] {
  const known = parametersOf(lamp)
  const head: CsvCell[] = [
    ...axes.map(({ path }) => `${path} (${axisUnit(known.find((p) => p.path === path)!)})`),
    'rays',
    'seed',
    ...SWEPT_NAMES.flatMap((name) => [`${name} (${unitFor(name)})`, `${name} se (${unitFor(name)})`]),
    'severe findings',
    'warnings',
    'worst finding',
    'why there is no lamp',
  ]
  return [head, ...cells.map((cell) => rowOf(cell, seed))]
}

function rowOf({ values, reading, why }: SweepCell, seed: number): CsvCell[] {
  if (!reading) return [...values, 0, seed, ...SWEPT_NAMES.flatMap(() => [null, null]), null, null, null, why]
  const count = (severity: string) => reading.findings.filter((f) => f.severity === severity).length
  return [
    ...values,
    reading.rays,
    seed,
    ...SWEPT_NAMES.flatMap((name): CsvCell[] => {
      const figure = reading.figures[name]
      return figure ? [figure.value, figure.se] : [null, null]
    }),
    count('severe'),
    count('warning'),
    reading.findings[0]?.title ?? null,
    null,
  ]
}
