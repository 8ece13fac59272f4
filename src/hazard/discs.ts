// Hot spots on the parts: the greatest irradiance over a disc of stated size on the maps of lens, wall and face.

import { cellArea, type DiscGrid, findDisc, findDiscCells, type GridPlace, makeEvenGrid } from '../num/gridDisc.ts'
import { T95 } from '../num/stats.ts'
import { type Folded, fold, meanOf, type Tally } from '../run/batches.ts'
import { betweenExtremes } from '../run/extreme.ts'
import type { Figure, HotSpot } from '../run/figure.ts'
import { wattsPerWeight } from '../run/scale.ts'
import { BATCHES, type MapFrame, type Run, type TallyShape } from '../run/types.ts'
import { wallGrid, wallRadiusMm } from '../run/wall.ts'
import { isProfiled, profileGrid, profilePlace } from '../run/wallProfile.ts'

/** W/mm² in kW/m². */
const KW_M2 = 1000

interface DiscSpot extends Figure {
  place: GridPlace
  /** The disc that was averaged over: the wanted one, or the disc of a cell's area where cells are larger. */
  discMm: number
}

/**
 * The hottest disc (diameter mm) on one map of a run, kW/m² with its error; the map's weights start at tally[from].
 * Null: no light there at all.
 * Noise always makes some disc look hot: a place found in one half of the batches and measured in the other falls short of the hottest, the
 * hottest of all batches by themselves goes beyond it (`betweenExtremes`). `quick`: the same of one half alone.
 */
function findHottestDisc(run: Run, grid: DiscGrid, from: number, discMm: number, quick = false): DiscSpot | null {
  const folded = fold(run)
  const radius = discMm / 2
  const ownOf = (tally: Tally) => findDisc(grid, densityOf(grid, tally.data, from), radius)
  const cross = (places: readonly [GridPlace | null, GridPlace | null]) => measure(folded, grid, from, places, radius)
  const spot = (split: Figure, place: GridPlace, own: Figure): DiscSpot => ({
    ...betweenExtremes(split, Math.max(split.value, own.value)),
    place,
    discMm: effectiveDiscMm(grid, place, discMm),
  })
  const [even, odd] = folded.halves
  const first = ownOf(even)
  if (quick && first.mean > 0) return spot(cross([null, first]), first, cross([first, null]))
  const second = ownOf(odd)
  if (quick && second.mean > 0) return spot(cross([second, null]), second, cross([null, second]))
  if (!(first.mean > 0) && !(second.mean > 0)) return null
  const best = ownOf(folded.all)
  return spot(cross([second, first]), best, cross([best, best]))
}

function effectiveDiscMm(grid: DiscGrid, place: GridPlace, discMm: number): number {
  const row = Math.floor(place.row)
  const column = Math.floor(place.column) % grid.columns
  const cell = grid.areas ? cellArea(grid, row * grid.columns + column) : grid.rowSize * grid.widths[row]!
  return Math.max(discMm, Math.sqrt((4 * cell) / Math.PI))
}

/** One search reads it at a time. */
let scratch = new Float64Array(0)

/** W of weight per mm², cell by cell, unscaled; valid until the next call. */
function densityOf(grid: DiscGrid, data: Float64Array, from: number): Float64Array {
  const { columns, rows, widths, shares, rowSize } = grid
  if (scratch.length < columns * rows) scratch = new Float64Array(columns * rows)
  const density = scratch
  if (grid.areas) {
    for (const [i, area] of grid.areas.entries()) density[i] = area > 0 ? data[from + i]! / area : 0
    return density
  }
  for (let row = 0; row < rows; row++) {
    const perArea = 1 / (widths[row]! * rowSize)
    for (let column = 0, i = row * columns; column < columns; column++, i++)
      density[i] = data[from + i]! * perArea * (shares ? 1 / shares[column]! : 1)
  }
  return density
}

/** kW/m² with its error: the even batches at the first place, the odd ones at the second; null leaves them out. */
function measure(
  folded: Folded,
  grid: DiscGrid,
  from: number,
  places: readonly [GridPlace | null, GridPlace | null],
  radius: number,
): Figure {
  const discs = places.map((place) => place && findDiscCells(grid, place, radius))
  const areas = discs.map((cells) => cells?.area.reduce((sum, a) => sum + a, 0) ?? 0)
  const values: number[] = []
  for (const [b, tally] of folded.run.tallies.entries()) {
    const cells = discs[b % 2]
    if (!cells) continue
    let watts = 0
    for (let i = 0; i < cells.index.length; i++) {
      const at = cells.index[i]!
      const area = cellArea(grid, at)
      if (area > 0) watts += (tally[from + at]! * cells.area[i]!) / area
    }
    values.push((watts * wattsPerWeight(folded.run, tally) * KW_M2) / areas[b % 2]!)
  }
  const { value, se } = meanOf(values)
  // Batches that agree by chance, or are empty, make no figure certain: the error is at least one ray's watts.
  const oneRay =
    (folded.run.emittedW * KW_M2 * BATCHES) /
    (folded.run.rays * values.length * Math.min(...areas.filter((a) => a > 0)))
  return { value, se: Math.max(se, oneRay) }
}

