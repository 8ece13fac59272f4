// The picture of a sweep: range of a figure, colours of cells, the curve with its ±, and the sentences.

import { scaleLinear } from 'd3-scale'
import { area, line } from 'd3-shape'
import { type Best, bestOf, type Wanted } from '../../../job/sweep/best.ts'
import type { SweptName } from '../../../job/sweep/figures.ts'
import type { SweepCell } from '../../../job/sweep/run.ts'
import { T95 } from '../../../num/stats.ts'
import type { UnitSystem } from '../../../num/unitSystem.ts'
import { sweptWords } from '../../../report/sweep.ts'
import type { Figure } from '../../../run/figure.ts'
import { formatFigure, scaleOf, toDecimals } from '../../common/format.ts'
import type { PlotBox } from '../../common/plotBox.ts'
import { RAMP, RAMP_SIZE } from '../../common/ramp.ts'
import { type ShownUnit, shownUnit } from '../../common/unitSystem.ts'

export type Cells = readonly (SweepCell | undefined)[]

export const figureOf = (cell: SweepCell | undefined, name: SweptName): Figure | null =>
  cell?.reading?.figures[name] ?? null

/** Lowest and highest value of a figure so far; null without any. */
export function spanOf(cells: Cells, name: SweptName): [number, number] | null {
  const values = cells.flatMap((cell) => figureOf(cell, name)?.value ?? [])
  return values.length === 0 ? null : [Math.min(...values), Math.max(...values)]
}

/** 0 at the lowest value, 1 at the highest; one half where all are equal. */
export const shareOf = (value: number, [low, high]: readonly [number, number]): number =>
  high > low ? (value - low) / (high - low) : 0.5

/** Position on the ramp: the darkest colours are left out, since they would not show on the background. */
export const rampAt = (share: number): number => 0.12 + 0.88 * share

/** True where black text is more legible than white: relative luminance over 0.18, WCAG 2.2 (contrast of 4.5 either way). */
export function wantsBlackInk(share: number): boolean {
  const i = Math.round(rampAt(share) * (RAMP_SIZE - 1)) * 3
  const linear = (c: number) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4)
  const [r, g, b] = [0, 1, 2].map((k) => linear(RAMP[i + k]! / 255)) as [number, number, number]
  return 0.2126 * r + 0.7152 * g + 0.0722 * b > 0.18
}

/** Number format of a map: one unit, three digits for the largest value, the same decimals for all. */
export function mapNumbers(span: readonly [number, number] | null, name: SweptName, system: UnitSystem = 'metric') {
  const { unit } = sweptWords(name)
  const largest = span ? Math.max(Math.abs(span[0]), Math.abs(span[1])) : 0
  const scale = scaleOf(largest, unit, system)
  const decimals = largest > 0 ? Math.max(0, 2 - Math.floor(Math.log10(largest * scale.by) + 1e-9)) : 0
  return { unit: scale.unit, text: (value: number) => toDecimals(value * scale.by, decimals), by: scale.by }
}

export interface CurveDrawing {
  /** One line for each run of neighbouring cells that have the figure. */
  lines: string[]
  bands: string[]
  points: { index: number; x: number; y: number }[]
  x: (value: number) => number
  y: (value: number) => number
  xTicks: number[]
  yTicks: number[]
  valueAt: (px: number) => number
}

