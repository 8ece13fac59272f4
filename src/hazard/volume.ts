// Irradiance in the whole volume before the lamp, on planes across its axis, from the exit rays: the true volume on a
// grid, and its mean round the axis as an (r, z) map where the light is round enough for one. Upper ends throughout.

import type { TimeSliced } from '../num/scheduler.ts'
import { T95 } from '../num/stats.ts'
import { type RayColumns, rayColumns } from '../run/exits.ts'
import type { Run } from '../run/types.ts'
import { KW_M2 } from './planes.ts'

/** One plane across the axis: cells of a square about it, rows from low y up. */
export interface VolumePlane {
  distanceMm: number
  halfMm: number
  n: number
  /** Upper end of ±, mean over a cell. */
  kWm2: Float32Array
}

/** Rings about the axis: `kWm2[plane · rings + ring]`, upper ends; ring k spans k to k + 1 of `ringMm[plane]`. */
interface RingMap {
  rings: number
  ringMm: Float32Array
  kWm2: Float32Array
}

export interface FrontVolume {
  /** z of the lamp's front in its frame; distances count from it. */
  frontZMm: number
  planes: VolumePlane[]
  ringMap: RingMap
  /** The ring map is enough: hardly a cell differs clearly from its ring. */
  round: boolean
}

export interface VolumeOptions {
  /** No cell is narrower than this: the disc that hot spots are averaged over. */
  discMm: number
  /** Cells across. */
  n?: number
  /** Reaches so far. */
  farMm?: number
}

const GROWTH = 1.15
const RINGS = 48

/**
 * Irradiance on planes from the front out to options.farMm (mm), kW/m², upper ends of ±, by cells and by rings about
 * the axis; `round` when under 2 % of the bright cells differ from their ring. Time-sliced. Errors by Poisson's law
 * of counts.
 */
export function* readVolume(run: Run, frontZMm: number, options: VolumeOptions): TimeSliced<FrontVolume> {
  const { discMm, n = 64, farMm = 20_000 } = options
  const rays = rayColumns(run, frontZMm)
  const { radius, slope } = reachOf(rays)
  const planes: VolumePlane[] = []
  const ringMm: number[] = []
  const ringKWm2: number[] = []
  let apart = 0
  let compared = 0
  for (const distanceMm of distances(radius, farMm)) {
    yield
    const reach = radius + slope * distanceMm
    const half = Math.max((n * discMm) / 2 / 4, reach)
    const cells = Math.max(4, Math.min(n, Math.floor((2 * half) / discMm)))
    const width = half / RINGS
    const { grid, squares, rings, ringSquares } = binRays(rays, distanceMm, half, cells, width)
    planes.push({
      distanceMm,
      halfMm: half,
      n: cells,
      kWm2: upperEnds(grid, squares, cellAreas(cells, half)),
    })
    ringMm.push(width)
    ringKWm2.push(...upperEnds(rings, ringSquares, ringAreas(width)))
    const off = compareWithRings(grid, squares, rings, cells, half, width)
    apart += off.apart
    compared += off.compared
  }
  const ringMap = { rings: RINGS, ringMm: Float32Array.from(ringMm), kWm2: Float32Array.from(ringKWm2) }
  return { frontZMm, planes, ringMap, round: compared === 0 || apart / compared < 0.02 }
}

function* distances(radius: number, farMm: number): Generator<number> {
  yield 1
  const first = Math.max(5, radius / 5)
  for (let growth = GROWTH; first * (growth - 1) < farMm; growth *= GROWTH) yield first * (growth - 1)
}

/** Radius and slope that 99 of 100 rays keep to. */
function reachOf(rays: RayColumns): { radius: number; slope: number } {
  const step = Math.max(1, Math.floor(rays.count / 4000))
  const radii: number[] = [1]
  const slopes: number[] = [1e-3]
  for (let i = 0; i < rays.count; i += step) {
    radii.push(Math.hypot(rays.xMm[i]!, rays.yMm[i]!))
    slopes.push(Math.hypot(rays.slopeX[i]!, rays.slopeY[i]!))
  }
  const at = (values: number[]) => values.sort((a, b) => a - b)[Math.floor(0.99 * (values.length - 1))]!
  return { radius: at(radii), slope: Math.min(2, at(slopes)) }
}

