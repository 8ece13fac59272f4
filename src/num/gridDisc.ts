// The mean over a disc on a grid of densities, with partly covered cells weighted by the area covered, and the search
// for the place where it is greatest. Rows may differ in the width of their cells, and columns may close on
// themselves.
// Own code, because no npm package is known to us that averages over discs on a grid with rows of different width and a seam.

import { passWeak, sumRectangles, sumStill } from './boxSums.ts'

export interface DiscGrid {
  columns: number
  rows: number
  /** Height of a row, in the unit of the disc's radius. */
  rowSize: number
  /** Width of the cell at (row, column) is widths[row] · shares[column]. */
  widths: Float64Array
  /** Absent: all 1. */
  shares?: Float64Array
  /** True areas of the cells, where they are not quite width × rowSize: densities are by them. */
  areas?: Float64Array
  /** The last column neighbours the first. */
  wraps: boolean
}

/** Cells under a disc and the area of each that it covers. */
export interface DiscCells {
  index: number[]
  area: number[]
}

/** A place on the grid in cells from its corner: the centre of the first cell is (0.5, 0.5). */
export interface GridPlace {
  column: number
  row: number
}

export interface FoundPlace extends GridPlace {
  mean: number
}

/**
 * Grid of columns × rows square cells of side `cellSize` (any unit; radii are then in the same unit), not closed on
 * itself.
 */
export const makeEvenGrid = (columns: number, rows: number, cellSize: number): DiscGrid => ({
  columns,
  rows,
  rowSize: cellSize,
  widths: new Float64Array(rows).fill(cellSize),
  wraps: false,
})

const cellWidth = (grid: DiscGrid, row: number, column: number) =>
  grid.widths[row]! * (grid.shares ? grid.shares[column]! : 1)

/** Area of cell `at`, in the unit of the radius squared. */
export const cellArea = (grid: DiscGrid, at: number): number =>
  grid.areas?.[at] ?? cellWidth(grid, Math.floor(at / grid.columns), at % grid.columns) * grid.rowSize

const knownAreas = new WeakMap<DiscGrid, Float64Array>()

/** Areas of all cells, as `cellArea` has them; made once a grid, and not to be written into. */
export function cellAreas(grid: DiscGrid): Float64Array {
  const known = grid.areas ?? knownAreas.get(grid)
  if (known) return known
  const { columns, rows } = grid
  const areas = new Float64Array(columns * rows)
  for (let row = 0, at = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) areas[at++] = cellWidth(grid, row, column) * grid.rowSize
  knownAreas.set(grid, areas)
  return areas
}

/** Thickness of the strips in a search: so many to the disc. */
const STRIPS = 12

/**
 * Calls `cover` with cells and areas of them under the disc (a cell may come several times): the disc in thin strips along the
 * rows, exact along the strip. What lies beyond the edge of the grid is left out, so a mean is over the part that lies on it. A
 * disc smaller than the cell under it covers that cell.
 */
function forEachCoveredCell(
  grid: DiscGrid,
  place: GridPlace,
  radius: number,
  strips: number,
  cover: (index: number, area: number) => void,
): void {
  const centreRow = Math.min(grid.rows - 1, Math.max(0, Math.floor(place.row)))
  const centreColumn = wrapColumn(grid, Math.floor(place.column))
  const width = cellWidth(grid, centreRow, centreColumn)
  if (radius < Math.max(width, grid.rowSize) / 2) {
    cover(centreRow * grid.columns + centreColumn, width * grid.rowSize)
    return
  }
  const perRow = Math.max(1, Math.ceil((strips * grid.rowSize) / (2 * radius)))
  const thick = grid.rowSize / perRow
  const reach = radius / grid.rowSize
  const first = Math.max(0, Math.floor(place.row - reach))
  const last = Math.min(grid.rows - 1, Math.floor(place.row + reach))
  for (let row = first; row <= last; row++) {
    for (let k = 0; k < perRow; k++) {
      const y = (row - place.row) * grid.rowSize + (k + 0.5) * thick
      if (y > -radius && y < radius)
        coverStrip(grid, row, place.column, Math.sqrt(radius * radius - y * y), thick, cover)
    }
  }
}

