// Saves the picture as a PNG file: the view at a higher resolution, with a caption that states what it shows and its limits.

import { significant, trim } from '../common/lengthText.ts'
import { composeView, savePicture } from '../common/viewPicture.ts'
import { severeWords } from '../store/picture.ts'
import { design, result, view } from '../store/stores.ts'
import { unitSystem } from '../store/unitSystem.ts'
import { comparison } from './comparison.ts'
import { metres } from './drawMarks.ts'
import { hazeWord } from './model/air.ts'
import type { PictureSize, TargetKind } from './model/scene.ts'
import { APERTURE, cameraSettings } from './model/tone.ts'
import { type Palette, paintOver } from './paint.ts'
import { currentExposure, currentScene, openLight, type PaintedScene, type SceneLight } from './scene.ts'
import { currentTarget, night } from './state.ts'

const KIND: Record<TargetKind, string> = { wall: 'a wall', person: 'a person', boat: 'a small boat', field: 'a field' }

function exposureWords(first: SceneLight | null): string {
  const { exposureEv } = view.getState()
  if (exposureEv !== null)
    return `camera at EV ${trim(exposureEv, 1)} (${cameraSettings(exposureEv).words}, f/${APERTURE})`
  if (!first) return 'as the eye sees it'
  const exposure = currentExposure(first, currentScene().place)
  return exposure.kind === 'eye' ? `as the eye sees it, settled on ${significant(exposure.adaptedCdM2, 2)} cd/m²` : ''
}

const airWords = (visibilityM: number | null) =>
  visibilityM === null ? 'no haze drawn' : `${hazeWord(visibilityM)}, visibility ${metres(visibilityM, unitSystem())}`

/** Lamp, target, exposure, air and day; then the picture's limits. `alone`: without the comparison. */
export function captionOf(day: Date, alone = false): [string, string] {
  const lamp = design.lamp()
  const other = alone ? null : comparison.getState().lit
  const names = other ? `${lamp.name} (left) and ${other.name} (right)` : lamp.name
  const { sheet, stale } = result.getState()
  return captionWith(names, openLight(), { day, isRough: stale || sheet?.state !== 'settled' })
}

/** `first`: whose light sets the exposure. */
export function captionWith(
  names: string,
  first: SceneLight | null,
  { day, isRough }: { day: Date; isRough: boolean },
): [string, string] {
  const date = day.toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' })
  const { visibilityM } = night.getState()
  const parts = [
    names,
    `${KIND[currentTarget()]} at ${metres(design.lamp().target.distanceM, unitSystem())}`,
    exposureWords(first),
    airWords(visibilityM),
    date,
  ]
  const rough = isRough ? ' The trace had not settled.' : ''
  return [
    parts.join(' · '),
    `Estimate for planning: lit by the traced beam and nothing else, without moon, stars or other lamps.${rough}${severeWords()}`,
  ]
}

export function savePictureOf(
  layer: HTMLCanvasElement,
  { scene, caption: [first, second] }: { scene: PaintedScene; caption: [string, string] },
  size: PictureSize,
  scale: number,
  palette: Palette,
): void {
  const picture = composeView({
    layers: [layer],
    size,
    scale,
    caption: { first, second },
    colours: { ground: '#000', ...palette },
    drawOver: (ctx) => paintOver(ctx, size, palette, { scene, withProbe: false }),
  })
  if (picture) savePicture(picture, design.lamp(), 'night')
}