/** Watts and squared watts by cell and by ring. */
function binRays(rays: RayColumns, distanceMm: number, half: number, n: number, ringMm: number) {
  const grid = new Float64Array(n * n)
  const squares = new Float64Array(n * n)
  const rings = new Float64Array(RINGS)
  const ringSquares = new Float64Array(RINGS)
  const perCell = n / (2 * half)
  for (let i = 0; i < rays.count; i++) {
    const x = rays.xMm[i]! + rays.slopeX[i]! * distanceMm
    const y = rays.yMm[i]! + rays.slopeY[i]! * distanceMm
    const w = rays.watts[i]!
    const ring = Math.floor(Math.sqrt(x * x + y * y) / ringMm)
    if (ring < RINGS) {
      rings[ring]! += w
      ringSquares[ring]! += w * w
    }
    const [column, row] = [Math.floor((x + half) * perCell), Math.floor((y + half) * perCell)]
    if (column < 0 || row < 0 || column >= n || row >= n) continue
    grid[row * n + column]! += w
    squares[row * n + column]! += w * w
  }
  return { grid, squares, rings, ringSquares }
}

/** Errors by Poisson's law of counts; the low-discrepancy sequence scatters less: the wide side. A place that no ray meets has 0. */
const upperEnds = (sums: Float64Array, squares: Float64Array, areas: (i: number) => number): Float32Array =>
  Float32Array.from(sums, (sum, i) => ((sum + T95 * Math.sqrt(squares[i]!)) * KW_M2) / areas(i))

const cellAreas = (n: number, half: number) => () => ((2 * half) / n) ** 2
const ringAreas = (width: number) => (i: number) => Math.PI * width * width * (2 * i + 1)

/** Cells that differ from the ring through their middle by more than four standard deviations and a fifth, of those bright enough to tell. */
function compareWithRings(
  grid: Float64Array,
  squares: Float64Array,
  rings: Float64Array,
  n: number,
  half: number,
  width: number,
): { apart: number; compared: number } {
  const size = (2 * half) / n
  const most = grid.reduce((a, b) => Math.max(a, b), 0)
  let [apart, compared] = [0, 0]
  for (let i = 0; i < grid.length; i++) {
    const [x, y] = [((i % n) + 0.5) * size - half, (Math.floor(i / n) + 0.5) * size - half]
    const r = Math.hypot(x, y)
    const expected = ringMean(rings, width, r - size / 2, r + size / 2) * size * size
    if (grid[i]! < 0.2 * most && expected < 0.2 * most) continue
    compared++
    const off = Math.abs(grid[i]! - expected)
    if (off > 4 * Math.sqrt(squares[i]!) && off > 0.2 * expected) apart++
  }
  return { apart, compared }
}

/** Watts per mm² over the rings that a band touches. */
function ringMean(rings: Float64Array, width: number, from: number, to: number): number {
  const first = Math.max(0, Math.floor(from / width))
  const last = Math.min(RINGS - 1, Math.floor(to / width))
  let sum = 0
  for (let k = first; k <= last; k++) sum += rings[k]!
  const area = Math.PI * width * width * ((last + 1) ** 2 - first ** 2)
  return area > 0 ? sum / area : 0
}

/** Greatest upper end on each plane, kW/m² by distance in mm, for the envelope of a threshold. */
export const hottestByPlane = (v: FrontVolume): { distanceMm: number; kWm2: number }[] =>
  v.planes.map((p) => ({ distanceMm: p.distanceMm, kWm2: p.kWm2.reduce((a, b) => Math.max(a, b), 0) }))
