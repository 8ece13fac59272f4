// Pixels of a screenshot: PNG as Chromium writes it (8 bits, red green blue with or without alpha, not interlaced; ISO/IEC 15948).
import { inflateSync } from 'node:zlib'
import type { Page } from 'playwright-core'

export interface Pixels {
  width: number
  height: number
  /** Red, green, blue, 0 to 255. */
  at(x: number, y: number): [number, number, number]
}

export function decodePng(png: Buffer): Pixels {
  const width = png.readUInt32BE(16)
  const height = png.readUInt32BE(20)
  const step = png[25] === 6 ? 4 : 3
  const parts: Buffer[] = []
  for (let at = 8; at < png.length; at += 12 + png.readUInt32BE(at)) {
    if (png.toString('latin1', at + 4, at + 8) === 'IDAT')
      parts.push(png.subarray(at + 8, at + 8 + png.readUInt32BE(at)))
  }
  const raw = inflateSync(Buffer.concat(parts))
  const row = width * step
  const out = Buffer.alloc(row * height)
  for (let y = 0; y < height; y++) unfilter(raw, out, y, row, step)
  return {
    width,
    height,
    at: (x, y) => [0, 1, 2].map((k) => out[y * row + x * step + k]!) as [number, number, number],
  }
}

function unfilter(raw: Buffer, out: Buffer, y: number, row: number, step: number): void {
  const kind = raw[y * (row + 1)]!
  for (let i = 0; i < row; i++) {
    const left = i >= step ? out[y * row + i - step]! : 0
    const up = y > 0 ? out[(y - 1) * row + i]! : 0
    const upLeft = y > 0 && i >= step ? out[(y - 1) * row + i - step]! : 0
    const guess = [0, left, up, (left + up) >> 1, paeth(left, up, upLeft)][kind]!
    out[y * row + i] = (raw[y * (row + 1) + 1 + i]! + guess) & 255
  }
}

function paeth(a: number, b: number, c: number): number {
  const p = a + b - c
  const [pa, pb, pc] = [Math.abs(p - a), Math.abs(p - b), Math.abs(p - c)]
  return pa <= pb && pa <= pc ? a : pb <= pc ? b : c
}

/** Mean red, green, blue over a box, given as shares of the picture. */
export function meanOver(p: Pixels, x0: number, y0: number, x1: number, y1: number): [number, number, number] {
  const sum: [number, number, number] = [0, 0, 0]
  let n = 0
  for (let y = Math.floor(y0 * p.height); y < Math.ceil(y1 * p.height); y++) {
    for (let x = Math.floor(x0 * p.width); x < Math.ceil(x1 * p.width); x++) {
      const rgb = p.at(x, y)
      for (let k = 0; k < 3; k++) sum[k]! += rgb[k]!
      n++
    }
  }
  return [sum[0] / n, sum[1] / n, sum[2] / n]
}

/** The night on screen, once it is drawn as finely as it will be. */
export async function nightPicture(page: Page): Promise<Pixels> {
  const stage = page.locator('.night-stage')
  // No more drawing asked for: the count of draws stands still over half a second's frames.
  await page.evaluate(async () => {
    const frames = (n: number) =>
      new Promise<void>((done) => {
        const next = (left: number) => (left === 0 ? done() : requestAnimationFrame(() => next(left - 1)))
        next(n)
      })
    const count = () => (window as unknown as { drawn?: number }).drawn ?? 0
    for (let last = -1; last !== count(); ) {
      last = count()
      await frames(30)
    }
  })
  return decodePng(await stage.screenshot())
}
