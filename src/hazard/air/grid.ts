// Where light is dense in the air: segments of rays on a sparse grid, coarse cells first, then a lattice of balls where it can matter.
//
// B(c), the power of all rays that pass within the disc's radius R of a point c over πR², is an upper bound of the irradiance of every disc
// of that radius about c, however it is turned: each ray that crosses such a disc comes within R of c. For light from one side the hottest
// disc reaches it. B is summed on a lattice of at most R from point to point, so that a focus smaller than the disc is whole in the ball of
// the nearest point, 0.87 R away at most. A ball about any point of a block (side c, centred on a corner of the coarse cells, R ≤ c/2) lies
// in the 8 cells about that corner, so the power that crosses these bounds B in the block, and a block that can't reach the threshold is
// left out. Power × length over the cell's volume, the fluence rate, is the mean of B in it, so its greatest value is a lower bound of the
// hottest place: the threshold is a share of that. Our own method, from these two bounds.
import type { Segments } from '../../run/segments.ts'
import { type Blocks, type Grid, type KnownBlocks, KW_M2, type Lattice, pointsAcross, sumBalls } from './balls.ts'
import { ableBlocks, chooseBlocks, type DenseOptions, strongestBlocks, takeBlocks, tellLeftOut } from './blocks.ts'
import { sumBallsFast } from './fastBalls.ts'
import { reachingBlocks } from './tighten.ts'
import { type CellSums, type GridMachine, gridMachine, MOST_ACROSS, MOST_SUMS } from './wasm/instance.ts'

/** Coarse cells are this many radii of the disc wide, or more where the region is too large for it: whole ones, for the lattice in them. */
const CELL_RADII = 4
const MOST_CELLS_ACROSS = 150
/**
 * A disc far smaller than a cell has tens of thousands of points in each block. Beyond so many points in all (128 MB) only the blocks that
 * the most power crosses are looked into, and what the others can hold at most is handed to onLeftOut.
 */
const MOST_POINTS = 1 << 25
/** From so many blocks on the strongest are looked into first. */
const MANY_BLOCKS = 256

/** A point of the lattice where B stands out. */
export interface DensePoint {
  xMm: number
  yMm: number
  zMm: number
  zone: number
  /** B, kW/m². */
  kWm2: number
}

/**
 * The densest points of each zone, hottest first: place (mm), B (kW/m²). `segments` have finite lengths. Empty without light.
 */
export function findDensePoints(
  segments: Segments,
  options: DenseOptions,
  machine: GridMachine | null = gridMachine(),
): DensePoint[] {
  if (segments.count === 0) return []
  const radiusMm = options.discMm / 2
  const grid = gridAbout(machine ? machine.use(segments) : boxOf(segments), radiusMm)
  const { power, fluence, crossed } = machine ? machine.sumCells(grid) : sumCells(segments, grid)
  const rough = zoneThresholds(grid, fluence, crossed, options)
  let blocks = chooseBlocks(grid, power, crossed, rough, options)
  if (blocks.count === 0) return []
  let thresholds = rough
  let known: KnownBlocks | undefined
  const across = pointsAcross(grid, radiusMm)
  const perBlock = across ** 3
  const mostPoints = options.mostPoints ?? MOST_POINTS
  const mostEach = Math.ceil(mostPoints / perBlock / options.zones)
  const fast = across <= MOST_ACROSS ? machine : null
  const sumOn = (chosen: Blocks, before?: KnownBlocks) =>
    fast && chosen.count * perBlock <= MOST_SUMS
      ? sumBallsFast(fast, grid, chosen, radiusMm, before)
      : sumBalls(segments, grid, chosen, radiusMm, before)
  if (blocks.count > MANY_BLOCKS) {
    // A cell is larger than a focus: what the strongest blocks really hold is a better lower bound.
    const first = strongestBlocks(blocks, options.zones, Math.min(mostEach, MANY_BLOCKS / 4))
    const sums = sumOn(first)
    thresholds = raiseThresholds(grid, first, sums, rough, options)
    known = { corner: first.corner, kWm2: sums.kWm2.slice() }
    blocks = takeBlocks(blocks, ableBlocks(blocks, thresholds, options))
    blocks = takeBlocks(blocks, reachingBlocks(segments, grid, blocks, radiusMm, machine))
  }
  if (blocks.count * perBlock > mostPoints) {
    const all = blocks
    blocks = strongestBlocks(all, options.zones, mostEach)
    tellLeftOut(all, blocks.of, options)
  }
  return pickPoints(grid, blocks, sumOn(blocks, known), thresholds, options)
}

interface Box {
  low: ArrayLike<number>
  high: ArrayLike<number>
}

