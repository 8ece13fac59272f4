// How far what a workshop builds lies from what is drawn, where the lamp says nothing. Common practice, no source: measured ones are better.
import type { Lamp, Tolerance, ToleranceName, Tolerances } from '../lamp/schema.ts'

export type FullTolerances = { [K in ToleranceName]: Tolerance }

const normal = (plusMinus: number): Tolerance => ({ on: true, spread: 'normal', plusMinus })
const uniform = (plusMinus: number): Tolerance => ({ on: true, spread: 'uniform', plusMinus })

export const TYPICAL_TOLERANCES: FullTolerances = {
  lensDistanceMm: normal(2),
  lensTiltDeg: normal(0.5),
  lensDecentreMm: normal(1),
  focalShare: normal(0.03),
  boardPlaceMm: normal(0.5),
  aimDeg: normal(1),
  fwhmShare: normal(0.1),
  // One flux bin: all of a lot may lie anywhere in it.
  lotFluxShare: uniform(0.07),
  boardFluxShare: normal(0.03),
  wallReflectance: normal(0.02),
  currentShare: normal(0.03),
}

/** The lamp's tolerances, typical where it says nothing. */
export function tolerancesOf(lamp: { tolerances?: Tolerances | undefined }): FullTolerances {
  const stated = Object.entries(lamp.tolerances ?? {}).filter(([, value]) => value !== undefined)
  return { ...TYPICAL_TOLERANCES, ...Object.fromEntries(stated) }
}

/** Absent entries of a lamp that states some are typical too; a lamp is written whole, so that a reader sees all. */
export const withTolerance = (lamp: Lamp, name: ToleranceName, tolerance: Tolerance): Lamp => ({
  ...lamp,
  tolerances: { ...tolerancesOf(lamp), [name]: tolerance },
})
