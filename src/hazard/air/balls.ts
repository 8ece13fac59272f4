// B, the power through balls of the disc's radius over πR², on the points of the chosen blocks of a sparse grid (grid.ts).
import type { Segments } from '../../run/segments.ts'

/** W/mm² in kW/m². */
export const KW_M2 = 1000

export interface Grid {
  /** Corner of the first cell. */
  from: [number, number, number]
  /** Cells along each axis. */
  n: [number, number, number]
  cellMm: number
}

export interface Blocks {
  count: number
  /** By corner (nx + 1 by ny + 1 by nz + 1; the outermost aren't used): number of the block, −1: none. */
  of: Int32Array
  corner: Int32Array
  /** Of each block: a power that no ball in it has more of, such as what crosses its 8 cells, W, and a zone that it meets (that of its middle, or −1). */
  power: Float32Array
  zone: Int8Array
  /** Of each block: bit z for each zone that it meets, and the least threshold of these, kW/m². */
  met: Uint16Array
  least: Float32Array
}

export interface Lattice {
  /** Points along a block's edge. */
  m: number
  spacingMm: number
  /** Coordinates of the first block's first point. */
  from: [number, number, number]
  /** B of each point, kW/m², block by block. */
  kWm2: Float32Array
}

/** Points along a block's edge, the radius apart at most. */
export const pointsAcross = ({ cellMm }: Grid, radiusMm: number): number => Math.ceil((cellMm / radiusMm) * (1 - 1e-9))

/** Blocks of the same grid that were summed before: their corners, and B on their points. */
export interface KnownBlocks {
  corner: Int32Array
  kWm2: Float32Array
}

export const NONE_KNOWN: KnownBlocks = { corner: new Int32Array(0), kWm2: new Float32Array(0) }

/**
 * B on the points of the chosen blocks; of those that are known it is taken over. Each segment visits the planes of points across its main axis: a point lies on one of them. The grid
 * is a cell wider than the light on every side, so that all of these points lie on it.
 */
export function sumBalls(
  segments: Segments,
  grid: Grid,
  blocks: Blocks,
  radiusMm: number,
  known: KnownBlocks = NONE_KNOWN,
): Lattice {
  const { n } = grid
  const { m, spacingMm: spacing, from: start } = latticeOf(grid, radiusMm)
  const sums = sumsFor(blocks.count * m * m * m)
  const { of } = blocks
  const taken = known.corner.map((k) => of[k]!)
  for (const k of known.corner) of[k] = -1
  const { near, wide, wideStrides } = markCells(grid, blocks)
  const columns = [segments.xMm, segments.yMm, segments.zMm] as const
  const slopes = [segments.dx, segments.dy, segments.dz] as const
  const strides = [1, n[0], n[0] * n[1]] as const
  const local = [1, m, m * m] as const
  const limit = (radiusMm / spacing) ** 2
  const perBlock = m * m * m
  // Whole points stay on their side of a border: perM is a little more than 1/m.
  const perM = (1 / m) * (1 + 1e-9)
  const middle = 0.5 - m / 2
  for (let i = 0; i < segments.count; i++) {
    const ax = Math.abs(segments.dx[i]!)
    const ay = Math.abs(segments.dy[i]!)
    const az = Math.abs(segments.dz[i]!)
    const main = ax >= ay && ax >= az ? 0 : ay >= az ? 1 : 2
    const u = (main + 1) % 3
    const v = (main + 2) % 3
    const d = slopes[main]![i]!
    const du = slopes[u]![i]!
    const dv = slopes[v]![i]!
    const p = (columns[main]![i]! - start[main]!) / spacing
    const q = p + (d * segments.lengthMm[i]!) / spacing
    const first = Math.ceil(Math.min(p, q))
    const last = Math.floor(Math.max(p, q))
    const su = du / d
    const sv = dv / d
    const u0 = (columns[u]![i]! - start[u]!) / spacing - su * p
    const v0 = (columns[v]![i]! - start[v]!) / spacing - sv * p
    // Half width and height of the ellipse x² + y² − (x du + y dv)² = R² on such a plane.
    const strideMain = strides[main]!
    const strideU = strides[u]!
    const strideV = strides[v]!
    const wideMain = wideStrides[main]!
    const wideU = wideStrides[u]!
    const wideV = wideStrides[v]!
    const localMain = local[main]!
    const localU = local[u]!
    const localV = local[v]!
    const reachU = Math.sqrt(limit * (1 - dv * dv)) / Math.abs(d)
    const reachV = Math.sqrt(limit * (1 - du * du)) / Math.abs(d)
    const watts = segments.watts[i]!
    for (let k = first; k <= last; k++) {
      const cu = u0 + su * k
      const cv = v0 + sv * k
      // In cells; coordinates are positive.
      const km = (k + middle) * perM
      const um = (cu + middle) * perM
      const vm = (cv + middle) * perM
      const cell = (km | 0) * strideMain + (um | 0) * strideU + (vm | 0) * strideV
      if (near[cell] !== 1) {
        // On to the plane before the one where the next cell begins, or the next wide cell.
        const kw = km / WIDE
        const uw = um / WIDE
        const vw = vm / WIDE
        const inWide = wide[(kw | 0) * wideMain + (uw | 0) * wideU + (vw | 0) * wideV] === 1
        const stay = inWide
          ? Math.min(1 - (km - (km | 0)), untilNext(um - (um | 0), su), untilNext(vm - (vm | 0), sv)) * m
          : Math.min(1 - (kw - (kw | 0)), untilNext(uw - (uw | 0), su), untilNext(vw - (vw | 0), sv)) * m * WIDE
        if (stay > 2) k += (stay | 0) - 1
        continue
      }
      const block0 = ((k * perM) | 0) * strideMain
      const inBlock = (k - ((k * perM) | 0) * m) * localMain
      const toB = Math.floor(cv + reachV) | 0
      const toA = Math.floor(cu + reachU) | 0
      const fromA = Math.ceil(cu - reachU) | 0
      const firstA = (fromA * perM) | 0
      const nextA = (firstA + 1) * m
      for (let b = Math.ceil(cv - reachV) | 0; b <= toB; b++) {
        const y = b - cv
        const y2 = y * y
        const ydv = y * dv
        const bm = (b * perM) | 0
        let row = block0 + bm * strideV + firstA * strideU
        let block = of[row]!
        let base = block * perBlock + inBlock + (b - bm * m) * localV - firstA * m * localU
        let next = nextA
        for (let a = fromA; a <= toA; a++) {
          if (a === next) {
            row += strideU
            base -= block * perBlock
            block = of[row]!
            base += block * perBlock - m * localU
            next += m
          }
          if (block < 0) continue
          const x = a - cu
          const along = x * du + ydv
          const at = base + a * localU
          // Added without a branch that could not be foretold.
          sums[at] = sums[at]! + (x * x + y2 - along * along > limit ? 0 : watts)
        }
      }
    }
  }
  const toKWm2 = kWm2OfWatt(radiusMm)
  for (let k = 0; k < sums.length; k++) sums[k] = sums[k]! * toKWm2
  for (const [b, block] of taken.entries()) {
    if (block < 0) continue
    of[known.corner[b]!] = block
    sums.set(known.kWm2.subarray(b * perBlock, (b + 1) * perBlock), block * perBlock)
  }
  return { m, spacingMm: spacing, from: start, kWm2: sums }
}

