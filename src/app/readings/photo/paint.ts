// Pixels of what is shown: the picture in grey, the map by the ramp; what is masked in stripes.
import { MASK, type Picture, srgbFromLinear } from '../../../readings/photo/pixels.ts'
import type { WallMap } from '../../../readings/photo/wallMap.ts'
import { RAMP, RAMP_SIZE } from '../../common/ramp.ts'

type Colour = readonly [number, number, number]
const STRIPES: Record<'saturated' | 'black', readonly [Colour, Colour]> = {
  saturated: [
    [255, 117, 100],
    [255, 255, 255],
  ],
  black: [
    [60, 110, 135],
    [0, 0, 0],
  ],
}

const GREYS = Uint8Array.from({ length: 1025 }, (_, i) => Math.round(255 * srgbFromLinear((i / 1024) ** 2)))

/** RGBA of each place. */
export function paintPicture({ columns, rows, luminance, mask }: Picture): Uint8ClampedArray<ArrayBuffer> {
  const rgba = new Uint8ClampedArray(4 * columns * rows)
  // As wide on the screen whatever the picture's size.
  const stripe = Math.max(2, Math.round(columns / 160))
  for (let y = 0; y < rows; y++)
    for (let x = 0; x < columns; x++) {
      const i = y * columns + x
      const grey = GREYS[Math.min(1024, Math.round(1024 * Math.sqrt(luminance[i] ?? 0)))] ?? 0
      const of = mask[i] === MASK.saturated ? STRIPES.saturated : mask[i] === MASK.black ? STRIPES.black : null
      const [r, g, b] = of?.[Math.floor((x + y) / stripe) % 2] ?? [grey, grey, grey]
      rgba[4 * i] = r
      rgba[4 * i + 1] = g
      rgba[4 * i + 2] = b
      rgba[4 * i + 3] = 255
    }
  return rgba
}

/** Pixels for a cell's side. */
export const CELL_PX = 8

/** RGBA of the map, its rows from the top; cells without lux in stripes, outside the picture clear. */
export function paintMap({ columns, rows, cells }: WallMap): Uint8ClampedArray<ArrayBuffer> {
  const [widthPx, heightPx] = [columns * CELL_PX, rows * CELL_PX]
  const most = Math.max(1e-9, ...cells.map((cell) => cell.lx))
  const rgba = new Uint8ClampedArray(4 * widthPx * heightPx)
  for (let y = 0; y < heightPx; y++)
    for (let x = 0; x < widthPx; x++) {
      const cell = cells[Math.floor(y / CELL_PX) * columns + Math.floor(x / CELL_PX)]
      if (!cell || cell.state === 'outside') continue
      const at = 4 * (y * widthPx + x)
      if (cell.state === 'fine') {
        const t = 3 * Math.round((cell.lx / most) * (RAMP_SIZE - 1))
        for (let c = 0; c < 3; c++) rgba[at + c] = RAMP[t + c] ?? 0
      } else rgba.set(STRIPES[cell.state][Math.floor((x + y) / 3) % 2] ?? [0, 0, 0], at)
      rgba[at + 3] = 255
    }
  return rgba
}
