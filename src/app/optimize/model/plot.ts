// The picture of a search: the best so far over the lamps tried, or the front of two wishes.

import { scaleLinear } from 'd3-scale'
import type { WishName } from '../../../job/choose/figures.ts'
import type { OptimizePlan } from '../../../job/choose/plan.ts'
import type { OptimizeProgress } from '../../../job/choose/run.ts'
import { inThousands } from '../../../num/thousands.ts'
import { wishWords } from '../../../report/choose.ts'
import { type DisplayUnit, scaleOf } from '../../common/format.ts'
import type { PlotBox } from '../../common/plotBox.ts'

export interface PlotPoint {
  index: number
  x: number
  y: number
  /** Keeps every limit. */
  keeps: boolean
}

export interface SearchDrawing {
  points: PlotPoint[]
  /** Of the best so far, as a path of steps; empty for a front. */
  line: string
  xTicks: { at: number; text: string }[]
  yTicks: { at: number; text: string }[]
  xWords: string
  yWords: string
}

/** In one unit for a whole axis. */
function axisOf(name: WishName, values: readonly number[]) {
  const { name: words, unit } = wishWords(name)
  const largest = Math.max(0, ...values.map(Math.abs))
  const { by, unit: shown } = ['g', '°C', ''].includes(unit) ? { by: 1, unit } : scaleOf(largest, unit as DisplayUnit)
  return { by, words: shown === '' ? words : `${words}, ${shown}` }
}

function spanOf(values: readonly number[]): [number, number] {
  const [low, high] = [Math.min(...values), Math.max(...values)]
  if (!Number.isFinite(low)) return [0, 1]
  return low < high ? [low, high] : [low - Math.abs(low) * 0.05 - 1e-9, high + Math.abs(high) * 0.05 + 1e-9]
}

const tickText = (value: number): string => inThousands(value, { maximumSignificantDigits: 4 })

export function drawSearch(plan: OptimizePlan, progress: OptimizeProgress, box: PlotBox): SearchDrawing {
  const [first, second] = plan.wants
  if (!first) throw new Error('A search has a wish.')
  const rows = second
    ? progress.front.map((c) => ({
        at: c.evaluation.figures[first.figure]?.value ?? 0,
        up: c.evaluation.figures[second.figure]?.value ?? 0,
        keeps: c.keeps,
      }))
    : progress.history.map(({ after, candidate }) => ({
        at: after,
        up: candidate.evaluation.figures[first.figure]?.value ?? 0,
        keeps: candidate.keeps,
      }))
  const xAxis = second
    ? axisOf(
        first.figure,
        rows.map((r) => r.at),
      )
    : { by: 1, words: 'lamps tried' }
  const yAxis = axisOf(
    second?.figure ?? first.figure,
    rows.map((r) => r.up),
  )
  const xs = rows.map((r) => r.at * xAxis.by)
  const ys = rows.map((r) => r.up * yAxis.by)
  const last = Math.max(progress.stage === 'search' ? progress.done : 0, plan.evaluations, ...(second ? [] : xs))
  const x = scaleLinear(second ? spanOf(xs) : [0, last], [box.left, box.widthPx - box.right])
  const y = scaleLinear(spanOf(ys), [box.heightPx - box.bottom, box.top]).nice(4)
  if (second) x.nice(5)
  const points = rows.map((r, index) => ({ index, x: x(r.at * xAxis.by), y: y(r.up * yAxis.by), keeps: r.keeps }))
  const steps = points.map((p, i) => (i === 0 ? `M${p.x} ${p.y}` : `H${p.x}V${p.y}`))
  return {
    points,
    line: second || points.length === 0 ? '' : `${steps.join('')}H${x(Math.max(progress.done, xs.at(-1) ?? 0))}`,
    xTicks: x.ticks(6).map((v) => ({ at: x(v), text: tickText(v) })),
    yTicks: y.ticks(4).map((v) => ({ at: y(v), text: tickText(v) })),
    xWords: xAxis.words,
    yWords: yAxis.words,
  }
}

/** The point next to a place of the picture, or null without any. */
export const nearestPoint = (points: readonly PlotPoint[], px: number, py: number): PlotPoint | null =>
  points.reduce<PlotPoint | null>(
    (best, p) => (best && Math.hypot(best.x - px, best.y - py) <= Math.hypot(p.x - px, p.y - py) ? best : p),
    null,
  )