/** The points, without what is on them. */
export function latticeOf(grid: Grid, radiusMm: number): Omit<Lattice, 'kWm2'> {
  const { from, cellMm } = grid
  const m = pointsAcross(grid, radiusMm)
  const spacingMm = cellMm / m
  return { m, spacingMm, from: from.map((f) => f - cellMm / 2 + spacingMm / 2) as [number, number, number] }
}

/** What a watt through a disc of so many mm radius is, kW/m². */
export const kWm2OfWatt = (radiusMm: number): number => KW_M2 / (Math.PI * radiusMm * radiusMm)

/** Used again from search to search, as the cells are: one runs at a time in a thread, and reads its lattice before it sums the next. */
const scratch = { sums: new Float32Array(0), near: new Uint8Array(0), marked: new Int32Array(0), count: 0 }

function sumsFor(count: number): Float32Array {
  if (scratch.sums.length < count) scratch.sums = new Float32Array(count)
  return scratch.sums.subarray(0, count).fill(0)
}

/** Planes, in cells, until a coordinate that changes by `slope` for each leaves its cell; `share`: where it stands in it. */
const untilNext = (share: number, slope: number): number =>
  slope > 0 ? (1 - share) / slope : slope < 0 ? share / -slope : Number.POSITIVE_INFINITY

/** A wide cell is so many cells wide. */
export const WIDE = 8

/** 1 for the cells that a ball about a point of some block can touch, the numbers of these cells, and 1 for the wide cells that they lie in. */
export function markCells({ n }: Grid, { of, corner }: Blocks) {
  const [nx, ny] = n
  const wideN = n.map((k) => Math.ceil(k / WIDE)) as [number, number, number]
  const wideStrides = [1, wideN[0], wideN[0] * wideN[1]] as const
  const count = n[0] * n[1] * n[2]
  const { near, marked } = unmarked(count)
  let marks = 0
  const wide = new Uint8Array(wideN[0] * wideN[1] * wideN[2])
  const aside = [0, 1, nx, nx + 1, nx * ny, nx * ny + 1, nx * ny + nx, nx * ny + nx + 1]
  for (const k of corner) {
    if (of[k]! < 0) continue
    for (const by of aside) {
      const cell = k - by
      if (near[cell] === 1) continue
      near[cell] = 1
      marked[marks++] = cell
      const x = cell % nx
      const y = Math.floor(cell / nx) % ny
      const z = Math.floor(cell / (nx * ny))
      wide[((x / WIDE) | 0) + ((y / WIDE) | 0) * wideStrides[1] + ((z / WIDE) | 0) * wideStrides[2]] = 1
    }
  }
  scratch.count = marks
  return { near, marked: marked.subarray(0, marks), wide, wideStrides }
}

/** No cell is marked. */
function unmarked(count: number): typeof scratch {
  for (let i = 0; i < scratch.count; i++) scratch.near[scratch.marked[i]!] = 0
  scratch.count = 0
  if (scratch.near.length < count)
    Object.assign(scratch, { near: new Uint8Array(count), marked: new Int32Array(count) })
  return scratch
}