/** Lowest and highest ends along each axis. */
function boxOf(segments: Segments): Box {
  const low: [number, number, number] = [Infinity, Infinity, Infinity]
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity]
  const starts = [segments.xMm, segments.yMm, segments.zMm] as const
  const directions = [segments.dx, segments.dy, segments.dz] as const
  for (let axis = 0; axis < 3; axis++) {
    const start = starts[axis]!
    const direction = directions[axis]!
    let least = Number.POSITIVE_INFINITY
    let most = Number.NEGATIVE_INFINITY
    for (let i = 0; i < segments.count; i++) {
      const a = start[i]!
      const b = a + direction[i]! * segments.lengthMm[i]!
      least = Math.min(least, a, b)
      most = Math.max(most, a, b)
    }
    low[axis] = least
    high[axis] = most
  }
  return { low, high }
}

function gridAbout(box: Box, radiusMm: number): Grid {
  const [low, high] = [Array.from(box.low), Array.from(box.high)]
  const extent = Math.max(...high.map((h, k) => h - low[k]!))
  const cellMm = radiusMm * Math.max(CELL_RADII, Math.ceil(extent / MOST_CELLS_ACROSS / radiusMm))
  const n = high.map((h, k) => Math.ceil((h - low[k]!) / cellMm) + 2) as [number, number, number]
  return { from: low.map((l) => l - cellMm) as [number, number, number], n, cellMm }
}

/**
 * Used again from search to search: one runs at a time in a thread. Light crosses few of the cells, so only those that it crossed are listed, set to nothing
 * again, and looked at.
 */
const scratch = { power: new Float32Array(0), fluence: new Float32Array(0), crossed: new Int32Array(0), count: 0 }

function clearedFor(size: number): typeof scratch {
  const { power, fluence, crossed, count } = scratch
  for (let i = 0; i < count; i++) power[crossed[i]!] = fluence[crossed[i]!] = 0
  scratch.count = 0
  if (power.length < size)
    Object.assign(scratch, {
      ...{ power: new Float32Array(size), fluence: new Float32Array(size) },
      crossed: new Int32Array(size),
    })
  return scratch
}

/** By cell: watts that cross it, and watts times path, W mm; and the numbers of the cells that light crosses. Cells along a line by Amanatides and Woo (Eurographics 1987). */
function sumCells(segments: Segments, { from, n, cellMm }: Grid): CellSums {
  const [nx, ny, nz] = n
  // A segment ends within the cells: they reach a cell beyond all light.
  const { power, fluence, crossed } = clearedFor(nx * ny * nz)
  let count = 0
  for (let i = 0; i < segments.count; i++) {
    const dx = segments.dx[i]!
    const dy = segments.dy[i]!
    const dz = segments.dz[i]!
    const watts = segments.watts[i]!
    if (!(watts > 0)) continue
    const end = segments.lengthMm[i]!
    const x = (segments.xMm[i]! - from[0]) / cellMm
    const y = (segments.yMm[i]! - from[1]) / cellMm
    const z = (segments.zMm[i]! - from[2]) / cellMm
    let ix = Math.floor(x)
    let iy = Math.floor(y)
    let iz = Math.floor(z)
    const stepX = dx > 0 ? 1 : -1
    const stepY = dy > 0 ? 1 : -1
    const stepZ = dz > 0 ? 1 : -1
    const perX = cellMm / Math.max(1e-9, Math.abs(dx))
    const perY = cellMm / Math.max(1e-9, Math.abs(dy))
    const perZ = cellMm / Math.max(1e-9, Math.abs(dz))
    let atX = (dx > 0 ? ix + 1 - x : x - ix) * perX
    let atY = (dy > 0 ? iy + 1 - y : y - iy) * perY
    let atZ = (dz > 0 ? iz + 1 - z : z - iz) * perZ
    let at = 0
    for (;;) {
      const next = Math.min(atX, atY, atZ, end)
      const cell = (iz * ny + iy) * nx + ix
      if (power[cell] === 0) crossed[count++] = cell
      power[cell] = power[cell]! + watts
      fluence[cell] = fluence[cell]! + watts * (next - at)
      if (!(next < end)) break
      at = next
      if (atX === next) {
        ix += stepX
        atX += perX
      } else if (atY === next) {
        iy += stepY
        atY += perY
      } else {
        iz += stepZ
        atZ += perZ
      }
    }
  }
  scratch.count = count
  return { power, fluence, crossed: crossed.subarray(0, count) }
}

