// The risk group of a lamp by screening: its emission at a stated distance against the limits of IEC 62471:2006, section 6. What the
// model doesn't hold is named; a classification belongs to a laboratory.
import type { EyeReading } from './eye.ts'
import { greatestHeat, radianceWithin, type SourceRadiance } from './eyeLimits.ts'
import type { Ultraviolet } from './eyeUltraviolet.ts'

/** Exempt, low, moderate, high. */
const RISK_GROUPS = ['exempt', 'RG1', 'RG2', 'RG3'] as const
export type RiskGroup = (typeof RISK_GROUPS)[number]

export type RiskHazard =
  | 'blueLight'
  | 'blueSmallSource'
  | 'retinalThermal'
  | 'actinicUltraviolet'
  | 'nearUltraviolet'
  | 'infrared'

export interface RiskRow {
  hazard: RiskHazard
  /** Upper ends of what the exempt group, group 1 and group 2 are tested with. Null: not computed. */
  emission: readonly [number, number, number] | null
  limits: readonly [number, number, number]
  unit: 'W/m²sr' | 'W/m²'
  /** Null: not computed, or computed in part and exempt so far. */
  group: RiskGroup | null
  /** Where the spectrum begins, where that cuts a hazard short. */
  fromNm?: number
}

export interface RiskScreening {
  distanceMm: number
  /** The highest of those that were computed. */
  group: RiskGroup
  rows: RiskRow[]
}

/**
 * Emission limits of the exempt group, group 1 and group 2 for continuous lamps, IEC 62471:2006 table 6.1 (rows 4.57; small
 * source and ultraviolet from memory; the exposure limits of directive 2006/25/EC that they follow from were seen: 30 J/m² in 8 h
 * actinic, 10⁴ J/m² near ultraviolet, 100/t W/m² small source). Retinal thermal: times the angle, rad.
 */
export const RISK_LIMITS = {
  blueLight: [100, 1e4, 4e6],
  blueSmallSource: [1, 1, 400],
  retinalThermal: [28_000, 28_000, 71_000],
  actinicUltraviolet: [0.001, 0.003, 0.03],
  nearUltraviolet: [10, 33, 100],
  infrared: [100, 570, 3200],
} as const satisfies Record<RiskHazard, readonly [number, number, number]>

const SMALL_RAD = 0.011
const FROM_NM = 300

/**
 * The risk group of what is seen at a reading's place: emission by hazard, W/m²sr or W/m², against RISK_LIMITS; upper ends, and
 * the worst of the hazards that are computed. Blue light over 100, 11 and 1.7 mrad for the three groups, retinal heat over
 * the worst part from 11 mrad across (1.7 mrad in group 2) as L·α. Ultraviolet as strong as the light, by the spectrum: as if the optics
 * let it pass. IEC 62471:2006, section 6; screening only.
 */
export function screenRisk(reading: EyeReading, source: SourceRadiance, ultraviolet: Ultraviolet): RiskScreening {
  const blue = (rad: number) => radianceWithin(reading.fields, source, rad, 'blueWm2sr')
  const heat = (least: number) => greatestHeat(reading.fields, source, least)
  const glance = heat(SMALL_RAD)
  const small = reading.subtendsRad < SMALL_RAD
  const even = (x: number) => [x, x, x] as const
  const below = (hazard: RiskHazard, perW: number): RiskRow => {
    const whole = row(hazard, even(reading.irradianceWm2 * perW), 'W/m²')
    if (ultraviolet.fromNm <= FROM_NM) return whole
    return { ...whole, fromNm: ultraviolet.fromNm, group: whole.group === 'exempt' ? null : whole.group }
  }
  const rows: RiskRow[] = [
    small
      ? row('blueSmallSource', even(reading.blueIrradianceWm2), 'W/m²')
      : row('blueLight', [blue(0.1), blue(SMALL_RAD), blue(0.0017)], 'W/m²sr'),
    row('retinalThermal', [glance, glance, heat(0.0017)], 'W/m²sr'),
    below('actinicUltraviolet', ultraviolet.actinicPerW),
    below('nearUltraviolet', ultraviolet.nearPerW),
    row('infrared', null, 'W/m²'),
  ]
  const worst = rows.reduce((most, r) => Math.max(most, r.group ? RISK_GROUPS.indexOf(r.group) : 0), 0)
  return { distanceMm: reading.distanceMm, group: RISK_GROUPS[worst]!, rows }
}

function row(hazard: RiskHazard, emission: RiskRow['emission'], unit: RiskRow['unit']): RiskRow {
  const limits = RISK_LIMITS[hazard]
  if (!emission) return { hazard, emission, limits, unit, group: null }
  const within = emission.findIndex((e, k) => e <= limits[k]!)
  return { hazard, emission, limits, unit, group: RISK_GROUPS[within < 0 ? 3 : within]! }
}
