// A camera whose every step is known: perspective, shading, glare, the sensor's noise, its own tone curve, the standard transfer curve, bytes.
import { normalFrom, seededRandom } from '../../../src/num/rng.ts'
import { type Homography, homographyFrom, mapped, type Point } from '../../../src/readings/photo/homography.ts'
import { makeBinner, type Picture } from '../../../src/readings/photo/pixels.ts'

export interface Camera {
  widthPx: number
  heightPx: number
  /** Where the corners of the wall's rectangle are seen, 0 to 1. */
  marks: readonly Point[]
  widthMm: number
  heightMm: number
  /** Power of the cos⁴ law that the camera has left in, and the focal length for 36 × 24 mm. */
  cos4: number
  focal35Mm: number
  /** Signal over light: 1 is as the standard says. */
  curve(light: number): number
  /** Of light at full scale, as a share: the sensor's, before the curve. */
  noise: number
}

/** Seen a little from the right and from below. */
export const CAMERA: Camera = {
  widthPx: 160,
  heightPx: 120,
  marks: [
    [0.14, 0.17],
    [0.85, 0.12],
    [0.88, 0.9],
    [0.11, 0.84],
  ],
  widthMm: 2000,
  heightMm: 1500,
  cos4: 0.5,
  focal35Mm: 26,
  curve: (light) => light,
  noise: 0.002,
}

/** IEC 61966-2-1:1999, 5.2, written out apart from the program. */
const srgbByte = (linear: number): number => {
  const c = Math.min(1, Math.max(0, linear))
  return Math.round(255 * (c > 0.0031308 ? 1.055 * c ** (1 / 2.4) - 0.055 : 12.92 * c))
}

/** From wall to picture, in px. */
export function toPixels({ marks, widthPx, heightPx, widthMm: w, heightMm: h }: Camera): Homography {
  const corners: Point[] = [
    [w / 2, h / 2],
    [-w / 2, h / 2],
    [-w / 2, -h / 2],
    [w / 2, -h / 2],
  ]
  const found = homographyFrom(
    corners,
    marks.map(([x, y]): Point => [x * widthPx, y * heightPx]),
  )
  if (!found) throw new Error('the marks are no rectangle')
  return found
}

/** RGBA of a wall with so many lux at (x, y), mm; `perLux`: light at full scale for one lux. */
export function photograph(
  camera: Camera,
  lux: (x: number, y: number) => number,
  perLux: number,
  seed: number,
): Uint8ClampedArray {
  const { widthPx, heightPx, cos4, focal35Mm, curve, noise } = camera
  const normal = normalFrom(seededRandom(seed))
  const toWall = homographyFrom(
    camera.marks.map(([x, y]): Point => [x * widthPx, y * heightPx]),
    [
      [camera.widthMm / 2, camera.heightMm / 2],
      [-camera.widthMm / 2, camera.heightMm / 2],
      [-camera.widthMm / 2, -camera.heightMm / 2],
      [camera.widthMm / 2, -camera.heightMm / 2],
    ],
  )
  if (!toWall) throw new Error('the marks are no rectangle')
  const halfDiagonal = Math.hypot(widthPx, heightPx) / 2
  const rgba = new Uint8ClampedArray(4 * widthPx * heightPx)
  for (let y = 0; y < heightPx; y++)
    for (let x = 0; x < widthPx; x++) {
      const wall = mapped(toWall, [x + 0.5, y + 0.5])
      const r = Math.hypot(x + 0.5 - widthPx / 2, y + 0.5 - heightPx / 2) / halfDiagonal
      const theta = Math.atan((r * Math.hypot(18, 12)) / focal35Mm)
      const light = perLux * lux(...wall) * Math.cos(theta) ** (4 * cos4)
      const byte = srgbByte(curve(Math.max(0, light + noise * Math.sqrt(light + 0.002) * normal())))
      rgba.set([byte, byte, byte, 255], 4 * (y * widthPx + x))
    }
  return rgba
}

export function pictureOf(
  camera: Camera,
  lux: (x: number, y: number) => number,
  perLux: number,
  seed: number,
): Picture {
  const binner = makeBinner(camera.widthPx, camera.heightPx)
  binner.add(photograph(camera, lux, perLux, seed))
  return binner.finish()
}
