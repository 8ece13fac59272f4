// Radius of the lamp's exit aperture: for its picture, for the penumbra of shadows, and for the beam in haze near it.
import { startRadiusMm } from '../../../lamp/front.ts'
import { placeEmitters } from '../../../lamp/place.ts'
import type { Lamp } from '../../../lamp/schema.ts'
import { mouthRadiusMm } from '../../common/extent.ts'

/** Radius, m: of the lens, else the tunnel's outlet, else the patch that the emitters fill. */
export function mouthRadiusM(lamp: Lamp): number {
  const mm = mouthRadiusMm(lamp)
  if (mm !== null) return mm / 1000
  let most = 0.5
  for (const e of placeEmitters(lamp)) {
    most = Math.max(most, Math.hypot(e.xMm, e.yMm) + startRadiusMm(e.emitter, e.optic))
  }
  return most / 1000
}
