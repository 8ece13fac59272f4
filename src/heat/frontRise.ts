// How much hotter than the plate's own field its front is under and about the boards: the difference of temperature through the
// thickness, and what cells wider than a board smear out. Both follow from the heat alone, so they are worked out once.
// Through the thickness: cosine modes of a slab whose back is insulated, heat q in at the front (Carslaw and Jaeger, § 3.3 and § 14;
// derived): excess of the front over the mean = Σ 2 (k n²π²/t − k t ∇²)⁻¹ q, each mode a plate of its own film k n²π²/t.
// Taken as settled at once, which is the hotter side.
import { makePlate, type Plate, type PlateBoard, type PlateSize } from './plate.ts'

export interface FrontRise {
  /** At the emitters of the board of a row, mean and hottest, by the heat of the board of a column: K/W, row-major. */
  meanKW: Float64Array
  hotKW: Float64Array
  /** At each cell, by the heat of each board, K/W. */
  faceKW: Float64Array[]
}

type Patch = Plate['boards'][number]

/** Modes that spread in the plane; the rest, of a range under a twelfth of the thickness, stay where their heat is. */
const MODES = 3
/** Fine cells across a board, the window about it in coarse cells, and the finest share of a cell. */
const ACROSS_BOARD = 5
const WINDOW = 7
const MOST_SPLIT = 12
/** Film of the windows, W/m²K: what they differ by hardly depends on it. */
const WINDOW_FILM = 20

/**
 * Rises over the plate's field, K/W, of boards on a plate of `size`; `leastMm`: across the smallest board. Exact for heat
 * that enters evenly; finite volumes of a fifth of a board else (common practice, no source).
 */
export function makeFrontRise(
  size: PlateSize,
  plate: Plate,
  boards: readonly PlateBoard[],
  leastMm: number,
): FrontRise {
  const n = boards.length
  const split = Math.min(MOST_SPLIT, Math.ceil((ACROSS_BOARD * plate.cellMm) / leastMm - 1e-9))
  const smeared = split > 1 ? smearedKW(size, plate, boards, split) : null
  // Heat that leaves by the back lifts the front by t/6k more over all of the plate.
  const evenKW = size.thicknessM / (6 * size.conductivityWmK * plate.totalM2)
  const faceKW = plate.boards.map((patch) => throughKW(size, plate, patch).map((x) => x + evenKW))
  const rise: FrontRise = { meanKW: new Float64Array(n * n), hotKW: new Float64Array(n * n), faceKW }
  for (let to = 0; to < n; to++) {
    for (const [from, field] of faceKW.entries()) {
      const { mean, hot } = readSites(plate, to, field)
      const own = from === to ? smeared?.[to] : undefined
      rise.meanKW[to * n + from] = mean + (own?.mean ?? 0)
      rise.hotKW[to * n + from] = hot + (own?.hot ?? 0)
    }
  }
  return rise
}

/** Excess of the front over the mean through the thickness, K at each cell, for 1 W of one board. */
function throughKW({ thicknessM: t, conductivityWmK: k }: PlateSize, plate: Plate, patch: Patch): Float64Array {
  const heat = heatOf(plate, patch)
  const sum = new Float64Array(heat.length)
  let rest = Math.PI ** 2 / 6
  for (let mode = 1; mode <= MODES; mode++) {
    rest -= 1 / mode ** 2
    const x = heat.slice()
    plate.solve((k * (mode * Math.PI) ** 2) / t, x)
    for (let i = 0; i < sum.length; i++) sum[i]! += 2 * x[i]!
  }
  const tail = (2 * rest * t) / (Math.PI ** 2 * k)
  for (let i = 0; i < sum.length; i++) sum[i]! += (tail * heat[i]!) / plate.areaM2[i]!
  return sum
}

function heatOf(plate: Plate, { cells, shares }: Patch): Float64Array {
  const heat = new Float64Array(plate.areaM2.length)
  for (const [i, cell] of cells.entries()) heat[cell] = shares[i] ?? 0
  return heat
}

function readSites(plate: Plate, board: number, field: Float64Array): { mean: number; hot: number } {
  const values = (plate.sites[board] ?? []).map(({ cells, shares }) =>
    cells.reduce((sum, cell, i) => sum + (shares[i] ?? 0) * (field[cell] ?? 0), 0),
  )
  const mean = values.reduce((a, b) => a + b, 0) / Math.max(1, values.length)
  return { mean, hot: values.reduce((a, b) => Math.max(a, b), mean) }
}

/** What coarse cells leave out at a board's emitters: windows of the same plate, coarse and fine, about each board. */
function smearedKW(size: PlateSize, plate: Plate, boards: readonly PlateBoard[], split: number) {
  const { cellMm } = plate
  const toCell = (mm: number, fromMm: number) => mm - fromMm - (Math.floor((mm - fromMm) / cellMm) + 0.5) * cellMm
  const moved = boards.map((b): PlateBoard => {
    const [xMm, yMm] = [toCell(b.xMm, plate.fromXMm), toCell(b.yMm, plate.fromYMm)]
    return { ...b, xMm, yMm, sites: b.sites.map((s) => ({ xMm: s.xMm - b.xMm + xMm, yMm: s.yMm - b.yMm + yMm })) }
  })
  const window: PlateSize = { ...size, face: { shape: 'square', sizeMm: WINDOW * cellMm } }
  const readIn = (cell: number) => {
    const grid = makePlate(window, moved, cell)
    return grid.boards.map((patch, b) => {
      const field = throughKW(size, grid, patch)
      const plane = heatOf(grid, patch)
      grid.solve(WINDOW_FILM, plane)
      return readSites(
        grid,
        b,
        field.map((v, i) => v + (plane[i] ?? 0)),
      )
    })
  }
  const fine = readIn(cellMm / split)
  return readIn(cellMm).map((coarse, b) => ({
    mean: Math.max(0, (fine[b]?.mean ?? 0) - coarse.mean),
    hot: Math.max(0, (fine[b]?.hot ?? 0) - coarse.hot),
  }))
}
