// A view as a picture to keep: its canvases, a caption below them, and the lamp itself in the file, which opens like a lamp's.

import { withLampText } from '../../files/lampInPng.ts'
import { writeLampText } from '../../lamp/read.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { shownText } from './decimalMark.ts'
import { fileStem, saveFile } from './saveFile.ts'

export interface PictureColours {
  ground: string
  ink: string
  quiet: string
  font: string
}

export interface Caption {
  /** What is shown. */
  first: string
  /** Its limits. */
  second: string
}

/** Draws what is shown, in CSS px. */
type DrawOver = (ctx: CanvasRenderingContext2D) => void

interface PictureParts {
  layers: readonly CanvasImageSource[]
  /** Of the view, in CSS px. */
  size: { width: number; height: number }
  /** Pixels of the file for each CSS px. */
  scale: number
  caption: Caption
  colours: PictureColours
  drawOver?: DrawOver
}

/** Null where the browser gives no canvas. */
export function composeView({
  layers,
  size,
  scale,
  caption,
  colours,
  drawOver,
}: PictureParts): HTMLCanvasElement | null {
  const out = document.createElement('canvas')
  const ctx = out.getContext('2d')
  if (!ctx) return null
  const font = `12.5px ${colours.font}`
  ctx.font = font
  const first = wrapped(ctx, shownText(caption.first), size.width - 24)
  const rows = [...first, ...wrapped(ctx, shownText(caption.second), size.width - 24)]
  const strip = 16 + 18 * rows.length
  out.width = Math.round(size.width * scale)
  out.height = Math.round((size.height + strip) * scale)
  ctx.fillStyle = colours.ground
  ctx.fillRect(0, 0, out.width, out.height)
  for (const layer of layers)
    ctx.drawImage(layer, 0, 0, Math.round(size.width * scale), Math.round(size.height * scale))
  ctx.setTransform(scale, 0, 0, scale, 0, 0)
  drawOver?.(ctx)
  ctx.fillStyle = '#11171a'
  ctx.fillRect(0, size.height, size.width, strip)
  ctx.font = font
  ctx.textAlign = 'left'
  ctx.textBaseline = 'middle'
  for (const [i, row] of rows.entries()) {
    ctx.fillStyle = i < first.length ? colours.ink : colours.quiet
    ctx.fillText(row, 12, size.height + 17 + 18 * i)
  }
  return out
}

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

/** `kind`: a word for the file's name. */
export function savePicture(picture: HTMLCanvasElement, lamp: Lamp, kind: string): void {
  picture.toBlob((blob) => blob && void saveWithLamp(blob, lamp, kind), 'image/png')
}

async function saveWithLamp(blob: Blob, lamp: Lamp, kind: string): Promise<void> {
  const png = withLampText(new Uint8Array(await blob.arrayBuffer()), writeLampText(lamp))
  saveFile(`${fileStem(lamp.name)}-${kind}.png`, png, 'image/png')
}

/** From the page's own colours. */
export function pictureColours(box: HTMLElement): PictureColours {
  const style = getComputedStyle(box)
  const of = (name: string) => style.getPropertyValue(name).trim()
  return { ground: of('--ground'), ink: of('--ink'), quiet: of('--ink-quiet'), font: style.fontFamily }
}
