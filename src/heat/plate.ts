// The face plate as finite volumes: square cells cut by the outline, so that area, edges and sources are those of the
// real plate and not of a staircase. Heat flows in the plane; through its thickness the temperature is even. (K + s
// A) T = b is solved by a skyline factor, cached for each s: a run's time steps are chosen so that few differ.
import { type FaceSize, faceBox, isOnFace } from '../lamp/facePlate.ts'
import { lampFromBoard } from '../lamp/place.ts'
import type { BoardType } from '../lamp/schema.ts'
import { factorize, makeSkyline, type Skyline, solveFactored } from '../num/skyline.ts'
import { boardReachMm, isOnBoard } from './face.ts'

export interface PlateBoard {
  outline: BoardType['outline']
  xMm: number
  yMm: number
  turnDeg: number
  /** In the lamp's frame. */
  sites: readonly { xMm: number; yMm: number }[]
}

/** Shares of cells that sum to 1. */
interface Patch {
  cells: Int32Array
  shares: Float64Array
}

export interface Plate {
  columns: number
  rows: number
  cellMm: number
  /** Low corner of the grid. */
  fromXMm: number
  fromYMm: number
  /** Cell of each place of the grid, row-major from low y; −1 off the plate. */
  cellAt: Int32Array
  /** m² of each cell. */
  areaM2: Float64Array
  totalM2: number
  /** What the plate itself stores, J/m²K. */
  storedJm2K: number
  boards: Patch[]
  /** Of each board's emitters. */
  sites: Patch[][]
  /** x of (K + shift · A) x = x, in place; shift in W/m²K. */
  solve(shift: number, x: Float64Array): void
  /** K x, W: what flows out of each cell to its neighbours. */
  outflow(x: Float64Array): Float64Array
}

export interface PlateSize {
  face: FaceSize
  thicknessM: number
  conductivityWmK: number
  densityKgM3: number
  heatJkgK: number
}

/** Points a side of a cell by which areas are counted. */
const FINE = 8
const MOST_FACTORS = 48

/**
 * The plate as cells about `cellMm` wide, with the patches of cells under boards and emitters; `size` in SI units but
 * the face in mm. Finite volumes: common practice, no source.
 * `solve` throws where the shift makes the matrix no longer positive definite (a shift of 0 or less).
 */
export function makePlate(size: PlateSize, boards: readonly PlateBoard[], cellMm: number): Plate {
  const { fromX, toX, fromY, toY } = faceBox(size.face)
  const columns = Math.max(2, Math.ceil((toX - fromX) / cellMm - 1e-9))
  const rows = Math.max(2, Math.ceil((toY - fromY) / cellMm - 1e-9))
  const grid = {
    ...{ columns, rows, cellMm },
    fromXMm: (fromX + toX - columns * cellMm) / 2,
    fromYMm: (fromY + toY - rows * cellMm) / 2,
  }
  const { cellAt, areaM2 } = cutCells(size.face, grid)
  const sheet = size.thicknessM * size.conductivityWmK
  const k = assembleConductances(size.face, grid, cellAt, areaM2.length, sheet)
  const totalM2 = areaM2.reduce((sum, a) => sum + a, 0)
  const patches = boards.map((b) => makeBoardPatch(grid, cellAt, b))
  return {
    ...grid,
    cellAt,
    areaM2,
    totalM2,
    storedJm2K: size.thicknessM * size.densityKgM3 * size.heatJkgK,
    boards: patches,
    sites: boards.map((b) => b.sites.map((s) => makeSitePatch(grid, cellAt, s.xMm, s.yMm))),
    solve: makeSolver(k, areaM2),
    outflow: (x) => multiply(k, x),
  }
}

type Grid = Pick<Plate, 'columns' | 'rows' | 'cellMm' | 'fromXMm' | 'fromYMm'>

function cutCells(face: FaceSize, g: Grid) {
  const cellAt = new Int32Array(g.columns * g.rows).fill(-1)
  const areas: number[] = []
  const full = (g.cellMm / 1000) ** 2
  for (let row = 0; row < g.rows; row++) {
    for (let column = 0; column < g.columns; column++) {
      let inside = 0
      for (let v = 0; v < FINE; v++) {
        const y = g.fromYMm + (row + (v + 0.5) / FINE) * g.cellMm
        for (let u = 0; u < FINE; u++) {
          if (isOnFace(face, g.fromXMm + (column + (u + 0.5) / FINE) * g.cellMm, y)) inside++
        }
      }
      // A sliver of a cell belongs to its neighbour; the plate is a little smaller for it, which is the hotter side.
      if (inside < FINE) continue
      cellAt[row * g.columns + column] = areas.length
      areas.push((full * inside) / FINE ** 2)
    }
  }
  return { cellAt, areaM2: Float64Array.from(areas) }
}

