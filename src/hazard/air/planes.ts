// Light running forward, plane after plane across the axis: where a disc of it is hot. The lattice of grid.ts with cells as long as the
// rays take to leave the disc: before a lamp light runs nearly along the axis, and a focus stays in the disc over many of its diameters.
import type { RayColumns } from '../../run/exits.ts'
import { type Lattice, type PlanesMachine, planesMachine } from '../wasm/instance.ts'

const KW_M2 = 1000

interface PlanePoint {
  xMm: number
  yMm: number
  kWm2: number
}

export interface PlaneLight {
  /** The hottest point of the lattice; null: no light within reach. */
  top: PlanePoint | null
  /** Points that are clearly hotter than what lies about them, hottest first. */
  maxima: PlanePoint[]
}

export interface PlaneFinderOptions {
  discMm: number
  /** Local maxima under this aren't listed, kW/m². */
  floorKWm2: number
  /** Points across, at most; the lattice and the discs on it grow where the reach is wider. */
  mostAcross: number
  /** What the watts of each ray stand for: whole over sample. */
  factor: number
}

/** Clearly hotter: by a quarter over the mean of a ring of three points about it, and by six standard deviations of counts. */
const MIN_CONTRAST = 1.25
const MIN_SIGMAS = 6
/** Beside the edge of a wider cone there is as much light further in. */
const FLANK = 1.05
const MOST_MAXIMA = 60

/** From point to point of a lattice, mm: half the disc, or wider where so many points across are too few for the reach. */
export const latticeSpacingMm = (discMm: number, reachMm: number, mostAcross: number): number =>
  Math.max(discMm / 2, (2 * reachMm) / (mostAcross - 2))

/**
 * Returns a search of the plane at a distance (mm) from that of the columns, over a square of ± reach about the axis: at each point of a
 * lattice of R from point to point the power through a disc of radius R about it, kW/m². A disc anywhere shares most of its light with
 * that about the nearest point, 0.71 R away at most.
 */
export function makePlaneFinder(
  rays: RayColumns,
  { discMm, floorKWm2, mostAcross, factor }: PlaneFinderOptions,
  machine: PlanesMachine | null = planesMachine(),
): (distanceMm: number, reachMm: number) => PlaneLight {
  return (distanceMm, reachMm) => {
    const spacing = latticeSpacingMm(discMm, reachMm, mostAcross)
    const n = Math.min(mostAcross, Math.max(8, Math.ceil((2 * reachMm) / spacing) + 2))
    const half = ((n - 1) * spacing) / 2
    const per = 1 / spacing
    const square = { distanceMm, half, per, n }
    const added = machine ? addFast(machine, rays, square) : addPlainly(rays, square)
    const toKWm2 = (factor * KW_M2) / (Math.PI * spacing * spacing)
    const listsMaxima = Number.isFinite(floorKWm2)
    const light =
      machine && !listsMaxima
        ? { top: takeTop(machine, added), maxima: [] }
        : takePlane(added, n, floorKWm2 / toKWm2, rays.wattsOfOne * factor)
    const place = ({ k, watts }: { k: number; watts: number }): PlanePoint => ({
      xMm: (k % n) * spacing - half,
      yMm: Math.floor(k / n) * spacing - half,
      kWm2: watts * toKWm2,
    })
    return { top: light.top && place(light.top), maxima: light.maxima.map(place) }
  }
}

interface Square {
  distanceMm: number
  /** Of its first point from the axis. */
  half: number
  /** Points a mm, and along an edge. */
  per: number
  n: number
}

interface Added extends Lattice {
  /** Points that were met. */
  used: number
}

/** Of all points only the four about a ray can be within R of it. */
const POINTS_OF_RAY = 4

/** addPlainly in WebAssembly: the same bits. */
function addFast(machine: PlanesMachine, rays: RayColumns, { distanceMm, half, per, n }: Square): Added {
  // Numbers are written before it is known whether they count: room for those of one ray more.
  const lattice = machine.use(rays, { points: n * n, touched: POINTS_OF_RAY * (rays.count + 1) })
  const used = machine.addRays(
    rays.count,
    ...([distanceMm, half, per, n] as const),
    lattice.grid.byteOffset,
    lattice.touched.byteOffset,
  )
  return { ...lattice, used }
}

