// The wall of an assembled tunnel as a grid: rows of equal length along the unrolled profile, steps included, with the true area of each cell.
import type { DiscGrid } from '../num/gridDisc.ts'
import type { WallPart, WallProfile } from './types.ts'
import { alongFlats, type WallShape } from './wall.ts'

/** A wall whose shape has a profile. */
export type ProfiledWall = WallShape & { profile: WallProfile }

/** Whether the tunnel is an assembled one. */
export const isProfiled = (wall: WallShape): wall is ProfiledWall => wall.profile !== undefined

const between = (a: number, b: number, t: number) => a + (b - a) * t

/** The part at a share of the unrolled length, 0 to 1, and how far along it, 0 to 1. */
function partAt({ parts }: WallProfile, share: number): { part: WallPart; t: number } {
  const part = parts.find((q) => share < q.toShare) ?? parts.at(-1)
  if (!part) throw new Error('wall: a profile without parts')
  return { part, t: Math.min(1, (share - part.fromShare) / (part.toShare - part.fromShare)) }
}

/** Half sizes of the section there, mm. */
const halvesAt = (part: WallPart, t: number) => ({
  x: between(part.inMm, part.outMm, t) / 2,
  y: between(part.inHeightMm, part.outHeightMm, t) / 2,
})

/** Place in the lamp, mm, of a point of the grid: `row` and `column` in cells from its corner. Inverse of shareRound in src/optics/stretch.ts. */
export function profilePlace(
  wall: ProfiledWall,
  row: number,
  column: number,
): { xMm: number; yMm: number; zMm: number } {
  const { part, t } = partAt(wall.profile, row / wall.nAlong)
  const half = halvesAt(part, t)
  const zMm = between(part.zInMm, part.zOutMm, t)
  const share = column / wall.nRound
  if (wall.profile.rectangle) {
    const side = Math.round(4 * share) % 4
    const along = 2 * (4 * share - Math.round(4 * share))
    const [u, v] = (
      [
        [1, along],
        [-along, 1],
        [-1, -along],
        [along, -1],
      ] as const
    )[side] ?? [1, along]
    return { xMm: u * half.x, yMm: v * half.y, zMm }
  }
  const azimuth = 2 * Math.PI * share
  const step = (2 * Math.PI) / wall.sides
  const r = wall.sides === 0 ? half.x : half.x / Math.cos(azimuth - step * Math.round(azimuth / step))
  return { xMm: r * Math.cos(azimuth), yMm: r * Math.sin(azimuth), zMm }
}

/** The grid, sizes in mm, closed on itself; `areas` are exact, widths the mean of the way round. */
export function profileGrid(wall: ProfiledWall): DiscGrid {
  const key = JSON.stringify(wall)
  if (known?.key !== key) known = { key, grid: layGrid(wall) }
  return known.grid
}

/** Of one wall: every sheet asks for it. Not to be written into. */
let known: { key: string; grid: DiscGrid } | null = null

function layGrid(wall: ProfiledWall): DiscGrid {
  const { nAlong, nRound, profile } = wall
  const areas = new Float64Array(nAlong * nRound)
  const widths = new Float64Array(nAlong)
  for (let row = 0; row < nAlong; row++) {
    const { part, t } = partAt(profile, (row + 0.5) / nAlong)
    widths[row] = perimeterMm(wall, halvesAt(part, t)) / nRound
    for (const q of profile.parts) {
      const from = Math.max(q.fromShare, row / nAlong)
      const to = Math.min(q.toShare, (row + 1) / nAlong)
      if (!(to > from)) continue
      const long = q.toShare - q.fromShare
      addAreas(
        areas.subarray(row * nRound, (row + 1) * nRound),
        wall,
        q,
        (from - q.fromShare) / long,
        (to - q.fromShare) / long,
      )
    }
  }
  return { columns: nRound, rows: nAlong, rowSize: profile.lengthMm / nAlong, widths, areas, wraps: true }
}

/** Adds the area, mm², of a part between two shares of it to the cells round it: by its section half way, exact for flats and cones. */
function addAreas(into: Float64Array, wall: ProfiledWall, part: WallPart, from: number, to: number): void {
  const half = halvesAt(part, (from + to) / 2)
  const dz = (part.zOutMm - part.zInMm) * (to - from)
  const alongX = Math.hypot(dz, ((part.outMm - part.inMm) / 2) * (to - from))
  const alongY = Math.hypot(dz, ((part.outHeightMm - part.inHeightMm) / 2) * (to - from))
  const n = into.length
  const turn = (2 * Math.PI) / n
  for (let column = 0; column < n; column++) {
    if (wall.profile.rectangle) {
      const side = Math.round((4 * (column + 0.5)) / n) % 4
      into[column]! += side % 2 === 0 ? (alongX * 8 * half.y) / n : (alongY * 8 * half.x) / n
    } else {
      const share =
        wall.sides === 0 ? turn : alongFlats(wall.sides, (column + 1) * turn) - alongFlats(wall.sides, column * turn)
      into[column]! += alongX * half.x * share
    }
  }
}

function perimeterMm(wall: ProfiledWall, half: { x: number; y: number }): number {
  if (wall.profile.rectangle) return 4 * (half.x + half.y)
  return wall.sides === 0 ? 2 * Math.PI * half.x : 2 * wall.sides * half.x * Math.tan(Math.PI / wall.sides)
}

/** Length of the outline half way along the profile, mm. */
export function midProfilePerimeterMm(wall: ProfiledWall): number {
  const { part, t } = partAt(wall.profile, 0.5)
  return perimeterMm(wall, halvesAt(part, t))
}
