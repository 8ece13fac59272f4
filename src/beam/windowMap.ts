// The window map: intensity over (θ cos φ, θ sin φ) near the axis, with places found in one half of the batches and
// measured in the other, so that no noisy bin is picked for its noise.
import {
  type DiscCells,
  type DiscGrid,
  type FoundPlace,
  findDisc,
  findDiscCells,
  findDiscs,
  type GridPlace,
  makeEvenGrid,
  meanOver,
  type Search,
} from '../num/gridDisc.ts'
import { type Folded, meanOf, numbersBeside, type Tally } from '../run/batches.ts'
import type { Figure, GridMap } from '../run/figure.ts'
import { lumensPerWeight } from '../run/scale.ts'
import type { TallyShape } from '../run/types.ts'

const DEG = 180 / Math.PI

/** Width of a cell of the window map, rad. */
export const windowCellRad = (shape: TallyShape): number => (2 * shape.fineHalfRad) / shape.windowN
let gridCache: DiscGrid | null = null

/** The window map as a grid for disc searches, sizes in rad; the last one is kept, and not to be written into. */
export function windowGrid(shape: TallyShape): DiscGrid {
  const [n, cell] = [shape.windowN, windowCellRad(shape)]
  if (gridCache?.columns !== n || gridCache.rowSize !== cell) gridCache = makeEvenGrid(n, n, cell)
  return gridCache
}

let perSrCache: { key: string; value: Float64Array } | null = null

/** 1 / solid angle of each cell: the map is true to length along θ and widened across it by θ / sin θ. Zero from θ = 180° on. */
function getInverseSolidAngles(shape: TallyShape): Float64Array {
  const key = `${shape.windowN},${shape.fineHalfRad}`
  if (perSrCache?.key === key) return perSrCache.value
  const n = shape.windowN
  const cell = windowCellRad(shape)
  const value = new Float64Array(n * n)
  // Mirrored about both axes.
  for (let row = 0; 2 * row < n; row++) {
    for (let column = 0; 2 * column < n; column++) {
      const theta = Math.hypot((column + 0.5 - n / 2) * cell, (row + 0.5 - n / 2) * cell)
      const squeeze = theta > 1e-9 ? Math.sin(theta) / theta : 1
      const own = theta < Math.PI ? 1 / (cell * cell * Math.max(squeeze, 1e-6)) : 0
      const [near, far] = [row * n, (n - 1 - row) * n]
      value[near + column] = value[far + column] = own
      value[near + n - 1 - column] = value[far + n - 1 - column] = own
    }
  }
  perSrCache = { key, value }
  return value
}

const cdOf = new WeakMap<Tally, Float64Array>()

/**
 * Intensity of each cell of the window map, cd, windowN² values, row-major from low y; cached for each tally, not to
 * be written into.
 */
export function windowCd(folded: Folded, tally: Tally): Float64Array {
  const cached = cdOf.get(tally)
  if (cached) return cached
  const cd = makeCd(folded, tally)
  cdOf.set(tally, cd)
  return cd
}

function makeCd(folded: Folded, tally: Tally): Float64Array {
  const inverse = getInverseSolidAngles(folded.run.shape)
  const cd = numbersBeside(folded, inverse.length)
  const from = folded.layout.windowLm
  const { data, lmPerWeight } = tally
  for (let i = 0; i < cd.length; i++) cd[i] = data[from + i]! * lmPerWeight * inverse[i]!
  return cd
}

/** Intensity over direction near the axis, cd over degrees. */
export function readDirectionMap(folded: Folded): GridMap {
  const { shape } = folded.run
  const half = shape.fineHalfRad * DEG
  return {
    columns: shape.windowN,
    rows: shape.windowN,
    fromX: -half,
    toX: half,
    fromY: -half,
    toY: half,
    unit: 'deg',
    values: new Float32Array(windowCd(folded, folded.all)),
    of: 'cd',
  }
}

export interface Spot extends Figure {
  /** One value a batch, in the batches it was measured in. */
  inBatch: number[]
  place: FoundPlace
}

/** Intensity over a disc of the map in each of the chosen batches, cd, in the order of batches. */
export function measureInBatches(folded: Folded, cells: DiscCells, which: (batch: number) => boolean): number[] {
  const { run, layout } = folded
  const inverse = getInverseSolidAngles(run.shape)
  const values: number[] = []
  for (const [b, tally] of run.tallies.entries()) {
    if (!which(b)) continue
    let sum = 0
    let area = 0
    for (let i = 0; i < cells.index.length; i++) {
      sum += cells.area[i]! * tally[layout.windowLm + cells.index[i]!]! * inverse[cells.index[i]!]!
      area += cells.area[i]!
    }
    values.push(area > 0 ? (sum / area) * lumensPerWeight(run, tally) : 0)
  }
  return values
}

/**
 * Mean intensity over a cone, cd, by all batches: its axis at θ from the lamp's and φ from +x, its half angle, rad. Null where it reaches beyond the
 * window. Of a cone that was chosen for being bright by the same rays noise has helped it.
 */
export function readCone(folded: Folded, thetaRad: number, phiRad: number, halfRad: number): Figure | null {
  const { shape } = folded.run
  if (thetaRad + halfRad > shape.fineHalfRad) return null
  const cells = thetaRad / windowCellRad(shape)
  const middle = shape.windowN / 2
  const place = { column: middle + cells * Math.cos(phiRad), row: middle + cells * Math.sin(phiRad) }
  return meanOf(measureInBatches(folded, findDiscCells(windowGrid(shape), place, halfRad), () => true))
}

/**
 * The greatest (or least) mean of the map over a disc of `radius` (rad), cd, with its error: the place from the even
 * batches measured in the odd ones, and the other way about; the mean of the two. Splitting against selection bias:
 * common practice, no source.
 */
export function findExtremeSpot(folded: Folded, radius: number, search: Search): Spot {
  const { shape } = folded.run
  const grid = windowGrid(shape)
  const spots = folded.halves.map((half, parity) => {
    const place = findDisc(grid, windowCd(folded, half), radius, { ...search, still: true })
    const inBatch = measureInBatches(folded, findDiscCells(grid, place, radius), (b) => b % 2 !== parity)
    return { place, inBatch, figure: meanOf(inBatch) }
  })
  const [a, b] = spots as [(typeof spots)[0], (typeof spots)[0]]
  // Batch 2i was measured at b's place, batch 2i + 1 at a's.
  const inBatch = a.inBatch.flatMap((odd, i) => [b.inBatch[i]!, odd])
  const value = (a.figure.value + b.figure.value) / 2
  const se = Math.hypot(a.figure.se, b.figure.se) / 2
  return { value, se, inBatch, place: a.place.mean >= b.place.mean ? a.place : b.place }
}

/** The greatest (or least) mean over a disc of `radius` (rad) in the map of all batches itself, cd: noise helps it. */
export const findOwnExtreme = (folded: Folded, radius: number, search: Search): number =>
  findDisc(windowGrid(folded.run.shape), windowCd(folded, folded.all), radius, { ...search, still: true }).mean

/** The best few places by that, apart from one another. */
export const findOwnSpots = (folded: Folded, radius: number, search: Search): FoundPlace[] =>
  findDiscs(windowGrid(folded.run.shape), windowCd(folded, folded.all), radius, { ...search, still: true })

/** Mean intensity over the axial cone about a place of the map, cd, by all batches. */
export function readOwnCone(folded: Folded, place: GridPlace): number {
  const { shape } = folded.run
  return meanOver(findDiscCells(windowGrid(shape), place, shape.axialConeHalfRad), windowCd(folded, folded.all))
}