/** Adds each ray's watts to the points within R of it, and writes the numbers of points that were met. */
function addPlainly(rays: RayColumns, square: Square): Added {
  const { grid, touched } = latticeOf(square.n ** 2, POINTS_OF_RAY * rays.count)
  const { count, xMm, yMm, slopeX, slopeY, watts } = rays
  const { distanceMm, half, per, n } = square
  const last = n - 1
  let used = 0
  for (let i = 0; i < count; i++) {
    const x = (xMm[i]! + slopeX[i]! * distanceMm + half) * per
    const y = (yMm[i]! + slopeY[i]! * distanceMm + half) * per
    if (!(x > 0 && y > 0 && x < last && y < last)) continue
    const w = watts[i]!
    // Of all points only the four about it can be within R.
    const c = x | 0
    const r = y | 0
    const u = x - c
    const v = y - r
    const u2 = u * u
    const v2 = v * v
    const right = (1 - u) * (1 - u)
    const up = (1 - v) * (1 - v)
    const k = r * n + c
    const w0 = u2 + v2 <= 1 ? w : 0
    const w1 = right + v2 <= 1 ? w : 0
    const w2 = u2 + up <= 1 ? w : 0
    const w3 = right + up <= 1 ? w : 0
    const b0 = grid[k]!
    const b1 = grid[k + 1]!
    const b2 = grid[k + n]!
    const b3 = grid[k + n + 1]!
    grid[k] = b0 + w0
    grid[k + 1] = b1 + w1
    grid[k + n] = b2 + w2
    grid[k + n + 1] = b3 + w3
    if (b0 === 0 && w0 > 0) touched[used++] = k
    if (b1 === 0 && w1 > 0) touched[used++] = k + 1
    if (b2 === 0 && w2 > 0) touched[used++] = k + n
    if (b3 === 0 && w3 > 0) touched[used++] = k + n + 1
  }
  return { grid, touched, used }
}

/** Used again from search to search: one plane is read at a time, and what was written for it is cleared. */
let plain: Lattice = { grid: new Float32Array(0), touched: new Uint32Array(0) }

function latticeOf(points: number, touched: number): Lattice {
  if (plain.grid.length < points) plain = { ...plain, grid: new Float32Array(points) }
  if (plain.touched.length < touched) plain = { ...plain, touched: new Uint32Array(touched) }
  return plain
}

interface Cell {
  k: number
  watts: number
}

/** As takePlane, in WebAssembly, where no maxima are listed: the same point. */
function takeTop(machine: PlanesMachine, { grid, touched, used }: Added): Cell | null {
  const k = machine.topOf(touched.byteOffset, used, grid.byteOffset)
  return k < 0 ? null : { k, watts: machine.topWatts[0] ?? 0 }
}

/** Reads the points that were met and clears them. */
function takePlane(
  { grid, touched: all, used }: Added,
  n: number,
  floor: number,
  wattsOfOne: number,
): { top: Cell | null; maxima: Cell[] } {
  const touched = all.subarray(0, used)
  const light = readPlane(grid, touched, n, floor, wattsOfOne)
  for (const k of touched) grid[k] = 0
  return light
}

function readPlane(
  grid: Float32Array,
  touched: Uint32Array,
  n: number,
  floor: number,
  wattsOfOne: number,
): { top: Cell | null; maxima: Cell[] } {
  let top: Cell | null = null
  let most = 0
  const maxima: (Cell & { beyond: number })[] = []
  // Fewer rays are so many standard deviations over no ring, not even a dark one.
  const least = Math.max(floor, MIN_SIGMAS ** 2 * wattsOfOne * (1 - 1e-6))
  for (const k of touched) {
    const watts = grid[k]!
    if (!top || watts > most) {
      top = { k, watts }
      most = watts
    }
    if (watts < least) continue
    const c = k % n
    const r = Math.floor(k / n)
    if (c < 3 || r < 3 || c >= n - 3 || r >= n - 3 || !isGreatestNear(grid, n, r, c)) continue
    const ring = readRing(grid, n, r, c)
    const beyond = (watts - ring.mean) / Math.sqrt(watts * wattsOfOne)
    if (beyond >= MIN_SIGMAS && watts >= MIN_CONTRAST * ring.mean && watts >= FLANK * ring.most)
      maxima.push({ k, watts, beyond })
  }
  return { top, maxima: maxima.sort((a, b) => b.beyond - a.beyond).slice(0, MOST_MAXIMA) }
}

/** Of five by five points; of equal ones the first. */
function isGreatestNear(grid: Float32Array, n: number, r: number, c: number): boolean {
  const here = grid[r * n + c]!
  for (let dr = -2; dr <= 2; dr++)
    for (let dc = -2; dc <= 2; dc++) {
      const k = (r + dr) * n + c + dc
      const other = grid[k]!
      if (other > here || (other === here && k < r * n + c)) return false
    }
  return true
}

const RING = Array.from({ length: 16 }, (_, k) => {
  const turn = (2 * Math.PI * k) / 16
  return [Math.round(3 * Math.cos(turn)), Math.round(3 * Math.sin(turn))] as const
})

function readRing(grid: Float32Array, n: number, r: number, c: number): { mean: number; most: number } {
  let [sum, most] = [0, 0]
  for (const [dr, dc] of RING) {
    const there = grid[(r + dr) * n + c + dc]!
    sum += there
    if (there > most) most = there
  }
  return { mean: sum / RING.length, most }
}
