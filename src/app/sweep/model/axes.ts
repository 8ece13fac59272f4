// Default parameters and ranges of a sweep, and whether a lamp is still the one that was swept.

import { type Parameter, parametersOf } from '../../../job/sweep/parameters.ts'
import { evenly, type SweepAxes, valueFault, withValues } from '../../../job/sweep/plan.ts'
import type { Lamp } from '../../../lamp/schema.ts'
import type { UnitSystem } from '../../../num/unitSystem.ts'
import { parameterWords } from '../../common/numberRange.ts'
import type { RangeChoice } from '../../common/rangeChoice.ts'
import { changedNames } from '../../common/sameLight.ts'
import { unitLabel } from '../../common/units.ts'

export { axisNumber, axisValue, parameterWords, rangeAbout } from '../../common/numberRange.ts'

/** Eleven points make a curve; seven by seven a map within seconds. */
export const CURVE_COUNT = 11
export const MAP_COUNT = 7
export const MAX_COUNT = 15
/** Most steps of a single parameter. */
export const MAX_ALONE = 41

/** The parameters offered on screen: those of single boards only where the boards are selected. */
export const choicesOf = (lamp: Lamp, boards: readonly string[]): Parameter[] =>
  parametersOf(lamp).filter((p) => !p.single || boards.some((id) => p.path.startsWith(`boards.${id}.`)))

/** The most useful first parameter: the lens's position, or the width of the optics. */
export function firstPath(lamp: Lamp): string {
  const known = parametersOf(lamp)
  const wanted = [/^lens\.zMm\+/, /^lens\.zMm$/, /^optics\..*\.fwhmDeg$/, /^tunnel\.outMm$/, /^optics\./]
  for (const like of wanted) {
    const found = known.find((p) => like.test(p.path) && (!p.path.startsWith('optics.') || isUsual(lamp, p.path)))
    if (found) return found.path
  }
  return known[0]!.path
}

export function secondPath(lamp: Lamp, first: string): string {
  const known = parametersOf(lamp)
  const wanted = [/^optics\..*\.fwhmDeg$/, /^lens\.focalMm$/, /^tunnel\.outMm$/, /currentA$/]
  for (const like of wanted) {
    const found = known.find((p) => like.test(p.path) && p.path !== first)
    if (found) return found.path
  }
  return known.find((p) => p.path !== first)!.path
}

const isUsual = (lamp: Lamp, path: string): boolean => path.startsWith(`optics.${lamp.optic}.`)

/** Why a range can't be swept, in a sentence; null when it can. */
export function rangeFaultOf(p: Parameter | undefined, r: RangeChoice): string | null {
  if (!p) return 'This lamp has no such number any more.'
  if (r.from === r.to) return 'Both ends are the same.'
  for (const v of evenly(r.from, r.to, r.count)) {
    if (p.integer && !Number.isInteger(v)) return 'Only whole numbers: choose ends and count that fit.'
    const why = valueFault(p, v)
    if (why) return `${why.charAt(0).toUpperCase()}${why.slice(1)}`
  }
  return null
}

export const axesFrom = (ranges: readonly RangeChoice[]): SweepAxes =>
  ranges.map((r) => ({ path: r.path, values: evenly(r.from, r.to, r.count) })) as unknown as SweepAxes

/** True when two lamps give the same light for equal swept values: a sweep of one is then a sweep of the other. */
export function sameButFor(a: Lamp, b: Lamp, axes: SweepAxes): boolean {
  if (a === b) return true
  const first = axes.map((axis) => axis.values[0]!)
  return changedNames(withValues(a, axes, first), withValues(b, axes, first)) !== null
}

/** "Lens: stands at z, mm". */
export const axisTitle = (p: Pick<Parameter, 'part' | 'label' | 'unit'>, system: UnitSystem = 'metric'): string => {
  const unit = p.unit === 'share' ? 'share of 1' : unitLabel(p.unit, system)
  return unit === '' ? parameterWords(p) : `${parameterWords(p)}, ${unit}`
}

/** Position of a value along an axis of cells: 0 at the centre of the first, n − 1 at that of the last; null when outside. */
export function placeAlong(values: readonly number[], value: number | null): number | null {
  const from = values[0]!
  const to = values.at(-1)!
  if (value === null || from === to) return null
  const at = ((value - from) / (to - from)) * (values.length - 1)
  return at < -0.5 || at > values.length - 0.5 ? null : at
}
