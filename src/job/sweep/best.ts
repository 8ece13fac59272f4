// What a sweep says: the best cell by a figure, and which others can't be distinguished from it.
import { T95 } from '../../num/stats.ts'
import type { Figure } from '../../run/figure.ts'
import { isHazard, type SweptName } from './figures.ts'
import type { SweepCell } from './run.ts'

export interface Best {
  cell: SweepCell
  figure: Figure
  /** Cells whose value lies within the ± of the difference at 95 %, were the two traced independently. */
  alike: SweepCell[]
}

export type Wanted = 'highest' | 'lowest'

/** Of hazards the upper end of ± is compared: a spot that may be hot is not the coolest. */
const judged = (name: SweptName, { value, se }: Figure): number => value + (isHazard(name) ? T95 * se : 0)

export function bestOf(cells: readonly (SweepCell | undefined)[], name: SweptName, wanted: Wanted): Best | null {
  const sign = wanted === 'highest' ? 1 : -1
  const known = cells.flatMap((cell) => {
    const figure = cell?.reading?.figures[name]
    return cell && figure && Number.isFinite(figure.value) ? [{ cell, figure }] : []
  })
  const first = known[0]
  if (!first) return null
  const at = (f: Figure) => sign * judged(name, f)
  const best = known.reduce((a, b) => (at(b.figure) > at(a.figure) ? b : a), first)
  // The batches of both cells see the same random numbers, so this is rather too wide than too narrow.
  const alike = known.filter(
    (k) => k !== best && Math.abs(k.figure.value - best.figure.value) <= T95 * Math.hypot(k.figure.se, best.figure.se),
  )
  return { ...best, alike: alike.map((k) => k.cell) }
}
