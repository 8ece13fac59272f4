// A picture's file to its luminance, in the page: nothing leaves it.
import { type ExposureData, readExposure } from '../../../readings/photo/exif.ts'
import { makeBinner, type Picture } from '../../../readings/photo/pixels.ts'

export type Decoded = { ok: true; picture: Picture; exposure: ExposureData } | { ok: false; why: string }

/** Pixels of a picture at most: what a canvas and a page's memory bear. */
const MOST_PIXELS = 120e6
/** Rows that are taken out of the bitmap at a time. */
const STRIPE = 256
/** EXIF stands within the first 64 KiB of a JPEG; a PNG may have it anywhere. */
const HEAD_BYTES = 1 << 20

/** The bytes as the camera wrote them, without a colour profile, turned as EXIF says. */
export async function decodePicture(file: Blob & { name: string }): Promise<Decoded> {
  const bitmap = await createImageBitmap(file, { colorSpaceConversion: 'none', imageOrientation: 'from-image' }).catch(
    () => null,
  )
  if (!bitmap)
    return {
      ok: false,
      why: `${file.name}: the browser can’t read this picture. Save it as JPEG or PNG and open that.`,
    }
  try {
    const { width, height } = bitmap
    if (width * height > MOST_PIXELS)
      return {
        ok: false,
        why: `${file.name} has ${Math.round((width * height) / 1e6)} million pixels; 120 are the most.`,
      }
    if (width < 64 || height < 64)
      return { ok: false, why: `${file.name} has ${width} × ${height} pixels: too few for a map.` }
    const canvas = document.createElement('canvas')
    canvas.width = width
    canvas.height = Math.min(STRIPE, height)
    const context = canvas.getContext('2d', { willReadFrequently: true, colorSpace: 'srgb' })
    if (!context) return { ok: false, why: 'The browser gives no canvas to read the picture by.' }
    const binner = makeBinner(width, height)
    for (let y = 0; y < height; y += STRIPE) {
      const rows = Math.min(STRIPE, height - y)
      context.drawImage(bitmap, 0, -y)
      binner.add(context.getImageData(0, 0, width, rows).data)
    }
    const head = new Uint8Array(await file.slice(0, HEAD_BYTES).arrayBuffer())
    return { ok: true, picture: binner.finish(), exposure: readExposure(head) }
  } finally {
    bitmap.close()
  }
}
