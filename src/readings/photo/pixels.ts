// From a picture's bytes to relative luminance: the transfer curve undone, burnt-out and black pixels counted and masked, neighbours averaged in light (not
// in bytes) to about a million places, so that a picture of any size is worked on as fast.

/** A picture as relative luminance, rows from the top; 1 is the brightest that its bytes can say. */
export interface Picture {
  columns: number
  rows: number
  /** Pixels of the file along a side of one place. */
  binPx: number
  /** Mean of the pixels of a place; of a masked one it says nothing. */
  luminance: Float32Array
  /** One of `MASK` for each place. */
  mask: Uint8Array
  /** Pixels of the file. */
  pixels: number
  saturated: number
  black: number
}

export const MASK = { fine: 0, saturated: 1, black: 2 } as const

/** From here on a channel is taken as burnt out, up to here the brightest one as black: our choice. */
const SATURATED = 250
const BLACK = 5

/** Places of a picture, at most about. */
const PLACES = 1_000_000

/** Luminance of linear RGB with the primaries of Rec. ITU-R BT.709 (and of sRGB): item 3.2 there. */
const WEIGHTS = [0.2126, 0.7152, 0.0722] as const

/** Linear light, 0 to 1, of an sRGB value c, 0 to 1: IEC 61966-2-1:1999, 5.2. */
export const linearFromSrgb = (c: number): number => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4)

/** Its inverse: an sRGB value, 0 to 1, of linear light, 0 to 1. */
export const srgbFromLinear = (c: number): number => (c <= 0.0031308 ? 12.92 * c : 1.055 * c ** (1 / 2.4) - 0.055)

/**
 * Standard uncertainty of a grey value of that linear light, as a share, if its byte is one off: the slope of the curve over its value. Light from 0
 * (there infinite) to 1.
 */
export function byteDoubt(linear: number): number {
  const c = 255 * srgbFromLinear(linear)
  return c <= 255 * 0.04045 ? 1 / c : 2.4 / (c + 255 * 0.055)
}

const LINEAR = Float64Array.from({ length: 256 }, (_, byte) => linearFromSrgb(byte / 255))

export interface Binner {
  /** The next rows of the picture: RGBA, 8 bits each, as many whole rows as there are bytes. */
  add(rgba: Uint8ClampedArray): void
  finish(): Picture
}

/**
 * Takes a picture of widthPx × heightPx row by row and gives its `Picture`. A place with one burnt-out pixel is masked, and one of which half or more is
 * black; pixels that fill no place at the right and lower edge are counted and otherwise left out.
 */
export function makeBinner(widthPx: number, heightPx: number): Binner {
  const binPx = Math.max(1, Math.ceil(Math.sqrt((widthPx * heightPx) / PLACES)))
  const [columns, rows] = [Math.floor(widthPx / binPx), Math.floor(heightPx / binPx)]
  const luminance = new Float32Array(columns * rows)
  const mask = new Uint8Array(columns * rows)
  const dark = new Uint16Array(columns * rows)
  const of = (table: number) => LINEAR.map((linear) => linear * table)
  const [red, green, blue] = [of(WEIGHTS[0]), of(WEIGHTS[1]), of(WEIGHTS[2])]
  let [y, saturated, black] = [0, 0, 0]
  const add = (rgba: Uint8ClampedArray) => {
    const lines = Math.floor(rgba.length / (4 * widthPx))
    for (let line = 0; line < lines; line++, y++) {
      const row = Math.floor(y / binPx)
      for (let x = 0; x < widthPx; x++) {
        const at = 4 * (line * widthPx + x)
        const [r, g, b] = [rgba[at] ?? 0, rgba[at + 1] ?? 0, rgba[at + 2] ?? 0]
        const brightest = Math.max(r, g, b)
        if (brightest >= SATURATED) saturated++
        else if (brightest <= BLACK) black++
        const column = Math.floor(x / binPx)
        if (column >= columns || row >= rows) continue
        const i = row * columns + column
        if (brightest >= SATURATED) mask[i] = MASK.saturated
        else if (brightest <= BLACK) dark[i] = (dark[i] ?? 0) + 1
        luminance[i] = (luminance[i] ?? 0) + (red[r] ?? 0) + (green[g] ?? 0) + (blue[b] ?? 0)
      }
    }
  }
  const finish = (): Picture => {
    const inOne = binPx * binPx
    for (let i = 0; i < luminance.length; i++) {
      luminance[i] = (luminance[i] ?? 0) / inOne
      if (mask[i] === MASK.fine && 2 * (dark[i] ?? 0) >= inOne) mask[i] = MASK.black
    }
    return { columns, rows, binPx, luminance, mask, pixels: widthPx * heightPx, saturated, black }
  }
  return { add, finish }
}