/**
 * The hottest disc of `discMm` on the lens's front plane: kW/m², error, place in the lamp's frame (mm); null without
 * lens or light.
 */
export function readLensSpot(run: Run, discMm: number, quick = false): HotSpot | null {
  const { lens } = run.shape
  return lens && readPieceSpot(run, lens, fold(run).layout.lensW, discMm, quick)
}

/** The same on each further element (`TallyShape.elements`), light from both sides of it together; null: no light on it. */
export function readElementSpots(run: Run, discMm: number, quick = false): (HotSpot | null)[] {
  const { elements } = run.shape
  if (!elements) return []
  const { n, maps } = elements
  const { elementsW } = fold(run).layout
  return maps.map((map, i) => readPieceSpot(run, { n, ...map }, elementsW + i * n * n, discMm, quick))
}

function readPieceSpot(
  run: Run,
  { n, halfMm, zMm, frame }: NonNullable<TallyShape['lens']>,
  from: number,
  discMm: number,
  quick: boolean,
): HotSpot | null {
  const cell = (2 * halfMm) / n
  const spot = findHottestDisc(run, makeEvenGrid(n, n, cell), from, discMm, quick)
  const flat = spot && placeOnSquare(spot, cell, halfMm, zMm)
  return flat && frame ? { ...flat, ...placeInFrame(frame, flat) } : flat
}

/** The hottest disc of returned light on the plane z = 0; null without light. Units as for the lens. */
export function readFaceSpot(run: Run, discMm: number, quick = false): HotSpot | null {
  const { face } = run.shape
  const cell = (2 * face.halfMm) / face.n
  const spot = findHottestDisc(run, makeEvenGrid(face.n, face.n, cell), fold(run).layout.faceW, discMm, quick)
  return spot && placeOnSquare(spot, cell, face.halfMm, 0)
}

const placeOnSquare = (spot: DiscSpot, cell: number, halfMm: number, zMm: number): HotSpot => ({
  kWm2: spot.value,
  se: spot.se,
  xMm: spot.place.column * cell - halfMm,
  yMm: spot.place.row * cell - halfMm,
  zMm,
  discMm: spot.discMm,
})

/** From the plane of a lens's map into the lamp, mm: lamp from frame, then its middle. */
function placeInFrame({ originMm: [x, y, z], rotation }: MapFrame, { xMm, yMm }: { xMm: number; yMm: number }) {
  const along = (row: number) => (rotation[3 * row] ?? 0) * xMm + (rotation[3 * row + 1] ?? 0) * yMm
  return { xMm: x + along(0), yMm: y + along(1), zMm: z + along(2) }
}

/** The hottest disc on the tunnel's wall; null without tunnel or light. Units as for the lens. */
export function readWallSpot(run: Run, discMm: number, quick = false): HotSpot | null {
  const { wall } = run.shape
  if (!wall) return null
  const grid = isProfiled(wall) ? profileGrid(wall) : wallGrid(wall)
  const spot = findHottestDisc(run, grid, fold(run).layout.wallW, discMm, quick)
  if (!spot) return null
  if (isProfiled(wall))
    return {
      kWm2: spot.value,
      se: spot.se,
      ...profilePlace(wall, spot.place.row, spot.place.column),
      discMm: spot.discMm,
    }
  const zMm = wall.zInMm + (spot.place.row / wall.nAlong) * (wall.zOutMm - wall.zInMm)
  const azimuth = (spot.place.column / wall.nRound) * 2 * Math.PI
  const r = wallRadiusMm(wall, zMm, azimuth)
  return {
    kWm2: spot.value,
    se: spot.se,
    xMm: r * Math.cos(azimuth),
    yMm: r * Math.sin(azimuth),
    zMm,
    discMm: spot.discMm,
  }
}

/** The upper end of ± at 95 %, kW/m²: what hazards are judged by (our choice: the hot side). */
export const upperKWm2 = (spot: { kWm2: number; se: number }): number => spot.kWm2 + T95 * spot.se
