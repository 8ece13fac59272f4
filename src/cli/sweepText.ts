// A sweep as text: a row for each lamp, the best, and the lamps that are invalid.
import { findingsIn } from '../checks/finding.ts'
import { bestOf } from '../job/sweep/best.ts'
import type { SweptName } from '../job/sweep/figures.ts'
import { type Parameter, parametersOf } from '../job/sweep/parameters.ts'
import type { SweepAxes } from '../job/sweep/plan.ts'
import type { SweepCell } from '../job/sweep/run.ts'
import type { Lamp } from '../lamp/schema.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { shownIn, sweptWords } from '../report/sweep.ts'
import { columns, duration, short, whole, withError, wrapped } from './format.ts'
import { stripControls } from './io.ts'

const WIDTH = 96
const SHOWN: readonly SweptName[] = ['axialIntensityCd', 'fluxOutLm', 'beamAngleDeg', 'hot.front']
const HEADS: Partial<Record<SweptName, string>> = {
  axialIntensityCd: 'axis, cd',
  fluxOutLm: 'flux out, lm',
  beamAngleDeg: 'beam, °',
  'hot.front': 'in front, kW/m²',
}

export interface SweepSettings {
  rays: number
  seed: number
  /** Of a run in one go. */
  threads?: number
  seconds?: number
}

export function sweepText(
  lamp: Lamp,
  axes: SweepAxes,
  cells: readonly SweepCell[],
  settings: SweepSettings,
  system: UnitSystem = 'metric',
): string {
  const parts = [
    head(lamp, cells, settings),
    table(lamp, axes, cells, system),
    emptyCells(lamp, axes, cells, system),
    bests(lamp, axes, cells, system),
    SAME,
  ]
  return `${parts.filter((p) => p !== '').join('\n\n')}\n`
}

const SAME = wrapped(
  'Every lamp was traced with the same random numbers: the differences between them are known rather better than each ± says.',
  WIDTH,
  '',
)

function head(lamp: Lamp, cells: readonly SweepCell[], { rays, seed, threads, seconds }: SweepSettings): string {
  const workers = threads === undefined ? '' : `, ${threads === 1 ? '1 thread' : `${threads} threads`}`
  const took = seconds === undefined ? '' : `, ${duration(seconds)}`
  const lamps = cells.length === 1 ? '1 lamp' : `${whole(cells.length)} lamps`
  return `${stripControls(lamp.name)}\n${lamps} of ${whole(rays)} rays each, seed ${seed}${workers}${took}; ± is at 95 %`
}

const unitText = (unit: string): string => (unit === 'deg' ? '°' : unit === 'share' ? '' : unit)
/** A degree sign follows its number directly. */
const withUnit = (number: string, unit: string): string =>
  `${number}${unit === 'deg' ? '' : ' '}${unitText(unit)}`.trim()

/** A value of a document's unit, with the unit that is shown. */
const valueWords = (x: number, unit: string, system: UnitSystem): string => {
  const { word, toShown } = shownIn(unit, system)
  return withUnit(digits(toShown(x)), word)
}

const digits = (x: number): string => x.toLocaleString('en-GB', { maximumSignificantDigits: 6, useGrouping: false })

const axisWords = ({ part, label }: Parameter): string =>
  `${stripControls(part)}: ${label.charAt(0).toLowerCase()}${label.slice(1)}`

function table(lamp: Lamp, axes: SweepAxes, cells: readonly SweepCell[], system: UnitSystem): string {
  const of = axisParameters(lamp, axes)
  const letter = (i: number) => (axes.length > 1 ? 'AB'[i]! : 'value')
  const names = of.map((p, i) => `  ${letter(i)}  ${axisWords(p)} (${stripControls(p.path)})`)
  const heads = [
    ...of.map((p, i) => `${letter(i)} ${unitText(shownIn(p.unit, system).word)}`.trim()),
    ...SHOWN.flatMap((name) => [HEADS[name]!, '']),
    'worst finding',
  ]
  const rows = cells.map((cell) => [
    ...cell.values.map((v, i) => digits(shownIn(of[i]!.unit, system).toShown(v))),
    ...cellWords(cell),
  ])
  const right = Array.from({ length: heads.length - 1 }, (_, i) => i)
  return [...names, '', ...columns([heads, ...rows], right).map((line) => `  ${line}`)].join('\n')
}

