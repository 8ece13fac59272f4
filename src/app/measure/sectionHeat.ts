// Heat along the cut, read off the irradiance maps: for each part a row of means near the plane, in kW/m².
import type { GridMap } from '../../run/figure.ts'
import { niceAbove } from './sectionFrame.ts'
import type { Cut } from './sectionParts.ts'

export interface Strip {
  fromMm: number
  toMm: number
  kWm2: Float32Array
}

/** Means over a band about the axis; flat parts (lens, face), along r. The band is a tenth of the part. */
export function flatStrip(map: GridMap, cut: Cut): Strip {
  const upright = cut === 'upright'
  const along = upright ? map.rows : map.columns
  const across = upright ? map.columns : map.rows
  const [from, to] = upright ? [map.fromY, map.toY] : [map.fromX, map.toX]
  const band = Math.max(1, Math.round(across / 20))
  const first = Math.max(0, Math.floor((across - 1) / 2) - band + 1)
  const last = Math.min(across - 1, Math.ceil((across - 1) / 2) + band - 1)
  const kWm2 = new Float32Array(along)
  for (let i = 0; i < along; i++) {
    let sum = 0
    for (let j = first; j <= last; j++) sum += map.values[upright ? i * map.columns + j : j * map.columns + i]!
    kWm2[i] = sum / (last - first + 1)
  }
  return { fromMm: from, toMm: to, kWm2 }
}

/** Half angle of the sector that a wall strip averages over. */
export const WALL_SECTOR_DEG = 15

/** The wall along z where the plane meets it above and below the axis. */
export function wallStrips(map: GridMap, cut: Cut): { above: Strip; below: Strip } {
  const above = cut === 'upright' ? 90 : 0
  return { above: wallStrip(map, above), below: wallStrip(map, above + 180) }
}

function wallStrip(map: GridMap, azimuthDeg: number): Strip {
  const step = 360 / map.columns
  const kWm2 = new Float32Array(map.rows)
  const columns: number[] = []
  for (let c = 0; c < map.columns; c++) {
    const away = Math.abs((((((c + 0.5) * step - azimuthDeg) % 360) + 540) % 360) - 180)
    if (away <= WALL_SECTOR_DEG + 1e-9 || away <= step / 2 + 1e-9) columns.push(c)
  }
  for (let row = 0; row < map.rows; row++) {
    let sum = 0
    for (const c of columns) sum += map.values[row * map.columns + c]!
    kWm2[row] = sum / Math.max(1, columns.length)
  }
  return { fromMm: map.fromY, toMm: map.toY, kWm2 }
}

/** Upper end of one scale for all strips. */
export function heatTop(strips: readonly (Strip | null)[]): number {
  let top = 0
  for (const s of strips) if (s) for (const v of s.kWm2) if (v > top) top = v
  return niceAbove(top)
}

/** Even steps of lightness from the sheet's own dark through ember to near white (stops chosen in OKLab, lightness rising evenly). */
const STOPS = [
  [0.24, 0.0, -0.02],
  [0.4, 0.08, 0.0],
  [0.56, 0.15, 0.07],
  [0.72, 0.1, 0.13],
  [0.88, 0.01, 0.12],
] as const

/** Colour of a share of the scale, as sRGB 0–255. */
export function heatRgb(share: number): [number, number, number] {
  const t = Math.min(1, Math.max(0, share)) * (STOPS.length - 1)
  const i = Math.min(STOPS.length - 2, Math.floor(t))
  const mix = (k: 0 | 1 | 2) => STOPS[i]![k] + (STOPS[i + 1]![k] - STOPS[i]![k]) * (t - i)
  return srgbFromOklab(mix(0), mix(1), mix(2))
}

export const heatCss = (share: number) => `rgb(${heatRgb(share).join(' ')})`

/** B. Ottosson, "A perceptual color space for image processing", 2020: the published matrices. */
function srgbFromOklab(lightness: number, a: number, b: number): [number, number, number] {
  const l = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3
  const m = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3
  const s = (lightness - 0.0894841775 * a - 1.291485548 * b) ** 3
  const encode = (linear: number) => {
    const v = linear <= 0.0031308 ? 12.92 * linear : 1.055 * Math.max(linear, 0) ** (1 / 2.4) - 0.055
    return Math.round(255 * Math.min(1, Math.max(0, v)))
  }
  return [
    encode(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
    encode(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
    encode(-0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s),
  ]
}