/** The Laplacian of the plate, W/K: k t × (open share of the common edge). */
function assembleConductances(face: FaceSize, g: Grid, cellAt: Int32Array, n: number, sheetWK: number): Skyline {
  const pairs: [number, number, number][] = []
  const first = Int32Array.from({ length: n }, (_, i) => i)
  const join = (a: number, b: number, share: number) => {
    if (b < 0 || share === 0) return
    pairs.push([Math.max(a, b), Math.min(a, b), share * sheetWK])
    first[Math.max(a, b)] = Math.min(first[Math.max(a, b)]!, a, b)
  }
  for (let row = 0; row < g.rows; row++) {
    for (let column = 0; column < g.columns; column++) {
      const here = cellAt[row * g.columns + column]!
      if (here < 0) continue
      const x = g.fromXMm + column * g.cellMm
      const y = g.fromYMm + row * g.cellMm
      const open = (at: (t: number) => [number, number]) => {
        let inside = 0
        for (let i = 0; i < 2 * FINE; i++) if (isOnFace(face, ...at(((i + 0.5) / (2 * FINE)) * g.cellMm))) inside++
        return inside / (2 * FINE)
      }
      if (column > 0)
        join(
          here,
          cellAt[row * g.columns + column - 1]!,
          open((t) => [x, y + t]),
        )
      if (row > 0)
        join(
          here,
          cellAt[(row - 1) * g.columns + column]!,
          open((t) => [x + t, y]),
        )
    }
  }
  const k = makeSkyline(first)
  for (const [i, j, wK] of pairs) {
    k.values[k.diagonal[i]! - i + j]! -= wK
    k.values[k.diagonal[i]!]! += wK
    k.values[k.diagonal[j]!]! += wK
  }
  return k
}

function makeSolver(k: Skyline, areaM2: Float64Array): Plate['solve'] {
  const factors = new Map<number, Skyline>()
  return (shift, x) => {
    let l = factors.get(shift)
    if (!l) {
      const values = k.values.slice()
      for (let i = 0; i < areaM2.length; i++) values[k.diagonal[i]!]! += shift * areaM2[i]!
      l = factorize({ ...k, values })
      if (factors.size >= MOST_FACTORS) factors.delete(factors.keys().next().value!)
      factors.set(shift, l)
    }
    solveFactored(l, x)
  }
}

function multiply({ first, diagonal, values }: Skyline, x: Float64Array): Float64Array {
  const out = new Float64Array(x.length)
  for (let i = 0; i < x.length; i++) {
    const row = diagonal[i]! - i
    out[i]! += values[diagonal[i]!]! * x[i]!
    for (let j = first[i]!; j < i; j++) {
      out[i]! += values[row + j]! * x[j]!
      out[j]! += values[row + j]! * x[i]!
    }
  }
  return out
}

/** A board's heat goes evenly into the plate under it; the heat of a part beyond the plate's edge goes into the rest. */
function makeBoardPatch(g: Grid, cellAt: Int32Array, b: PlateBoard): Patch {
  const reach = boardReachMm(b.outline)
  const weights = new Map<number, number>()
  const turn = (b.turnDeg * Math.PI) / 180
  const [c, s] = [Math.cos(turn), Math.sin(turn)]
  const step = g.cellMm / FINE
  const [i0, i1] = [Math.floor((b.xMm - reach - g.fromXMm) / step), Math.ceil((b.xMm + reach - g.fromXMm) / step)]
  const [j0, j1] = [Math.floor((b.yMm - reach - g.fromYMm) / step), Math.ceil((b.yMm + reach - g.fromYMm) / step)]
  for (let j = Math.max(0, j0); j < Math.min(j1, g.rows * FINE); j++) {
    const dy = g.fromYMm + (j + 0.5) * step - b.yMm
    for (let i = Math.max(0, i0); i < Math.min(i1, g.columns * FINE); i++) {
      const dx = g.fromXMm + (i + 0.5) * step - b.xMm
      if (!isOnBoard(b.outline, c * dx + s * dy, c * dy - s * dx)) continue
      const cell = cellAt[Math.floor(j / FINE) * g.columns + Math.floor(i / FINE)]!
      if (cell >= 0) weights.set(cell, (weights.get(cell) ?? 0) + 1)
    }
  }
  // A board smaller than the counting grid, or off the plate.
  if (weights.size === 0) return makeSitePatch(g, cellAt, b.xMm, b.yMm)
  return normalizePatch(weights)
}

function normalizePatch(weights: ReadonlyMap<number, number>): Patch {
  const sum = [...weights.values()].reduce((a, b) => a + b, 0)
  return { cells: Int32Array.from(weights.keys()), shares: Float64Array.from(weights.values(), (w) => w / sum) }
}

/** Bilinear between the middles of the cells about a point; the nearest cell where there is none. */
function makeSitePatch(g: Grid, cellAt: Int32Array, xMm: number, yMm: number): Patch {
  const u = (xMm - g.fromXMm) / g.cellMm - 0.5
  const v = (yMm - g.fromYMm) / g.cellMm - 0.5
  const weights = new Map<number, number>()
  for (const [di, dj] of [
    [0, 0],
    [1, 0],
    [0, 1],
    [1, 1],
  ] as const) {
    const [i, j] = [Math.floor(u) + di, Math.floor(v) + dj]
    if (i < 0 || j < 0 || i >= g.columns || j >= g.rows) continue
    const cell = cellAt[j * g.columns + i]!
    const weight = (1 - Math.abs(u - i)) * (1 - Math.abs(v - j))
    if (cell >= 0 && weight > 0) weights.set(cell, weight)
  }
  if (weights.size > 0) return normalizePatch(weights)
  let best = -1
  let least = Number.POSITIVE_INFINITY
  for (let at = 0; at < cellAt.length; at++) {
    const off = ((at % g.columns) - u) ** 2 + (Math.floor(at / g.columns) - v) ** 2
    if (cellAt[at]! < 0 || off >= least) continue
    least = off
    best = cellAt[at]!
  }
  return { cells: Int32Array.of(best), shares: Float64Array.of(1) }
}

/** Places of a board's emitters in the lamp's frame, mm, for `PlateBoard`. */
export const sitesOf = (type: BoardType, pose: { xMm: number; yMm: number; turnDeg: number }) =>
  type.sites.map((s) => {
    const [xMm, yMm] = lampFromBoard(pose, s.xMm, s.yMm)
    return { xMm, yMm }
  })
