// What the rules of the danger sheet read, and what several of them say.
import type { Beside } from '../hazard/air/beside.ts'
import type { EyeSheet } from '../hazard/eyeSheet.ts'
import type { ThingReading } from '../hazard/inTheWay.ts'
import type { PartsHeat } from '../hazard/onParts.ts'
import type { SunPlace } from '../hazard/sun.ts'
import type { SunDay } from '../hazard/sunDay.ts'
import type { BareLens, SunMapPoint } from '../hazard/sunMap.ts'
import type { Threshold } from '../library/thresholds.ts'

/** The part of a danger sheet that the rules read. */
export interface DangerParts {
  clear: readonly (Threshold & { clearDistanceMm: number; secondsAtWorst: number | null; shareAtWorst: number })[]
  things: readonly ThingReading[]
  beside: Beside
  parts: PartsHeat
  sunMap: readonly SunMapPoint[]
  sunPlaces: readonly SunPlace[]
  sunDay: SunDay | null
  bareLens: BareLens | null
  eye: EyeSheet | null
}

export const SCATTER =
  'Figures of ignition and burns scatter by tens of per cent: floors for a warning, no proof of safety.'
