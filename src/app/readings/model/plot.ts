// The picture of a set of readings over the traced values: points with ±, the traced curve with its own.
import { scaleLinear, scaleLog } from 'd3-scale'
import { area, line } from 'd3-shape'
import type { FittedPoint, RunningPoint } from '../../../job/fit/result.ts'
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

/** One reading over what is traced or run for it. */
interface PlottedPoint {
  at: number
  value: number
  /** Of the reading by itself. */
  u: number
  predicted: number
  se: number
  studentised: number
}

export interface Plotted {
  /** What lies along the foot, with its unit, and the unit of the readings. */
  xWords: string
  unit: string
  points: PlottedPoint[]
}

/** Along a place across or up the wall, mm, or a distance, m. */
export function lightPlot(points: readonly FittedPoint[]): Plotted {
  const { of, words } = alongOf(points)
  return {
    xWords: words,
    unit: 'lx',
    points: points.map((p) => ({ ...p, at: of(p), value: p.lx, predicted: p.predictedLx, se: p.seLx })),
  }
}

function alongOf(points: readonly FittedPoint[]): { of(p: FittedPoint): number; words: string } {
  if (points.some((p) => p.xMm !== 0)) return { of: (p) => p.xMm, words: 'across the wall, mm' }
  if (points.some((p) => p.yMm !== 0)) return { of: (p) => p.yMm, words: 'up the wall, mm' }
  return { of: (p) => p.distanceMm / 1000, words: 'distance on the axis, m' }
}

const FIELDS: Record<RunningPoint['field'], { name: string; unit: string }> = {
  plateC: { name: 'plate', unit: '°C' },
  boardC: { name: 'board', unit: '°C' },
  packV: { name: 'pack, volts', unit: 'V' },
  packA: { name: 'pack, amperes', unit: 'A' },
  lampV: { name: 'volts at the drivers', unit: 'V' },
}

/** A curve over time for each set and each instrument. */
export function runningPlots(points: readonly RunningPoint[]): { name: string; plotted: Plotted }[] {
  const found = new Map<string, { name: string; plotted: Plotted }>()
  for (const p of points) {
    const { name, unit } = FIELDS[p.field]
    const key = `${p.setId}, ${name}`
    const known = found.get(key) ?? { name: key, plotted: { xWords: 'time, s', unit, points: [] } }
    known.plotted.points.push({ ...p, at: p.atS, se: 0 })
    found.set(key, known)
  }
  return [...found.values()]
}

/** Readings off by more than so many uncertainties are marked. */
const MARKED = 3

export function drawReadings({ points, unit, xWords }: Plotted, box: PlotBox): ReadingsDrawing {
  const sorted = [...points].sort((a, b) => a.at - b.at)
  const first = sorted[0]
  const last = sorted.at(-1)
  const x = scaleLinear(
    [first ? first.at : 0, last && last !== first ? last.at : 1],
    [box.left + 8, box.widthPx - box.right - 8],
  )
  const values = sorted.flatMap((p) => [p.value, p.predicted]).filter((v) => v > 0)
  const [low, high] = [Math.min(...values), Math.max(...values)]
  const isWide = values.length > 0 && high / low > 30
  const range: [number, number] = [box.heightPx - box.bottom, box.top]
  const scale = isWide ? scaleLog([low * 0.7, high * 1.3], range) : scaleLinear(linearDomain(unit, low, high), range)
  const [least] = scale.domain()
  const y = (value: number) => scale(Math.max(value, least ?? 0))
  const half = (p: PlottedPoint) => T95 * p.se
  return {
    curve:
      line<PlottedPoint>(
        (p) => x(p.at),
        (p) => y(p.predicted),
      )(sorted) ?? '',
    band:
      area<PlottedPoint>(
        (p) => x(p.at),
        (p) => y(p.predicted - half(p)),
        (p) => y(p.predicted + half(p)),
      )(sorted) ?? '',
    points: sorted.map((p, i) => ({
      key: i,
      x: x(p.at),
      y: y(p.value),
      low: y(p.value - COVERAGE * p.u),
      high: y(p.value + COVERAGE * p.u),
      standsOut: Math.abs(p.studentised) > MARKED,
      words: `${p.at}: read ${Number(p.value.toPrecision(4))} ${unit}, ${unit === 'lx' ? 'traced' : 'as drawn'} ${Number(p.predicted.toPrecision(unit === 'lx' ? 3 : 4))} ${unit}`,
    })),
    x,
    y,
    xTicks: x.ticks(box.widthPx > 700 ? 9 : 5),
    yTicks: isWide ? decades(low, high) : scale.ticks(4),
    xWords,
  }
}

/** Lux from 0; temperatures, volts and amperes about what they are. */
function linearDomain(unit: string, low: number, high: number): [number, number] {
  if (!(high > 0)) return [0, 1.1]
  if (unit === 'lx') return [0, high * 1.1]
  const margin = Math.max(0.15 * (high - low), 0.02 * high)
  return [low - margin, high + margin]
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
