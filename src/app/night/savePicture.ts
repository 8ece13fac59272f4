// Saves the picture as a PNG file: the view at a higher resolution, with a caption that states what it shows and its limits.

import { withLampText } from '../../files/lampInPng.ts'
import { writeLampText } from '../../lamp/read.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { significant, trim } from '../common/lengthText.ts'
import { fileStem, saveFile } from '../common/saveFile.ts'
import { design, result, view } from '../store/stores.ts'
import { comparison } from './comparison.ts'
import { metres } from './drawMarks.ts'
import { hazeWord } from './model/air.ts'
import type { PictureSize, TargetKind } from './model/scene.ts'
import { APERTURE, cameraSettings } from './model/tone.ts'
import { type Palette, paintOver } from './paint.ts'
import { currentExposure, currentLights, currentScene } from './scene.ts'
import { currentTarget, night } from './state.ts'

const KIND: Record<TargetKind, string> = { wall: 'a wall', person: 'a person', boat: 'a small boat', field: 'a field' }

function exposureWords(): string {
  const { exposureEv } = view.getState()
  if (exposureEv !== null)
    return `camera at EV ${trim(exposureEv, 1)} (${cameraSettings(exposureEv).words}, f/${APERTURE})`
  const first = currentLights()[0]
  if (!first) return 'as the eye sees it'
  const exposure = currentExposure(first, currentScene().place)
  return exposure.kind === 'eye' ? `as the eye sees it, settled on ${significant(exposure.adaptedCdM2, 2)} cd/m²` : ''
}

const airWords = (visibilityM: number | null) =>
  visibilityM === null ? 'no haze drawn' : `${hazeWord(visibilityM)}, visibility ${metres(visibilityM)}`

/** Lamp, target, exposure, air and day; then the picture's limits. `alone`: without the comparison. */
export function captionOf(day: Date, alone = false): [string, string] {
  const lamp = design.lamp()
  const other = alone ? null : comparison.getState().lit
  const names = other ? `${lamp.name} (left) and ${other.name} (right)` : lamp.name
  const { sheet, stale } = result.getState()
  const date = day.toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' })
  const { visibilityM } = night.getState()
  const parts = [
    names,
    `${KIND[currentTarget()]} at ${metres(lamp.target.distanceM)}`,
    exposureWords(),
    airWords(visibilityM),
    date,
  ]
  const rough = stale || sheet?.state !== 'settled' ? ' The trace had not settled.' : ''
  return [
    parts.join(' · '),
    `Estimate for planning: lit by the traced beam and nothing else, without moon, stars or other lamps.${rough}`,
  ]
}

export function composePicture(picture: HTMLCanvasElement, size: PictureSize, scale: number, palette: Palette): void {
  const out = document.createElement('canvas')
  const ctx = out.getContext('2d')
  if (!ctx) return
  const words = captionOf(new Date())
  ctx.font = fontOf(palette, 12.5)
  const rows = [...wrapped(ctx, words[0], size.width - 24), ...wrapped(ctx, words[1], size.width - 24)]
  const first = wrapped(ctx, words[0], size.width - 24).length
  const strip = 16 + 18 * rows.length
  out.width = Math.round(size.width * scale)
  out.height = Math.round((size.height + strip) * scale)
  ctx.drawImage(picture, 0, 0)
  ctx.setTransform(scale, 0, 0, scale, 0, 0)
  paintOver(ctx, size, palette, { withProbe: false })
  ctx.fillStyle = '#11171a'
  ctx.fillRect(0, size.height, size.width, strip)
  ctx.font = fontOf(palette, 12.5)
  ctx.textAlign = 'left'
  ctx.textBaseline = 'middle'
  for (const [i, row] of rows.entries()) {
    ctx.fillStyle = i < first ? palette.ink : palette.quiet
    ctx.fillText(row, 12, size.height + 17 + 18 * i)
  }
  const lamp = design.lamp()
  out.toBlob((blob) => blob && void saveWithLamp(blob, lamp), 'image/png')
}

const fontOf = (palette: Palette, px: number) => `${px}px ${palette.font}`

function wrapped(ctx: CanvasRenderingContext2D, text: string, width: number): string[] {
  const rows: string[] = []
  let row = ''
  for (const word of text.split(' ')) {
    const longer = row ? `${row} ${word}` : word
    if (row && ctx.measureText(longer).width > width) {
      rows.push(row)
      row = word
    } else row = longer
  }
  return [...rows, row]
}

/** The lamp goes with its picture: the file opens like a lamp's. */
async function saveWithLamp(blob: Blob, lamp: Lamp): Promise<void> {
  const png = withLampText(new Uint8Array(await blob.arrayBuffer()), writeLampText(lamp))
  saveFile(`${fileStem(lamp.name)}-night.png`, png, 'image/png')
}
