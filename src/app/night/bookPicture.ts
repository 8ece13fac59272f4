// The night for the book: the open lamp alone, from where and through what air the Night view shows it.
import { createNightGl } from './gl.ts'
import type { PictureSize } from './model/scene.ts'
import { makePainter, paintOver, readPalette } from './paint.ts'
import { captionOf } from './savePicture.ts'
import { aloneScene } from './split.ts'

export interface BookPicture {
  png: Uint8Array
  widthPx: number
  heightPx: number
  caption: string
}

/** Sharp enough over a page's width; twice as many pixels in a line make a book four times as heavy. */
const SIZE: PictureSize = { width: 1200, height: 675 }

/** Null when this browser can't draw it. It is drawn before this returns: later edits don't get into it. */
export async function bookPicture(): Promise<BookPicture | null> {
  const canvas = canvasOf(SIZE)
  const gl = createNightGl(canvas)
  if (!gl) return null
  try {
    makePainter(gl, aloneScene).whole(SIZE, 1)
    const out = canvasOf(SIZE)
    const ctx = out.getContext('2d')
    if (!ctx) return null
    ctx.drawImage(canvas, 0, 0)
    paintOver(ctx, SIZE, readPalette(document.body), { scene: aloneScene, withProbe: false })
    const caption = captionOf(new Date(), true).join('. ')
    const blob = await new Promise<Blob | null>((resolve) => out.toBlob(resolve, 'image/png'))
    if (!blob) return null
    const png = new Uint8Array(await blob.arrayBuffer())
    return { png, widthPx: SIZE.width, heightPx: SIZE.height, caption }
  } finally {
    gl.dispose()
  }
}

function canvasOf({ width, height }: PictureSize): HTMLCanvasElement {
  const canvas = document.createElement('canvas')
  canvas.width = width
  canvas.height = height
  return canvas
}
