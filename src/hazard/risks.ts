// What an object in front of the lamp meets: against the table of materials and bare skin. The upper end of ± decides throughout.

import { criticalAt, IGNITION, ignitionSeconds } from '../library/ignition.ts'
import { painSeconds, SKIN } from '../library/skin.ts'
import { T95 } from '../num/stats.ts'
import { clearDistanceMm, type Front } from './front.ts'

export interface MaterialRisk {
  material: string
  criticalKWm2: number
  source: string
  /** Seconds to ignition (skin: to pain) at the worst place; null: stays below the critical irradiance. */
  secondsAtWorst: number | null
  /** Distance from the lamp's front beyond which the irradiance stays below critical; 0: safe anywhere. */
  clearDistanceMm: number
}

/**
 * Seconds to harm at the worst place (null: never) and clear distance (mm), for bare skin first, then the materials,
 * the most easily lit ones first. Upper ends of ±. Sources: src/library/ignition.ts.
 */
export function readRisks(front: Front, ambientC = 20): MaterialRisk[] {
  const worst = front.curve.reduce((most, p) => Math.max(most, p.kWm2 + T95 * p.se), 0)
  const risk = (material: string, criticalKWm2: number, source: string, secondsAtWorst: number | null) => ({
    material,
    criticalKWm2,
    source,
    secondsAtWorst,
    clearDistanceMm: clearDistanceMm(front, criticalKWm2),
  })
  const materials = IGNITION.map((m) =>
    risk(m.name, criticalAt(m, ambientC), m.source, ignitionSeconds(m, worst, ambientC)),
  )
  materials.sort((a, b) => a.criticalKWm2 - b.criticalKWm2)
  return [risk('Bare skin (pain)', SKIN.kWm2[0], SKIN.source, painSeconds(worst)), ...materials]
}
