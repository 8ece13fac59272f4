// Pages of a PDF as pixels, by pdf.js and a canvas that are not ours.
import { createCanvas } from '@napi-rs/canvas'
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'

export interface PagePixels {
  widthMm: number
  heightMm: number
  perMm: number
  /** Darkness 0 to 255 of a place, mm from the page's lower left corner. */
  darkAt: (xMm: number, yMm: number) => number
  /** Text of the page, joined. */
  text: string
}

const POINTS_PER_MM = 72 / 25.4

export async function pdfPages(bytes: Uint8Array, perMm = 8): Promise<PagePixels[]> {
  const task = getDocument({ data: bytes.slice(), useSystemFonts: false, verbosity: 0 })
  const file = await task.promise
  const pages: PagePixels[] = []
  for (let i = 1; i <= file.numPages; i++) {
    const page = await file.getPage(i)
    const viewport = page.getViewport({ scale: perMm / POINTS_PER_MM })
    const canvas = createCanvas(Math.ceil(viewport.width), Math.ceil(viewport.height))
    const context = canvas.getContext('2d')
    context.fillStyle = '#fff'
    context.fillRect(0, 0, canvas.width, canvas.height)
    await page.render({ canvas: null, canvasContext: context as never, viewport }).promise
    const { data } = context.getImageData(0, 0, canvas.width, canvas.height)
    const [width, height] = [canvas.width, canvas.height]
    const content = await page.getTextContent()
    pages.push({
      ...{ widthMm: viewport.width / perMm, heightMm: viewport.height / perMm, perMm },
      darkAt: (x, y) => {
        const [px, py] = [Math.floor(x * perMm), Math.floor(viewport.height - y * perMm)]
        return px < 0 || py < 0 || px >= width || py >= height ? 0 : 255 - (data[4 * (py * width + px)] ?? 255)
      },
      text: content.items.map((item) => ('str' in item ? item.str : '')).join(' '),
    })
  }
  await task.destroy()
  return pages
}
