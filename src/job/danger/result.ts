// The danger sheet: everything a screen, a terminal or a printed page shows of it, as plain data that crosses to another thread.
import type { Finding } from '../../checks/finding.ts'
import type { Beside } from '../../hazard/air/beside.ts'
import type { AirPlace, DiscValue } from '../../hazard/air/search.ts'
import type { AirZone } from '../../hazard/air/zones.ts'
import type { EyeSheet } from '../../hazard/eyeSheet.ts'
import type { Focus } from '../../hazard/foci.ts'
import type { Front } from '../../hazard/front.ts'
import type { HarmAt, ThingReading } from '../../hazard/inTheWay.ts'
import type { PartsHeat } from '../../hazard/onParts.ts'
import type { SunPlace } from '../../hazard/sun.ts'
import type { SunDay } from '../../hazard/sunDay.ts'
import type { BareLens, SunMapPoint } from '../../hazard/sunMap.ts'
import type { FrontVolume } from '../../hazard/volume.ts'
import type { Threshold } from '../../library/thresholds.ts'

export interface ClearOf extends Threshold {
  /** Beyond it the upper end stays below the threshold; 0: safe anywhere in front. */
  clearDistanceMm: number
  /** At the worst place in front; null: stays below the threshold. */
  secondsAtWorst: number | null
  /** Irradiance at the worst place, of the threshold: below 1 it is not reached. */
  shareAtWorst: number
}

/** The lamp's own light in front of it. */
export interface FrontLight {
  front: Front
  /** The same search with the disc of SMALL_DISC_MM. */
  small: Front
  /** The worst place in front over smaller discs, its own disc last; empty without light. */
  worstByDisc: DiscValue[]
}

/** A zone in which a search of the air was coarser than the disc: weaker blocks were left out. */
export interface CoarseSearch {
  light: 'own' | 'sun' | 'bare lens'
  zone: AirZone
  /** No place that was left out has more than this, kW/m². */
  upToKWm2: number
}

export interface DangerReading extends FrontLight {
  lamp: string
  /** Which light the lamp's own dangers are of: its brightest. */
  light: string
  seed: number
  rays: number
  discMm: number
  ambientC: number
  /** What the map of the sun was traced at. */
  sunWm2: number
  /** Upper end of the worst place in front. */
  worstKWm2: number
  foci: Focus[]
  /** Light that leaves where no beam should, beside and behind the lamp. */
  beside: Beside
  /** Hottest place inside of what the lens sends back; null: nowhere over the floor. */
  ghost: AirPlace | null
  volume: FrontVolume
  clear: ClearOf[]
  harm: HarmAt[]
  things: ThingReading[]
  parts: PartsHeat
  sunMap: SunMapPoint[]
  /** The worst place of each zone in the air, over all directions of the sun. */
  sunPlaces: SunPlace[]
  sunDay: SunDay | null
  bareLens: BareLens | null
  eye: EyeSheet | null
  /** Where the disc was too small for the region to be searched whole; as a rule empty. */
  coarse: CoarseSearch[]
  /** Severe first. */
  findings: Finding[]
}

export type DangerStage = 'beam' | 'front' | 'sun'
