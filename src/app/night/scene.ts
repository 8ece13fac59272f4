// The scene as the stores have it now: place, air, exposure, and each lamp's light.
import type { Sheet } from '../../job/beam/sheet.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { design, result, view } from '../store/stores.ts'
import { beside } from './comparison.ts'
import { type Air, airOf } from './model/air.ts'
import { type Figure, figureIn } from './model/figures.ts'
import { mouthRadiusM } from './model/mouth.ts'
import { type PictureSize, type Place, placeOf, type Station, sightThrough, stationAt } from './model/scene.ts'
import { brightestOf, targetLuminance } from './model/seen.ts'
import { adaptationTo, cameraWhite, type Exposure } from './model/tone.ts'
import { night, targetNow } from './state.ts'

/** One lamp's light in the scene. */
export interface Lit {
  name: string
  lamp: Lamp
  sheet: Sheet
}

export interface Scene {
  place: Place
  figure: Figure | null
}

export function sceneNow(): Scene {
  const place = placeOf(targetNow(), design.lamp().target)
  return { place, figure: figureIn(place) }
}

/** The lamp on the sheet, and beside it the other one as soon as it has light. */
export function litNow(): Lit[] {
  const { sheet } = result.getState()
  if (!sheet) return []
  const lamp = design.lamp()
  const other = beside.getState()
  const first: Lit = { name: lamp.name, lamp, sheet }
  return other.lit ? [first, other.lit] : [first]
}

export const isSplit = () => night.getState().beside !== 'none'

export function airFor({ lamp, sheet }: Lit): Air {
  const { beamAngleDeg, halfFluxAngleDeg } = sheet.figures
  const beamDeg = beamAngleDeg?.value ?? halfFluxAngleDeg?.value ?? 30
  return airOf(night.getState().visibilityM, mouthRadiusM(lamp), beamDeg)
}

export function stationNow(place: Place, size: PictureSize): Station {
  const { station, zoom } = night.getState()
  const fieldDeg = result.getState().sheet?.figures.fieldAngleDeg?.value ?? 10
  return stationAt(station, place, fieldDeg, zoom, size)
}

/** A picture of usual shape, in so many sights across: what a resting luminance is taken from, whatever the screen's own shape. */
const LOOK = { width: 24, height: 14 }

/** What the eye rests on in the light of the lamp on the sheet, cd/m²: the target, or, from aside, the beam in the air. */
export function restingLuminance(first: Lit, place: Place): number {
  const scene = { place, light: first.sheet, air: airFor(first) }
  if (night.getState().station !== 'aside') return targetLuminance(scene)
  const station = stationNow(place, LOOK)
  const sights = Array.from({ length: LOOK.width * LOOK.height }, (_, i) =>
    sightThrough(station, LOOK, (i % LOOK.width) + 0.5, Math.floor(i / LOOK.width) + 0.5),
  )
  return brightestOf({ ...scene, figure: null }, station.eye, sights)
}

/** Both halves of a split picture are exposed by the lamp on the sheet. */
export function exposureNow(first: Lit, place: Place): Exposure {
  const { exposureEv } = view.getState()
  if (exposureEv !== null) return { kind: 'camera', whiteCdM2: cameraWhite(exposureEv) }
  const chosen = night.getState().eyeCdM2
  return { kind: 'eye', adaptedCdM2: adaptationTo(chosen ?? restingLuminance(first, place)) }
}