/** For each zone the floor, or the share of its greatest fluence rate (kW/m²). */
function zoneThresholds(grid: Grid, fluence: Float32Array, crossed: Int32Array, options: DenseOptions): Float64Array {
  const { from, n, cellMm } = grid
  const [nx, ny] = n
  const toKWm2 = KW_M2 / cellMm ** 3
  const greatest = new Float64Array(options.zones)
  const { floorKWm2, floorOf = () => floorKWm2, zoneOf } = options
  const floors = Array.from(greatest, (_, zone) => floorOf(zone))
  // No more than this raises no zone's greatest that matters.
  let least = 0
  for (const k of crossed) {
    const rate = fluence[k]! * toKWm2
    if (rate < floorKWm2 || rate <= least) continue
    const x = from[0] + ((k % nx) + 0.5) * cellMm
    const y = from[1] + ((Math.floor(k / nx) % ny) + 0.5) * cellMm
    const z = from[2] + (Math.floor(k / (nx * ny)) + 0.5) * cellMm
    const zone = zoneOf(x, y, z)
    if (zone < 0 || rate <= greatest[zone]!) continue
    greatest[zone] = rate
    least = greatest.reduce((a, b, z) => (floors[z] === Number.POSITIVE_INFINITY ? a : Math.min(a, b)), rate)
  }
  return greatest.map((g, zone) => Math.max(floors[zone] ?? floorKWm2, options.share * g))
}

/**
 * What a zone's first blocks tell: the share of the greatest B, where that is more, and what as many points hold as are wanted. These lie two
 * partings from one another, so that a hotter point takes the place of one of them at most: no point under the least of them is wanted.
 */
function raiseThresholds(
  grid: Grid,
  blocks: Blocks,
  lattice: Lattice,
  thresholds: Float64Array,
  options: DenseOptions,
): Float64Array {
  const byZone: DensePoint[][] = Array.from({ length: options.zones }, () => [])
  forPoints(grid, blocks, lattice, thresholds, options.zoneOf, (point) => byZone[point.zone]!.push(point))
  return thresholds.map((t, zone) => {
    const hottest = part(byZone[zone]!, options.most, 2 * options.partMm)
    const leastOfMost = hottest.length === options.most ? hottest.at(-1)!.kWm2 : 0
    return Math.max(t, options.share * (hottest[0]?.kWm2 ?? 0), leastOfMost)
  })
}

/** The hottest points of each zone, parted. */
function pickPoints(
  grid: Grid,
  blocks: Blocks,
  lattice: Lattice,
  thresholds: Float64Array,
  { zoneOf, zones, most, partMm }: DenseOptions,
): DensePoint[] {
  const byZone: DensePoint[][] = Array.from({ length: zones }, () => [])
  forPoints(grid, blocks, lattice, thresholds, zoneOf, (point) => byZone[point.zone]!.push(point))
  return byZone.flatMap((points) => part(points, most, partMm))
}

/** Calls `each` with the points of the lattice that hold at least as much as `least` says for their zone when they are come to. */
function forPoints(
  { n }: Grid,
  blocks: Blocks,
  { m, spacingMm, from, kWm2 }: Lattice,
  least: Float64Array,
  zoneOf: DenseOptions['zoneOf'],
  each: (point: DensePoint) => void,
): void {
  const [nx, ny] = n
  const leastOfAll = Math.min(...least)
  const perBlock = m * m * m
  for (let block = 0; block < blocks.count; block++) {
    const k = blocks.corner[block]!
    const x0 = k % nx
    const y0 = Math.floor(k / nx) % ny
    const z0 = Math.floor(k / (nx * ny))
    for (let j = 0; j < perBlock; j++) {
      const value = kWm2[block * perBlock + j]!
      if (value < leastOfAll) continue
      const xMm = from[0] + (x0 * m + (j % m)) * spacingMm
      const yMm = from[1] + (y0 * m + (Math.floor(j / m) % m)) * spacingMm
      const zMm = from[2] + (z0 * m + Math.floor(j / (m * m))) * spacingMm
      const zone = zoneOf(xMm, yMm, zMm)
      if (zone >= 0 && value >= least[zone]!) each({ xMm, yMm, zMm, zone, kWm2: value })
    }
  }
}

/** The hottest first, none within `partMm` of a hotter one. */
export function part<T extends Pick<DensePoint, 'xMm' | 'yMm' | 'zMm' | 'kWm2'>>(
  points: T[],
  most: number,
  partMm: number,
): T[] {
  const out: T[] = []
  for (const p of points.sort((a, b) => b.kWm2 - a.kWm2)) {
    if (out.length >= most) break
    if (out.every((o) => (o.xMm - p.xMm) ** 2 + (o.yMm - p.yMm) ** 2 + (o.zMm - p.zMm) ** 2 >= partMm * partMm))
      out.push(p)
  }
  return out
}