/** A strip that reaches `half` to both sides of the centre, walked cell by cell. */
function coverStrip(
  grid: DiscGrid,
  row: number,
  centre: number,
  half: number,
  thick: number,
  cover: (index: number, area: number) => void,
): void {
  for (let sense = -1; sense <= 1; sense += 2) {
    let left = half
    let u = centre
    for (let step = 0; left > 0 && step <= grid.columns; step++) {
      const column = sense > 0 ? Math.floor(u) : Math.ceil(u) - 1
      if (!grid.wraps && (column < 0 || column >= grid.columns)) break
      const edge = sense > 0 ? column + 1 : column
      const at = wrapColumn(grid, column)
      const run = Math.min(left, Math.abs(edge - u) * cellWidth(grid, row, at))
      cover(row * grid.columns + at, run * thick)
      left -= run
      u = edge
    }
  }
}

/**
 * Cells under a disc and the area of each that it covers, by `strips` thin strips across the disc, exact along each
 * strip. What lies beyond the grid's edge is left out; a disc smaller than the cell under it covers that cell.
 * `place` in cells from the grid's corner, `radius` and areas in the grid's unit. Our choice, no source.
 */
export function findDiscCells(grid: DiscGrid, place: GridPlace, radius: number, strips = 25): DiscCells {
  const found = new Map<number, number>()
  forEachCoveredCell(grid, place, radius, strips, (at, area) => found.set(at, (found.get(at) ?? 0) + area))
  return { index: [...found.keys()], area: [...found.values()] }
}

/**
 * The same mean as over `findDiscCells`, without the list and without a call for each cell: a search needs it
 * hundreds of times.
 */
function meanOverDisc(grid: DiscGrid, place: GridPlace, radius: number, density: ArrayLike<number>): number {
  const { columns, rows, rowSize, widths, shares, wraps } = grid
  const centreRow = Math.min(rows - 1, Math.max(0, Math.floor(place.row)))
  const centreColumn = wrapColumn(grid, Math.floor(place.column))
  if (radius < Math.max(cellWidth(grid, centreRow, centreColumn), rowSize) / 2)
    return density[centreRow * columns + centreColumn]!
  const perRow = Math.max(1, Math.ceil((STRIPS * rowSize) / (2 * radius)))
  const thick = rowSize / perRow
  const reach = radius / rowSize
  const last = Math.min(rows - 1, Math.floor(place.row + reach))
  let sum = 0
  let covered = 0
  for (let row = Math.max(0, Math.floor(place.row - reach)); row <= last; row++) {
    const width = widths[row]!
    const from = row * columns
    for (let k = 0; k < perRow; k++) {
      const y = (row - place.row) * rowSize + (k + 0.5) * thick
      if (y <= -radius || y >= radius) continue
      const half = Math.sqrt(radius * radius - y * y)
      for (let sense = -1; sense <= 1; sense += 2) {
        let left = half
        let u = place.column
        for (let step = 0; left > 0 && step <= columns; step++) {
          const column = sense > 0 ? Math.floor(u) : Math.ceil(u) - 1
          if (!wraps && (column < 0 || column >= columns)) break
          const edge = sense > 0 ? column + 1 : column
          const at = wraps ? ((column % columns) + columns) % columns : column
          const run = Math.min(left, Math.abs(edge - u) * (shares ? width * shares[at]! : width))
          sum += run * density[from + at]!
          covered += run
          left -= run
          u = edge
        }
      }
    }
  }
  return covered > 0 ? sum / covered : 0
}

const wrapColumn = (grid: DiscGrid, column: number) =>
  grid.wraps ? ((column % grid.columns) + grid.columns) % grid.columns : Math.min(grid.columns - 1, Math.max(0, column))

/**
 * Area-weighted mean of a density over the cells, in the density's unit; `from` is where the grid starts in the
 * array. 0 where no area is covered.
 */
export function meanOver(cells: DiscCells, density: ArrayLike<number>, from = 0): number {
  let sum = 0
  let area = 0
  for (let i = 0; i < cells.index.length; i++) {
    sum += cells.area[i]! * density[from + cells.index[i]!]!
    area += cells.area[i]!
  }
  return area > 0 ? sum / area : 0
}

