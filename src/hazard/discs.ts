// Hot spots on the parts: the greatest irradiance over a disc of stated size on the maps of lens, wall and face.

import {
  type DiscCells,
  type DiscGrid,
  type FoundPlace,
  findDisc,
  findDiscCells,
  type GridPlace,
  makeEvenGrid,
} from '../num/gridDisc.ts'
import { T95 } from '../num/stats.ts'
import { type Folded, fold, meanOf } from '../run/batches.ts'
import type { Figure, HotSpot } from '../run/figure.ts'
import { wattsPerWeight } from '../run/scale.ts'
import { BATCHES, type Run } from '../run/types.ts'
import { wallGrid, wallRadiusMm } from '../run/wall.ts'

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
 * Noise always makes some disc look hot, so a place found in one half of the batches is measured in the other; the
 * hotter of the two counts. When both halves find the same place the spot is real and all batches measure it.
 * `quick`: one half finds, the other measures. Common practice, no source.
 */
function findHottestDisc(run: Run, grid: DiscGrid, from: number, discMm: number, quick = false): DiscSpot | null {
  const folded = fold(run)
  const radius = discMm / 2
  if (quick) return findDiscQuickly(folded, grid, from, radius)
  const found = folded.halves.map((half) => findDisc(grid, densityOf(grid, half.data, from), radius))
  const [a, b] = found as [FoundPlace, FoundPlace]
  if (a.mean <= 0 && b.mean <= 0) return null
  const disc = effectiveDiscMm(grid, a, discMm)
  if (isSamePlace(grid, a, b, radius)) {
    const best = findDisc(grid, densityOf(grid, folded.all.data, from), radius)
    return { ...measure(folded, grid, from, best, radius, () => true), place: best, discMm: disc }
  }
  const crossed = [
    { ...measure(folded, grid, from, a, radius, (batch) => batch % 2 === 1), place: a, discMm: disc },
    { ...measure(folded, grid, from, b, radius, (batch) => batch % 2 === 0), place: b, discMm: disc },
  ] as const
  return crossed[0].value >= crossed[1].value ? crossed[0] : crossed[1]
}

/** Null only where neither half has any light, as in the full search. */
function findDiscQuickly(folded: Folded, grid: DiscGrid, from: number, radius: number): DiscSpot | null {
  for (const [parity, half] of folded.halves.entries()) {
    const place = findDisc(grid, densityOf(grid, half.data, from), radius)
    if (!(place.mean > 0)) continue
    const measured = measure(folded, grid, from, place, radius, (batch) => batch % 2 !== parity)
    return { ...measured, place, discMm: effectiveDiscMm(grid, place, 2 * radius) }
  }
  return null
}

function effectiveDiscMm(grid: DiscGrid, place: GridPlace, discMm: number): number {
  const cell = grid.rowSize * grid.widths[Math.floor(place.row)]!
  return Math.max(discMm, Math.sqrt((4 * cell) / Math.PI))
}

/** One search reads it at a time. */
let scratch = new Float64Array(0)

/** W of weight per mm², cell by cell, unscaled; valid until the next call. */
function densityOf(grid: DiscGrid, data: Float64Array, from: number): Float64Array {
  const { columns, rows, widths, shares, rowSize } = grid
  if (scratch.length < columns * rows) scratch = new Float64Array(columns * rows)
  const density = scratch
  for (let row = 0; row < rows; row++) {
    const perArea = 1 / (widths[row]! * rowSize)
    for (let column = 0, i = row * columns; column < columns; column++, i++)
      density[i] = data[from + i]! * perArea * (shares ? 1 / shares[column]! : 1)
  }
  return density
}

function isSamePlace(grid: DiscGrid, a: GridPlace, b: GridPlace, radius: number): boolean {
  const width = grid.widths[Math.floor(a.row)]!
  let columns = Math.abs(a.column - b.column)
  if (grid.wraps) columns = Math.min(columns, grid.columns - columns)
  return Math.hypot(columns * width, (a.row - b.row) * grid.rowSize) <= Math.max(radius, width, grid.rowSize)
}

function measure(
  folded: Folded,
  grid: DiscGrid,
  from: number,
  place: GridPlace,
  radius: number,
  which: (batch: number) => boolean,
): Figure {
  const cells: DiscCells = findDiscCells(grid, place, radius)
  const area = cells.area.reduce((sum, a) => sum + a, 0)
  const values: number[] = []
  for (const [b, tally] of folded.run.tallies.entries()) {
    if (!which(b)) continue
    let watts = 0
    for (let i = 0; i < cells.index.length; i++) {
      const at = cells.index[i]!
      const width = grid.widths[Math.floor(at / grid.columns)]! * (grid.shares ? grid.shares[at % grid.columns]! : 1)
      watts += (tally[from + at]! * cells.area[i]!) / (width * grid.rowSize)
    }
    values.push((watts * wattsPerWeight(folded.run, tally) * KW_M2) / area)
  }
  const { value, se } = meanOf(values)
  // Batches that agree by chance, or are empty, make no figure certain: the error is at least one ray's watts.
  const oneRay = (folded.run.emittedW * KW_M2 * BATCHES) / (folded.run.rays * values.length * area)
  return { value, se: Math.max(se, oneRay) }
}

/**
 * The hottest disc of `discMm` on the lens's front plane: kW/m², error, place in the lamp's frame (mm); null without
 * lens or light.
 */
export function readLensSpot(run: Run, discMm: number, quick = false): HotSpot | null {
  const { lens } = run.shape
  if (!lens) return null
  const cell = (2 * lens.halfMm) / lens.n
  const spot = findHottestDisc(run, makeEvenGrid(lens.n, lens.n, cell), fold(run).layout.lensW, discMm, quick)
  return spot && placeOnSquare(spot, cell, lens.halfMm, lens.zMm)
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

/** The hottest disc on the tunnel's wall; null without tunnel or light. Units as for the lens. */
export function readWallSpot(run: Run, discMm: number, quick = false): HotSpot | null {
  const { wall } = run.shape
  if (!wall) return null
  const spot = findHottestDisc(run, wallGrid(wall), fold(run).layout.wallW, discMm, quick)
  if (!spot) return null
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
