// What the beam sheet says beside the places that were read.
import { apertureReachMm } from '../../lamp/front.ts'
import type { ReadingSet } from '../../lamp/readings.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { TracedLight } from '../../readings/outside.ts'
import type { Sheet } from '../beam/sheet.ts'

/** Light over the angle and all of it; null: the sheet doesn't have it yet. */
export function tracedLight(lamp: Lamp, { profile, figures }: Pick<Sheet, 'profile' | 'figures'>): TracedLight | null {
  const { fluxOutLm } = figures
  if (!fluxOutLm || profile.cd.length < 2) return null
  return { thetaDeg: profile.thetaDeg, cd: profile.cd, fluxOutLm, apertureReachMm: apertureReachMm(lamp) }
}

/** How far out on a set's wall the traced beam falls to half, mm; null: it is no line on a wall, or has no beam angle. */
export function halfOnWallMm(set: ReadingSet, sheet: Pick<Sheet, 'figures'> | null): number | null {
  const beamDeg = sheet?.figures.beamAngleDeg?.value
  if (set.kind !== 'line' || beamDeg === undefined) return null
  return 1000 * set.distanceM * Math.tan((beamDeg * Math.PI) / 360)
}
