// Pictures of grid maps: size in the column, pixels by the ramp, the value at a point.
import type { Tunnel } from '../../lamp/schema.ts'
import type { GridMap, HotSpot } from '../../run/figure.ts'
import type { MapFrame } from '../../run/types.ts'
import { RAMP, RAMP_SIZE } from './ramp.ts'
import { roundShare, shareOfTurn, wallShare } from './unrolledWall.ts'

export interface Fit {
  widthPx: number
  heightPx: number
}

/** To scale, but at least `leastPx` high. */
export function fitGrid(map: GridMap, maxWidthPx: number, maxHeightPx: number, leastPx = 90): Fit {
  const aspect = (map.toY - map.fromY) / (map.toX - map.fromX)
  const widthPx = Math.min(maxWidthPx, maxHeightPx / aspect)
  return { widthPx: Math.round(widthPx), heightPx: Math.round(Math.max(leastPx, widthPx * aspect)) }
}

/** The middle of a grid, out to `reach` from its centre or a little more; the whole grid when it is smaller. */
export function cropGrid(map: GridMap, reach: number): GridMap {
  const side = (count: number, from: number, to: number) => {
    const bin = (to - from) / count
    const middle = (from + to) / 2
    const skip = Math.max(0, Math.floor((middle - reach - from) / bin))
    return { skip, count: count - 2 * skip, from: from + skip * bin, to: to - skip * bin }
  }
  const x = side(map.columns, map.fromX, map.toX)
  const y = side(map.rows, map.fromY, map.toY)
  if ((x.skip === 0 && y.skip === 0) || x.count < 2 || y.count < 2) return map
  const values = new Float32Array(x.count * y.count)
  for (let r = 0; r < y.count; r++) {
    const from = (r + y.skip) * map.columns + x.skip
    values.set(map.values.subarray(from, from + x.count), r * x.count)
  }
  return { ...map, columns: x.count, rows: y.count, fromX: x.from, toX: x.to, fromY: y.from, toY: y.to, values }
}

export function peakOf(map: GridMap): { value: number; x: number; y: number } {
  let best = 0
  for (let i = 1; i < map.values.length; i++) if (map.values[i]! > map.values[best]!) best = i
  const column = best % map.columns
  const row = Math.floor(best / map.columns)
  return {
    value: map.values[best] ?? 0,
    x: map.fromX + ((column + 0.5) / map.columns) * (map.toX - map.fromX),
    y: map.fromY + ((row + 0.5) / map.rows) * (map.toY - map.fromY),
  }
}

/** RGBA, one pixel for each bin, top row first (the grid's rows run upwards). */
export function paintGrid(map: GridMap, top: number): Uint8ClampedArray<ArrayBuffer> {
  const { columns, rows, values } = map
  const out = new Uint8ClampedArray(columns * rows * 4)
  const scale = top > 0 ? (RAMP_SIZE - 1) / top : 0
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      const level = Math.round(Math.min(RAMP_SIZE - 1, Math.max(0, values[r * columns + c]! * scale)))
      const at = 4 * ((rows - 1 - r) * columns + c)
      out[at] = RAMP[3 * level]!
      out[at + 1] = RAMP[3 * level + 1]!
      out[at + 2] = RAMP[3 * level + 2]!
      out[at + 3] = 255
    }
  }
  return out
}

/** Value of the bin that holds a point; null outside. */
export function valueAt(map: GridMap, x: number, y: number): number | null {
  const column = Math.floor(((x - map.fromX) / (map.toX - map.fromX)) * map.columns)
  const row = Math.floor(((y - map.fromY) / (map.toY - map.fromY)) * map.rows)
  if (column < 0 || row < 0 || column >= map.columns || row >= map.rows) return null
  return map.values[row * map.columns + column] ?? null
}

/** Whether the map of a wall goes by the way along stretches and steps, not by z. */
export const goesAlongWall = (map: GridMap, tunnel: Tunnel): boolean =>
  Math.abs(map.fromY - tunnel.zInMm) > 0.01 || Math.abs(map.toY - tunnel.zOutMm) > 0.01

/** Position of a spot of the lamp on the map of a piece that is moved or tilted: the inverse of its frame. */
export function positionInFrame(
  { originMm, rotation }: MapFrame,
  spot: Pick<HotSpot, 'xMm' | 'yMm' | 'zMm'>,
): { x: number; y: number } {
  const from = [spot.xMm - originMm[0], spot.yMm - originMm[1], spot.zMm - originMm[2]]
  const along = (column: number) => from.reduce((sum, mm, row) => sum + (rotation[3 * row + column] ?? 0) * mm, 0)
  return { x: along(0), y: along(1) }
}

/** Position of a spot on the unrolled wall: its share of the way round, and z, or the way along the wall. */
export function positionOnUnrolledWall(
  map: GridMap,
  spot: Pick<HotSpot, 'xMm' | 'yMm' | 'zMm'>,
  tunnel: Tunnel | null = null,
): { x: number; y: number } {
  const round = tunnel ? roundShare(tunnel, spot) : shareOfTurn(spot.xMm, spot.yMm)
  const y =
    tunnel && goesAlongWall(map, tunnel) ? map.fromY + wallShare(tunnel, spot) * (map.toY - map.fromY) : spot.zMm
  return { x: map.fromX + round * (map.toX - map.fromX), y }
}
