// A tolerance held to half, tried: the same lamps with its deviations halved are traced again, and what the spread then is.
import type { Lamp, ToleranceName } from '../../lamp/schema.ts'
import { tolerancesOf, withTolerance } from '../../library/typicalTolerances.ts'
import { lampsOf, placeOf, rowsOf, variedOf } from './design.ts'
import { type FigureSd, type Spread, sdsOf } from './result.ts'
import type { BuiltReading, ToleranceSettings } from './run.ts'

/** What a retrace with one tolerance halved gave. */
export interface Confirmed {
  name: ToleranceName
  /** Lamps that were traced for it. */
  lamps: number
  figures: readonly FigureSd[]
}

/** The lamp with this tolerance halved: the same draws then give half of its deviations, and the same ones of all others. */
export function withHalved(lamp: Lamp, name: ToleranceName): Lamp {
  const tolerance = tolerancesOf(lamp)[name]
  return withTolerance(
    lamp,
    name,
    tolerance.spread === 'measured'
      ? { ...tolerance, deviations: tolerance.deviations.map((d) => d / 2) }
      : { ...tolerance, plusMinus: tolerance.plusMinus / 2 },
  )
}

/** Of a run's lamps those in which all deviations are independent draws: two of each row. A variance needs no others. */
export function independentIndices(lamp: Lamp, { lamps }: Pick<ToleranceSettings, 'lamps'>): number[] {
  const varied = variedOf(lamp)
  const all = lampsOf(rowsOf(lamps, varied), varied)
  return Array.from({ length: all }, (_, i) => i).filter((i) => {
    const { of } = placeOf(i, varied)
    return of === 'a' || of === 'b'
  })
}

/** `readings`: of `withHalved(lamp, name)`. */
export const confirmedBy = (lamp: Lamp, name: ToleranceName, readings: readonly BuiltReading[]): Confirmed => ({
  name,
  lamps: readings.length,
  figures: sdsOf(lamp, readings),
})

/** Tolerances that a run says to hold tighter, of these figures alone, the most often named first. */
export function namedTighter({ figures }: Spread, of: readonly string[]): ToleranceName[] {
  const counts = new Map<ToleranceName, number>()
  for (const { name, tighter } of figures)
    if (tighter && of.includes(name)) counts.set(tighter.name, (counts.get(tighter.name) ?? 0) + 1)
  return [...counts].sort((a, b) => b[1] - a[1]).map(([name]) => name)
}
