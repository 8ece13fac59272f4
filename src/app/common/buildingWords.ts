// ± of building, for the sheet and the tolerances.
import type { FigureSpread } from '../../job/tolerances/result.ts'
import { spreadWords } from '../../report/tolerances.ts'
import { roundUp, scaleOf, toDigits, withUnit } from './format.ts'
import type { UnitSystem } from './unitSystem.ts'

/** ± of building: two standard deviations, 95 % of a normal distribution, as ± of tracing is; "under" where tracing hides it. */
export function buildingWords({ name, sd, median, tracingSd }: FigureSpread, system: UnitSystem): string {
  const scale = scaleOf(median.value, spreadWords(name).unit, system)
  // A spread from rounding alone is none.
  if (Math.max(sd.high, tracingSd) <= 1e-9 * Math.abs(median.value)) return 'none'
  const seen = sd.low > 0
  const two = withUnit(roundUp(2 * (seen ? sd.value : sd.high || tracingSd) * scale.by, 2), scale.unit)
  return seen ? `± ${two}` : `under ± ${two}`
}

/** From the 5th to the 95th percentile, and how many lamps that is read from. */
export function rangeWords({ name, median, p5, p95, lamps }: FigureSpread, system: UnitSystem): string {
  const scale = scaleOf(median.value, spreadWords(name).unit, system)
  const ends = [p5, p95].map(({ value }) => toDigits(value * scale.by + (scale.zero ?? 0), 3))
  return `Nine of ten built lamps lie between ${ends[0]} and ${withUnit(ends[1] ?? '', scale.unit)}, by ${lamps} lamps within the tolerances`
}
