// The scene from the current state of the stores: place, air, exposure, and each lamp's light.
import type { Sheet } from '../../job/beam/sheet.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { design, result, view } from '../store/stores.ts'
import { type Air, airOf } from './model/air.ts'
import { type Figure, figureIn } from './model/figures.ts'
import type { NightLight } from './model/light.ts'
import { mouthRadiusM } from './model/mouth.ts'
import { type PictureSize, type Place, placeOf, type Station, stationAt, viewDirection } from './model/scene.ts'
import { brightestOf, targetLuminance } from './model/seen.ts'
import { adaptationTo, cameraWhite, type Exposure } from './model/tone.ts'
import { currentTarget, night } from './state.ts'

/** One lamp's light in the scene. */
export interface SceneLight {
  name: string
  lamp: Lamp
  sheet: NightLight & Pick<Sheet, 'emittedColour' | 'beamColour' | 'figures'>
}

/** One picture among several on a canvas, CSS px from its upper left corner. */
export interface Cell {
  x: number
  y: number
  size: PictureSize
}

/** Pictures of lamps in one place, at one exposure. */
export interface PaintedScene {
  cells(size: PictureSize): Cell[]
  /** In the order of the cells; null: no light of it yet. The first sets the exposure. */
  lights(): (SceneLight | null)[]
  /** Full angle, deg, that a picture from beside the lamp shows whole. */
  fieldDeg(): number
  /** Of each picture; empty: none stands there. */
  names(): string[]
  /** Where illuminance is read, CSS px on the canvas, from its place as shares of a picture's width and height. */
  probes(size: PictureSize, probe: { u: number; v: number }): [number, number][]
}

export interface Scene {
  place: Place
  figure: Figure | null
}

export function currentScene(): Scene {
  const place = currentPlace()
  return { place, figure: figureIn(place) }
}

/** The open lamp, as soon as its light is known. */
export function openLight(): SceneLight | null {
  const { sheet } = result.getState()
  const lamp = design.lamp()
  return sheet && { name: lamp.name, lamp, sheet }
}

function currentPlace(): Place {
  return placeOf(currentTarget(), design.lamp().target)
}

export function airFor({ lamp, sheet }: SceneLight): Air {
  const { beamAngleDeg, halfFluxAngleDeg } = sheet.figures
  const beamDeg = beamAngleDeg?.value ?? halfFluxAngleDeg?.value ?? 30
  return airOf(night.getState().visibilityM, mouthRadiusM(lamp), beamDeg)
}

export function currentStation(place: Place, size: PictureSize, fieldDeg: number): Station {
  const { station, zoom } = night.getState()
  return stationAt(station, place, fieldDeg, zoom, size)
}

const USUAL_FIELD_DEG = 10
/** Of a lamp's own beam. */
export const fieldDegOf = (light: SceneLight | null): number =>
  light?.sheet.figures.fieldAngleDeg?.value ?? USUAL_FIELD_DEG

/** Sample grid for metering: a picture of a fixed shape, whatever the shape of the screen. */
const METERING_SIZE = { width: 24, height: 14 }

/** Adaptation luminance in the light of the first lamp, cd/m²: of the target or, seen from the side, of the beam in the air. */
export function restingLuminance(first: SceneLight, place: Place): number {
  const scene = { place, light: first.sheet, air: airFor(first) }
  if (night.getState().station !== 'aside') return targetLuminance(scene)
  const station = currentStation(place, METERING_SIZE, fieldDegOf(first))
  const directions = Array.from({ length: METERING_SIZE.width * METERING_SIZE.height }, (_, i) =>
    viewDirection(station, METERING_SIZE, (i % METERING_SIZE.width) + 0.5, Math.floor(i / METERING_SIZE.width) + 0.5),
  )
  return brightestOf({ ...scene, figure: null }, station.eye, directions)
}

/** The first lamp sets the exposure of all pictures. */
export function currentExposure(first: SceneLight, place: Place): Exposure {
  const { exposureEv } = view.getState()
  if (exposureEv !== null) return { kind: 'camera', whiteCdM2: cameraWhite(exposureEv) }
  const chosen = night.getState().eyeCdM2
  return { kind: 'eye', adaptedCdM2: adaptationTo(chosen ?? restingLuminance(first, place)) }
}
