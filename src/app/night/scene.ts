// The scene from the current state of the stores: place, air, exposure, and each lamp's light.
import type { Sheet } from '../../job/beam/sheet.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { design, result, view } from '../store/stores.ts'
import { comparison } from './comparison.ts'
import { type Air, airOf } from './model/air.ts'
import { type Figure, figureIn } from './model/figures.ts'
import { mouthRadiusM } from './model/mouth.ts'
import { type PictureSize, type Place, placeOf, type Station, stationAt, viewDirection } from './model/scene.ts'
import { brightestOf, targetLuminance } from './model/seen.ts'
import { adaptationTo, cameraWhite, type Exposure } from './model/tone.ts'
import { currentTarget, night } from './state.ts'

/** One lamp's light in the scene. */
export interface SceneLight {
  name: string
  lamp: Lamp
  sheet: Sheet
}

export interface Scene {
  place: Place
  figure: Figure | null
}

export function currentScene(): Scene {
  const place = placeOf(currentTarget(), design.lamp().target)
  return { place, figure: figureIn(place) }
}

/** The open lamp and, as soon as its light is known, the comparison. */
export function currentLights(): SceneLight[] {
  const { sheet } = result.getState()
  if (!sheet) return []
  const lamp = design.lamp()
  const other = comparison.getState()
  const first: SceneLight = { name: lamp.name, lamp, sheet }
  return other.lit ? [first, other.lit] : [first]
}

export const isSplit = () => night.getState().comparison !== 'none'

export function airFor({ lamp, sheet }: SceneLight): Air {
  const { beamAngleDeg, halfFluxAngleDeg } = sheet.figures
  const beamDeg = beamAngleDeg?.value ?? halfFluxAngleDeg?.value ?? 30
  return airOf(night.getState().visibilityM, mouthRadiusM(lamp), beamDeg)
}

export function currentStation(place: Place, size: PictureSize): Station {
  const { station, zoom } = night.getState()
  const fieldDeg = result.getState().sheet?.figures.fieldAngleDeg?.value ?? 10
  return stationAt(station, place, fieldDeg, zoom, size)
}

/** Sample grid for metering: a picture of a fixed shape, whatever the shape of the screen. */
const METERING_SIZE = { width: 24, height: 14 }

/** Adaptation luminance in the light of the open lamp, cd/m²: of the target or, seen from the side, of the beam in the air. */
export function restingLuminance(first: SceneLight, place: Place): number {
  const scene = { place, light: first.sheet, air: airFor(first) }
  if (night.getState().station !== 'aside') return targetLuminance(scene)
  const station = currentStation(place, METERING_SIZE)
  const directions = Array.from({ length: METERING_SIZE.width * METERING_SIZE.height }, (_, i) =>
    viewDirection(station, METERING_SIZE, (i % METERING_SIZE.width) + 0.5, Math.floor(i / METERING_SIZE.width) + 0.5),
  )
  return brightestOf({ ...scene, figure: null }, station.eye, directions)
}

/** The open lamp sets the exposure of both halves. */
export function currentExposure(first: SceneLight, place: Place): Exposure {
  const { exposureEv } = view.getState()
  if (exposureEv !== null) return { kind: 'camera', whiteCdM2: cameraWhite(exposureEv) }
  const chosen = night.getState().eyeCdM2
  return { kind: 'eye', adaptedCdM2: adaptationTo(chosen ?? restingLuminance(first, place)) }
}
