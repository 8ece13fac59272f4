// The pixels of a PNG picture (Portable Network Graphics, third edition, W3C 2025), as cameras' programs save them: 8 bits, not interlaced.
// Own code, because the one kind of picture that is read needs five filters, and packages bring every kind there is.
import { inflateAtMost } from './inflate.ts'
import { readPngChunks } from './png.ts'

export type PngPixels =
  | { ok: true; widthPx: number; heightPx: number; rgba: Uint8ClampedArray<ArrayBuffer> }
  | { ok: false; why: string }

/** Samples of a pixel by colour type (section 11.2.1): grey, RGB, grey with alpha, RGB with alpha. */
const SAMPLES: Readonly<Record<number, number>> = { 0: 1, 2: 3, 4: 2, 6: 4 }
const MOST_PIXELS = 60e6

/** Rows from the top, RGBA; alpha as it stands. Palettes, 16 bits and interlaced pictures are refused, as is what is damaged. */
export async function pngPixels(bytes: Uint8Array): Promise<PngPixels> {
  const read = readPngChunks(bytes)
  if (!read.ok) return read
  const header = read.chunks.find((c) => c.type === 'IHDR')?.data
  if (header?.length !== 13) return { ok: false, why: 'The picture is damaged: it doesn’t say its size.' }
  const view = new DataView(header.buffer, header.byteOffset, header.byteLength)
  const [widthPx, heightPx] = [view.getUint32(0), view.getUint32(4)]
  const samples = SAMPLES[view.getUint8(9)]
  if (samples === undefined || view.getUint8(8) !== 8 || view.getUint8(12) !== 0)
    return { ok: false, why: 'Only 8 bits, grey or colour, not interlaced, can be read: save the picture so.' }
  if (widthPx * heightPx === 0 || widthPx * heightPx > MOST_PIXELS)
    return { ok: false, why: `It has ${widthPx} × ${heightPx} pixels; 60 million are the most.` }
  const size = (1 + samples * widthPx) * heightPx
  const packed = await new Blob(read.chunks.flatMap((c) => (c.type === 'IDAT' ? [c.data.slice()] : []))).arrayBuffer()
  const lines = await inflateAtMost(new Uint8Array(packed), size).catch(() => null)
  if (lines?.length !== size) return { ok: false, why: 'The picture is damaged: its rows aren’t as many as it says.' }
  if (!unfilter(lines, samples, samples * widthPx))
    return { ok: false, why: 'The picture is damaged: a row names no filter that there is.' }
  return { ok: true, widthPx, heightPx, rgba: rgbaOf(lines, samples, widthPx, heightPx) }
}

/** Section 9.2, in place: every row has its filter before it, and a byte is the difference from what the pixel to its left and the row above say. */
function unfilter(lines: Uint8Array, samples: number, rowBytes: number): boolean {
  const stride = rowBytes + 1
  for (let start = 0; start < lines.length; start += stride) {
    const filter = lines[start] ?? 0
    if (filter > 4) return false
    for (let k = 1; k <= rowBytes; k++) {
      const at = start + k
      const left = k > samples ? (lines[at - samples] ?? 0) : 0
      const up = start > 0 ? (lines[at - stride] ?? 0) : 0
      const corner = start > 0 && k > samples ? (lines[at - stride - samples] ?? 0) : 0
      lines[at] = (lines[at] ?? 0) + predicted(filter, left, up, corner)
    }
  }
  return true
}

/** What the filter expects of a byte; the file has the difference. */
function predicted(filter: number, left: number, up: number, corner: number): number {
  if (filter === 0) return 0
  if (filter === 1) return left
  if (filter === 2) return up
  return filter === 3 ? (left + up) >> 1 : paeth(left, up, corner)
}

/** Section 9.4. */
function paeth(left: number, up: number, corner: number): number {
  const [a, b, c] = [Math.abs(up - corner), Math.abs(left - corner), Math.abs(left + up - 2 * corner)]
  if (a <= b && a <= c) return left
  return b <= c ? up : corner
}

function rgbaOf(lines: Uint8Array, samples: number, widthPx: number, heightPx: number): Uint8ClampedArray<ArrayBuffer> {
  const rgba = new Uint8ClampedArray(4 * widthPx * heightPx)
  const isGrey = samples < 3
  const alpha = samples % 2 === 0 ? samples - 1 : null
  for (let y = 0, to = 0; y < heightPx; y++) {
    let from = y * (1 + samples * widthPx) + 1
    for (let x = 0; x < widthPx; x++, from += samples, to += 4) {
      for (let c = 0; c < 3; c++) rgba[to + c] = lines[from + (isGrey ? 0 : c)] ?? 0
      rgba[to + 3] = alpha === null ? 255 : (lines[from + alpha] ?? 0)
    }
  }
  return rgba
}