export interface Search {
  /** Cells whose centre may be a disc's centre; absent: all. */
  allowed?: (row: number, column: number) => boolean
  /** All allowed cells lie in these rows and columns (each from, to exclusive); absent: the whole grid. Not for grids that wrap. */
  within?: { rows: readonly [number, number]; columns: readonly [number, number] }
  /** No disc's centre lies further than so many cells from this place; a step beyond ends on that circle. Not for grids that wrap. */
  about?: GridPlace & { cells: number }
  /** Looks for the least mean instead. */
  least?: boolean
  /** How many places the coarse search hands on, 3 by default. */
  candidates?: number
  /** Nobody writes into the density any more: what the search before has summed of it is used again. */
  still?: boolean
}

/**
 * The place where the mean of `density` (columns · rows values, row-major) over a disc of `radius` is greatest
 * (`search.least`: smallest), with that mean. Place in cells from the corner; the grid's middle with mean 0 when no
 * place is allowed.
 * First all places alike by boxes of the disc's area, from sums over rectangles (common practice, no source); then
 * the best few by discs, moved by shrinking steps (our choice).
 */
export function findDisc(grid: DiscGrid, density: ArrayLike<number>, radius: number, search: Search = {}): FoundPlace {
  return findDiscs(grid, density, radius, search)[0] ?? { column: grid.columns / 2, row: grid.rows / 2, mean: 0 }
}

/** The same for the best few places that lie a disc apart before they are moved, the best one first; none when no place is allowed. */
export function findDiscs(
  grid: DiscGrid,
  density: ArrayLike<number>,
  radius: number,
  search: Search = {},
): FoundPlace[] {
  const sense = search.least ? -1 : 1
  return findCandidates(grid, density, radius, search)
    .map((start) => climb(grid, density, radius, start, search))
    .sort((a, b) => sense * (b.mean - a.mean))
}

const CANDIDATES = 3

/** Boxes of cells of about the disc's area: so many rows and columns either way, and so many columns that closed rows are summed beyond their seam. */
function boxesOf(grid: DiscGrid, radius: number) {
  const { columns, rows, widths } = grid
  const side = radius * Math.sqrt(Math.PI)
  const meanShare = grid.shares ? grid.shares.reduce((a, b) => a + b, 0) / columns : 1
  const halfColumns = (row: number) =>
    Math.min(columns >> 1, Math.max(0, Math.round((side / (widths[row]! * meanShare) - 1) / 2)))
  let pad = 0
  if (grid.wraps) for (let r = 0; r < rows; r++) pad = Math.max(pad, halfColumns(r))
  return { halfRows: Math.max(0, Math.round((side / grid.rowSize - 1) / 2)), halfColumns, pad }
}

