// The tunnel's wall as a grid: cells of equal azimuth and equal z, with their true widths and areas.
import type { DiscGrid } from '../num/gridDisc.ts'
import type { TallyShape } from './types.ts'

export type WallShape = NonNullable<TallyShape['wall']>

/**
 * Half the tunnel's size at height z, mm: the radius of a round one, the apothem of a polygon. Linear between inlet
 * and outlet, also beyond them.
 */
export function wallHalfMm(wall: WallShape, zMm: number): number {
  const t = (zMm - wall.zInMm) / (wall.zOutMm - wall.zInMm)
  return (wall.inMm + (wall.outMm - wall.inMm) * t) / 2
}

/**
 * Distance of the wall from the axis at a height (mm) and an azimuth (rad, from +x), mm. A polygon's first flat faces
 * +x: a/cos of the angle from the middle of the flat.
 */
export function wallRadiusMm(wall: WallShape, zMm: number, azimuth: number): number {
  const half = wallHalfMm(wall, zMm)
  if (wall.sides === 0) return half
  const step = (2 * Math.PI) / wall.sides
  return half / Math.cos(azimuth - step * Math.round(azimuth / step))
}

/**
 * The wall unrolled: rows along its slope, columns round it, sizes in mm, closed on itself. On a flat at distance a
 * from the axis an azimuth ψ from its middle lies at a·tan ψ: cells of equal azimuth are wider towards the corners.
 */
export function wallGrid(wall: WallShape): DiscGrid {
  const key = JSON.stringify(wall)
  if (known?.key !== key) known = { key, grid: layGrid(wall) }
  return known.grid
}

/** Of one wall: every sheet asks for it. Not to be written into. */
let known: { key: string; grid: DiscGrid } | null = null

function layGrid(wall: WallShape): DiscGrid {
  const dz = (wall.zOutMm - wall.zInMm) / wall.nAlong
  const slope = (wall.outMm - wall.inMm) / 2 / (wall.zOutMm - wall.zInMm)
  const dAzimuth = (2 * Math.PI) / wall.nRound
  const widths = Float64Array.from(
    { length: wall.nAlong },
    (_, row) => wallHalfMm(wall, wall.zInMm + (row + 0.5) * dz) * dAzimuth,
  )
  const shares = Float64Array.from({ length: wall.nRound }, (_, column) =>
    wall.sides === 0
      ? 1
      : (alongFlats(wall.sides, (column + 1) * dAzimuth) - alongFlats(wall.sides, column * dAzimuth)) / dAzimuth,
  )
  return { columns: wall.nRound, rows: wall.nAlong, rowSize: dz * Math.hypot(1, slope), widths, shares, wraps: true }
}

/** Way along a polygon's outline from azimuth 0 (rad), for a distance of 1 to its flats: a·tan ψ on each, geometry. */
export function alongFlats(sides: number, azimuth: number): number {
  const step = (2 * Math.PI) / sides
  const flat = Math.round(azimuth / step)
  return 2 * flat * Math.tan(step / 2) + Math.tan(azimuth - flat * step)
}

/** Length of the wall's outline at its middle height, mm. */
export function midPerimeterMm(wall: WallShape): number {
  const half = (wall.inMm + wall.outMm) / 4
  return wall.sides === 0 ? 2 * Math.PI * half : 2 * wall.sides * half * Math.tan(Math.PI / wall.sides)
}
