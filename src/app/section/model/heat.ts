// Irradiance along the section, from the maps: for each part a row of means near the plane, in kW/m².
import type { GridMap } from '../../../run/figure.ts'
import type { Cut } from '../../common/cut.ts'
import { niceAbove } from '../../common/niceSteps.ts'

export interface Strip {
  fromMm: number
  toMm: number
  kWm2: Float32Array
}

/** For flat parts (lens, face): means along r over a band about the axis, a tenth of the part wide. */
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
const WALL_SECTOR_DEG = 15

/** For the wall: means along z where the plane meets it, above and below the axis. */
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

/** Upper end of the common scale of all strips. */
export function heatTop(strips: readonly (Strip | null)[]): number {
  let top = 0
  for (const s of strips) if (s) for (const v of s.kWm2) if (v > top) top = v
  return niceAbove(top)
}
