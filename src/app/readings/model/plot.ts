// The picture of a set of readings over the traced values: points with ±, the traced curve with its own.
import { scaleLinear, scaleLog } from 'd3-scale'
import { area, line } from 'd3-shape'
import type { FittedPoint } from '../../../job/fit/result.ts'
import { T95 } from '../../../num/stats.ts'
import { linesThroughZero } from '../../../readings/photo/profile.ts'
import { COVERAGE } from '../../../readings/uncertainty.ts'
import type { PlotBox } from '../../common/plotBox.ts'

export interface ReadingsDrawing {
  curve: string
  band: string
  points: { key: number; x: number; y: number; low: number; high: number; standsOut: boolean; words: string }[]
  x(value: number): number
  y(lx: number): number
  xTicks: number[]
  yTicks: number[]
  xWords: string
}

/** Place across or up the wall, mm, or distance, m. */
function alongOf(points: readonly FittedPoint[]): { of(p: FittedPoint): number; words: string } {
  if (points.some((p) => p.xMm !== 0)) return { of: (p) => p.xMm, words: 'across the wall, mm' }
  if (points.some((p) => p.yMm !== 0)) return { of: (p) => p.yMm, words: 'up the wall, mm' }
  return { of: (p) => p.distanceMm / 1000, words: 'distance on the axis, m' }
}

/** Readings off by more than so many uncertainties are marked. */
const MARKED = 3

export function drawReadings(points: readonly FittedPoint[], box: PlotBox): ReadingsDrawing {
  const along = alongOf(points)
  const sorted = [...points].sort((a, b) => along.of(a) - along.of(b))
  const first = sorted[0]
  const last = sorted.at(-1)
  const x = scaleLinear(
    [first ? along.of(first) : 0, last && last !== first ? along.of(last) : 1],
    [box.left + 8, box.widthPx - box.right - 8],
  )
  const values = sorted.flatMap((p) => [p.lx, p.predictedLx]).filter((v) => v > 0)
  const [low, high] = [Math.min(...values), Math.max(...values)]
  const isWide = values.length > 0 && high / low > 30
  const range: [number, number] = [box.heightPx - box.bottom, box.top]
  const scale = isWide
    ? scaleLog([low * 0.7, high * 1.3], range)
    : scaleLinear([0, (values.length > 0 ? high : 1) * 1.1], range)
  const y = (lx: number) => scale(Math.max(lx, isWide ? low * 0.7 : 0))
  const half = (p: FittedPoint) => T95 * p.seLx
  return {
    curve:
      line<FittedPoint>(
        (p) => x(along.of(p)),
        (p) => y(p.predictedLx),
      )(sorted) ?? '',
    band:
      area<FittedPoint>(
        (p) => x(along.of(p)),
        (p) => y(p.predictedLx - half(p)),
        (p) => y(p.predictedLx + half(p)),
      )(sorted) ?? '',
    points: sorted.map((p, i) => ({
      key: i,
      x: x(along.of(p)),
      y: y(p.lx),
      low: y(p.lx - COVERAGE * p.u),
      high: y(p.lx + COVERAGE * p.u),
      standsOut: Math.abs(p.studentised) > MARKED,
      words: `${along.of(p)}: read ${Number(p.lx.toPrecision(4))} lx, traced ${Number(p.predictedLx.toPrecision(3))} lx`,
    })),
    x,
    y,
    xTicks: x.ticks(box.widthPx > 700 ? 9 : 5),
    yTicks: isWide ? decades(low, high) : scale.ticks(4),
    xWords: along.words,
  }
}

function decades(low: number, high: number): number[] {
  const ticks: number[] = []
  for (let p = Math.floor(Math.log10(low)); p <= Math.ceil(Math.log10(high)); p++) ticks.push(10 ** p)
  return ticks.filter((v) => v >= low * 0.7 && v <= high * 1.3)
}

/** Points of each set, in the order of the sets; of a grid those across and those up through the places nearest to its zero. */
export function bySet(points: readonly FittedPoint[]): { set: string; points: FittedPoint[] }[] {
  const sets = new Map<string, FittedPoint[]>()
  for (const p of points) sets.set(p.setId, [...(sets.get(p.setId) ?? []), p])
  return [...sets].flatMap(([set, own]) => {
    if (!own.some((p) => p.xMm !== 0 && p.yMm !== 0)) return [{ set, points: own }]
    // A line that misses zero by less than the grid's step is drawn as through it.
    const { across, up } = linesThroughZero({ rows: own })
    const lines = [
      across.flatMap((i) => (own[i] ? [{ ...own[i], yMm: 0 }] : [])),
      up.flatMap((i) => (own[i] ? [{ ...own[i], xMm: 0 }] : [])),
    ]
    return lines.filter((line) => line.length > 1).map((line) => ({ set, points: line }))
  })
}