/** `shown`: the unit that the marks along the axis are round in. */
export function drawCurve(
  values: readonly number[],
  cells: Cells,
  name: SweptName,
  box: PlotBox,
  shown: Pick<ShownUnit, 'toShown' | 'toDocument'> = shownUnit('', 'metric'),
): CurveDrawing {
  const x = scaleLinear([values[0]!, values.at(-1)!], [box.left, box.widthPx - box.right])
  const known = cells.flatMap((cell) => {
    const figure = figureOf(cell, name)
    return cell && figure ? [{ index: cell.index, at: values[cell.index]!, ...figure }] : []
  })
  known.sort((a, b) => a.index - b.index)
  const low = Math.min(...known.map((p) => p.value - T95 * p.se))
  const high = Math.max(...known.map((p) => p.value + T95 * p.se))
  const room = known.length === 0 ? [0, 1] : low === high ? [low * 0.9, high * 1.1 || 1] : [low, high]
  const y = scaleLinear(room, [box.heightPx - box.bottom, box.top]).nice(4)
  // Cells that are not traced yet are skipped; a cell without a value interrupts the curve.
  const broken = new Set(cells.flatMap((cell) => (cell && !figureOf(cell, name) ? [cell.index] : [])))
  const stretches: (typeof known)[] = []
  for (const p of known) {
    const last = stretches.at(-1)
    const before = last?.at(-1)
    const parted = before === undefined || [...broken].some((i) => i > before.index && i < p.index)
    if (last && !parted) last.push(p)
    else stretches.push([p])
  }
  type Point = (typeof known)[number]
  const drawLine = line<Point>(
    (p) => x(p.at),
    (p) => y(p.value),
  )
  const drawBand = area<Point>(
    (p) => x(p.at),
    (p) => y(p.value - T95 * p.se),
    (p) => y(p.value + T95 * p.se),
  )
  return {
    lines: stretches.map((s) => drawLine(s) ?? ''),
    bands: stretches.map((s) => drawBand(s) ?? ''),
    points: known.map((p) => ({ index: p.index, x: x(p.at), y: y(p.value) })),
    x,
    y,
    xTicks: scaleLinear([shown.toShown(values[0]!), shown.toShown(values.at(-1)!)], [0, 1])
      .ticks(box.widthPx > 700 ? 9 : 6)
      .map(shown.toDocument),
    yTicks: y.ticks(4),
    valueAt: (px) => x.invert(px),
  }
}

/** Number of traced cells, of those with a severe finding, and of those without a valid lamp. */
export function countCells(cells: Cells) {
  const come = cells.filter((c) => c !== undefined)
  return {
    come: come.length,
    all: cells.length,
    severe: come.filter(isSevere).length,
    empty: come.filter((c) => !c.reading).length,
  }
}

export const severeCount = (cell: SweepCell | undefined): number =>
  cell?.reading?.findings.filter((f) => f.severity === 'severe').length ?? 0

export const isSevere = (cell: SweepCell | undefined): boolean => severeCount(cell) > 0

/** Why a cell has no value. */
export function whyEmpty(cell: SweepCell, name: SweptName): string {
  return cell.why ?? cell.reading?.absent[name] ?? 'This figure is not read from so short a trace.'
}

/** The best among the cells with the fewest severe findings; null where that is the best of all. */
export function mildestBest(
  cells: Cells,
  best: Best,
  name: SweptName,
  wanted: Wanted,
): { severe: number; best: Best } | null {
  const lit = cells.filter((cell) => figureOf(cell, name) !== null)
  const fewest = Math.min(...lit.map(severeCount))
  if (severeCount(best.cell) <= fewest) return null
  const mild = bestOf(
    lit.filter((cell) => severeCount(cell) === fewest),
    name,
    wanted,
  )
  return mild && { severe: fewest, best: mild }
}

/** "Highest: 7.34 ± 0.04 Mcd at 1110 mm and 8°." */
export function bestWords(
  best: Best,
  name: SweptName,
  wanted: Wanted,
  places: readonly string[],
  system: UnitSystem = 'metric',
): string {
  const { unit } = sweptWords(name)
  const { length } = best.alike
  const alike =
    length === 0
      ? ''
      : ` ${length} more ${length === 1 ? 'cell' : 'cells'} can’t be told apart from it by ${length === 1 ? 'its' : 'their'} ±.`
  const word = wanted === 'highest' ? 'Highest' : 'Lowest'
  return `${word}: ${formatFigure(best.figure, unit, system).text} at ${places.join(' and ')}.${alike}`
}

export function stateWords(state: string, cells: Cells, why: string): string {
  const { come, all } = countCells(cells)
  switch (state) {
    case 'waiting':
      return 'Waits for the lamp’s own first figures'
    case 'running':
      return `${come} of ${all} lamps traced${why && `. ${why}`}`
    case 'done':
      return `${all} lamps traced`
    case 'stopped':
      return `Stopped after ${come} of ${all}`
    case 'failed':
      return `Failed: ${why}`
    default:
      return why
  }
}