const axisParameters = (lamp: Lamp, axes: SweepAxes): Parameter[] => {
  const known = parametersOf(lamp)
  return axes.map(({ path }) => known.find((p) => p.path === path)!)
}

function cellWords({ reading }: SweepCell): string[] {
  if (!reading) return [...SHOWN.flatMap(() => ['-', '']), 'no such lamp, see below']
  const worst = reading.findings[0]
  return [
    ...SHOWN.flatMap((name) => {
      const figure = reading.figures[name]
      if (!figure) return ['-', '']
      const { value, error } = withError(figure)
      return [value, error]
    }),
    worst ? `${SEVERITY[worst.severity]} ${worst.rule}` : 'none',
  ]
}

const SEVERITY = { severe: 'SEVERE', warning: 'warning', note: 'note' } as const

/** Why cells are empty: each reason once, with its lamps. */
function emptyCells(lamp: Lamp, axes: SweepAxes, cells: readonly SweepCell[], system: UnitSystem): string {
  const empty = cells.filter((cell) => !cell.reading)
  if (empty.length === 0) return ''
  const of = axisParameters(lamp, axes)
  const lines = empty.map((cell) => {
    const at = cell.values.map((v, i) => valueWords(v, of[i]!.unit, system)).join(', ')
    return `  ${wrapped(`${at}: ${stripControls(cell.why ?? '')}`, WIDTH, '    ')}`
  })
  const shown = lines.slice(0, MAX_REASONS)
  if (lines.length > shown.length) shown.push(`  … and ${lines.length - shown.length} more.`)
  return ['No such lamp', ...shown].join('\n')
}

const MAX_REASONS = 12

function bests(lamp: Lamp, axes: SweepAxes, cells: readonly SweepCell[], system: UnitSystem): string {
  const of = axisParameters(lamp, axes)
  const lines = SHOWN.flatMap((name) => {
    const { wanted, unit, name: called } = sweptWords(name)
    const best = bestOf(cells, name, wanted)
    if (!best) return []
    const { value, error } = withError(best.figure)
    const at = best.cell.values.map((v, i) => `${stripControls(of[i]!.path)} ${valueWords(v, of[i]!.unit, system)}`)
    const alike = best.alike.length === 0 ? '' : `; ${best.alike.length} more can’t be told apart from it`
    const [worst] = findingsIn((best.cell.reading?.findings ?? []).slice(0, 1), system)
    const danger = worst?.severity === 'severe' ? ` SEVERE there: ${stripControls(worst.title)}` : ''
    const words = `${called}: ${wanted} ${withUnit(`${value} ${error}`.trim(), unit)} at ${at.join(', ')}${alike}.${danger}`
    return [`  ${wrapped(words, WIDTH, '    ')}`]
  })
  return lines.length === 0 ? '' : ['Best', ...lines].join('\n')
}

/** Lists every parameter that can be swept. */
export function parameterList(lamp: Lamp, system: UnitSystem = 'metric'): string {
  const rows = parametersOf(lamp).map((p) => {
    const { word, toShown } = shownIn(p.unit, system)
    return [
      stripControls(p.path),
      p.value === null ? 'differ' : digits(toShown(p.value)),
      unitText(word),
      `${short(toShown(p.min))} to ${short(toShown(p.max))}${p.integer ? ', whole' : ''}`,
      axisWords(p),
    ]
  })
  return `${columns([['number', 'now', '', 'limits', ''], ...rows], [1]).join('\n')}\n`
}
