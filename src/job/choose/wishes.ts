// What is wanted of a lamp, and what it must keep: figures turned into a score.
import type { FrontScore } from '../../num/frontSearch.ts'
import { T95 } from '../../num/stats.ts'
import type { Figure } from '../../run/figure.ts'
import type { Evaluation } from './evaluate.ts'
import { type WishName, wishFigure } from './figures.ts'

export interface Want {
  figure: WishName
  aim: 'most' | 'least' | 'equal'
  /** Of `equal`. */
  value?: number
}

export interface Keep {
  figure: WishName
  least?: number
  most?: number
}

/** Of hazards the upper end of ± is judged. */
const judgedValue = (name: WishName, { value, se }: Figure): number => value + (wishFigure(name).hazard ? T95 * se : 0)

/** Lower is better. */
export function objectiveOf({ figure, aim, value = 0 }: Want, found: Figure): number {
  const judged = judgedValue(figure, found)
  return aim === 'most' ? -judged : aim === 'least' ? judged : Math.abs(judged - value)
}

/** By how much a figure is beyond what is to be kept, as a share of it; 0 where it is kept. */
export function violationOf({ figure, least, most }: Keep, found: Figure): number {
  const judged = judgedValue(figure, found)
  const share = (over: number, of: number) => Math.max(0, over) / Math.max(Math.abs(of), 1e-9)
  return (
    (least === undefined ? 0 : share(least - judged, least)) + (most === undefined ? 0 : share(judged - most, most))
  )
}

export interface Wishes {
  wants: readonly Want[]
  keeps: readonly Keep[]
}

/** Without repeats. */
export const figuresOf = ({ wants, keeps }: Wishes): WishName[] => [
  ...new Set([...wants, ...keeps].map(({ figure }) => figure)),
]

/** A lamp of which a figure can't be had comes behind all that have it. */
export function scoreOf({ wants, keeps }: Wishes, { figures }: Pick<Evaluation, 'figures'>): FrontScore {
  const objectives: number[] = []
  let violation = 0
  for (const want of wants) {
    const found = figures[want.figure]
    if (!found) return NO_LAMP
    objectives.push(objectiveOf(want, found))
  }
  for (const keep of keeps) {
    const found = figures[keep.figure]
    if (!found) return NO_LAMP
    violation += violationOf(keep, found)
  }
  return { tier: violation > 0 ? 1 : 0, violation, objectives }
}

export const NO_LAMP: FrontScore = { tier: 2, violation: Number.POSITIVE_INFINITY, objectives: [] }