function findCandidates(grid: DiscGrid, density: ArrayLike<number>, radius: number, search: Search): GridPlace[] {
  const { columns, rows } = grid
  const { halfRows, halfColumns, pad } = boxesOf(grid, radius)
  const [rowFrom, rowTo] = search.within?.rows ?? [0, rows]
  const [columnFrom, columnTo] = search.within?.columns ?? [0, columns]
  let halfMost = 0
  for (let r = rowFrom; r < rowTo; r++) halfMost = Math.max(halfMost, halfColumns(r))
  const sums = (search.still && !search.within ? sumStill : sumRectangles)(grid, density, pad, {
    rows: [Math.max(0, rowFrom - halfRows), Math.min(rows, rowTo + halfRows)],
    columns: [Math.max(0, columnFrom - halfMost), Math.min(columns + 2 * pad, columnTo + 2 * pad + halfMost)],
  })
  const wide = columns + 2 * pad + 1
  const sense = search.least ? -1 : 1
  const { about, candidates = CANDIDATES } = search
  const top: { row: number; column: number; value: number }[] = []
  /** Value of the last candidate, times the sense: sums are compared with it before they are divided. */
  let toBeat = Number.NEGATIVE_INFINITY
  for (let row = rowFrom; row < rowTo; row++) {
    const half = halfColumns(row)
    const below = Math.max(0, row - halfRows)
    const above = Math.min(rows, row + halfRows + 1)
    const [under, over, width] = [below * wide, above * wide, 2 * half + 1]
    /** Past the left edge of the last box that lies on the grid as a whole. */
    const end = Math.min(columnTo, columns + pad - half) + pad - half
    for (let column = columnFrom; column < columnTo; column++) {
      let left = column + pad - half
      if (left >= 0 && left < end) {
        left = passWeak(sums, { over, under, width, sense }, left, end, toBeat * ((above - below) * width))
        column = left - pad + half
        if (column >= columnTo) break
      }
      const right = Math.min(wide - 1, left + width)
      if (left < 0) left = 0
      const sum = sense * (sums[over + right]! - sums[under + right]! - sums[over + left]! + sums[under + left]!)
      const cells = (above - below) * (right - left)
      if (sum <= toBeat * cells) continue
      if (search.allowed && !search.allowed(row, column)) continue
      if (about && Math.hypot(row + 0.5 - about.row, column + 0.5 - about.column) > about.cells) continue
      const size = { rows: 2 * halfRows + 1, columns: width }
      insertCandidate(top, { row, column, value: sum / cells }, size, candidates)
      toBeat = top.length === candidates ? top[candidates - 1]!.value : Number.NEGATIVE_INFINITY
    }
  }
  return top.map(({ row, column }) => ({ row: row + 0.5, column: column + 0.5 }))
}

/** Keeps the best few candidates; of two neighbours only the better one stays. */
function insertCandidate<T extends { row: number; column: number; value: number }>(
  top: T[],
  next: T,
  { rows, columns }: { rows: number; columns: number },
  candidates: number,
): void {
  for (let i = 0; i < top.length; i++) {
    const t = top[i]!
    if (Math.abs(t.row - next.row) > rows || Math.abs(t.column - next.column) > columns) continue
    if (t.value >= next.value) return
    top.splice(i, 1)
    i--
  }
  top.push(next)
  top.sort((a, b) => b.value - a.value)
  if (top.length > candidates) top.pop()
}

/** Steps to the four neighbours: columns and rows, or x and y. */
export const COMPASS = [
  [1, 0],
  [-1, 0],
  [0, 1],
  [0, -1],
] as const

function climb(
  grid: DiscGrid,
  density: ArrayLike<number>,
  radius: number,
  start: GridPlace,
  search: Search,
): FoundPlace {
  const sense = search.least ? -1 : 1
  let best: FoundPlace = { ...start, mean: meanOverDisc(grid, start, radius, density) }
  // A disc smaller than the cell under it is the cell, whose middle lies about that place.
  if (search.about && radius < grid.rowSize / 2) return best
  for (let step = 1; step > 0.1; step /= 2) {
    for (let round = 0; round < 8; round++) {
      const before = best
      for (const [dc, dr] of COMPASS) {
        const at = nearestAbout(search, { column: before.column + step * dc, row: before.row + step * dr })
        if (!isOnGrid(grid, at)) continue
        if (search.allowed && !search.allowed(Math.floor(at.row), wrapColumn(grid, Math.floor(at.column)))) continue
        const mean = meanOverDisc(grid, at, radius, density)
        if (sense * mean > sense * best.mean) best = { ...at, mean }
      }
      if (best === before) break
    }
  }
  if (grid.wraps) best.column = ((best.column % grid.columns) + grid.columns) % grid.columns
  return best
}

/** Along its edge the extreme of a round part is found by steps that end there: without, a step across it is no step at all. */
function nearestAbout({ about }: Search, at: GridPlace): GridPlace {
  if (!about) return at
  const [dc, dr] = [at.column - about.column, at.row - about.row]
  const far = Math.hypot(dc, dr)
  if (far <= about.cells) return at
  return { column: about.column + (dc / far) * about.cells, row: about.row + (dr / far) * about.cells }
}

const isOnGrid = (grid: DiscGrid, { column, row }: GridPlace) =>
  row >= 0 && row < grid.rows && (grid.wraps || (column >= 0 && column < grid.columns))
