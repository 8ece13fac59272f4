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
import { reachingBlocks } from './tighten.ts'

/** Coarse cells are this many radii of the disc wide, or more where the region is too large for it: whole ones, for the lattice in them. */
const CELL_RADII = 4
const MOST_CELLS_ACROSS = 150
/**
 * A disc far smaller than a cell has tens of thousands of points in each block. Beyond so many points in all (128 MB) only the blocks that
 * the most power crosses are looked into, and what the others can hold at most is told.
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

export interface DenseOptions {
  discMm: number
  /** Points under this are of no interest, kW/m². */
  floorKWm2: number
  /** In each zone, points under this share of its hottest are left out: 0 to 1. */
  share: number
  /** Which zone a point belongs to, from 0; −1: it isn't looked at. */
  zoneOf: (xMm: number, yMm: number, zMm: number) => number
  zones: number
  /** So many points a zone, parted by `partMm`. */
  most: number
  partMm: number
  /** Hears that blocks of a zone were left out, and that no ball in them holds more than this (kW/m²): the search there was coarser than the disc. */
  onLeftOut?: (zone: number, upToKWm2: number) => void
  /** Points in all; by default as many as memory allows. */
  mostPoints?: number
}

/**
 * The densest points of each zone, hottest first: place (mm), B (kW/m²). `segments` have finite lengths. Empty without light.
 */
export function findDensePoints(segments: Segments, options: DenseOptions): DensePoint[] {
  const grid = gridAbout(segments, options.discMm / 2)
  if (!grid) return []
  const { power, fluence } = sumCells(segments, grid)
  const rough = zoneThresholds(grid, fluence, options)
  let blocks = chooseBlocks(grid, power, rough, options)
  if (blocks.count === 0) return []
  let thresholds = rough
  let known: KnownBlocks | undefined
  const perBlock = pointsAcross(grid, options.discMm / 2) ** 3
  const mostPoints = options.mostPoints ?? MOST_POINTS
  const mostEach = Math.ceil(mostPoints / perBlock / options.zones)
  if (blocks.count > MANY_BLOCKS) {
    // A cell is larger than a focus: what the strongest blocks really hold is a better lower bound.
    const first = strongestBlocks(grid, blocks, options.zones, Math.min(mostEach, MANY_BLOCKS / 4))
    const sums = sumBalls(segments, grid, first, options.discMm / 2)
    thresholds = raiseThresholds(grid, first, sums, rough, options)
    known = { corner: first.corner, kWm2: sums.kWm2.slice() }
    blocks = takeBlocks(grid, blocks, ableBlocks(blocks, thresholds, options))
    blocks = takeBlocks(grid, blocks, reachingBlocks(segments, grid, blocks, options.discMm / 2))
  }
  if (blocks.count * perBlock > mostPoints) {
    const all = blocks
    blocks = strongestBlocks(grid, all, options.zones, mostEach)
    tellLeftOut(all, blocks.of, options)
  }
  const lattice = sumBalls(segments, grid, blocks, options.discMm / 2, known)
  return pickPoints(grid, blocks, lattice, thresholds, options)
}

function gridAbout(segments: Segments, radiusMm: number): Grid | null {
  if (segments.count === 0) return null
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
  const extent = Math.max(...high.map((h, k) => h - low[k]!))
  const cellMm = radiusMm * Math.max(CELL_RADII, Math.ceil(extent / MOST_CELLS_ACROSS / radiusMm))
  const n = high.map((h, k) => Math.ceil((h - low[k]!) / cellMm) + 2) as [number, number, number]
  return { from: low.map((l) => l - cellMm) as [number, number, number], n, cellMm }
}

/** Used again from search to search: one runs at a time in a thread. */
const scratch = { power: new Float32Array(0), fluence: new Float32Array(0), block: new Int32Array(0) }

function sized<K extends keyof typeof scratch>(name: K, size: number, fill: number): (typeof scratch)[K] {
  if (scratch[name].length < size) scratch[name] = new (scratch[name].constructor as new (n: number) => never)(size)
  const array = scratch[name].subarray(0, size) as (typeof scratch)[K]
  array.fill(fill)
  return array
}

/** By cell: watts that cross it, and watts times path, W mm. Cells along a line by Amanatides and Woo (Eurographics 1987). */
function sumCells(segments: Segments, { from, n, cellMm }: Grid): { power: Float32Array; fluence: Float32Array } {
  const [nx, ny, nz] = n
  // A segment ends within the cells: they reach a cell beyond all light.
  const power = sized('power', nx * ny * nz, 0)
  const fluence = sized('fluence', nx * ny * nz, 0)
  for (let i = 0; i < segments.count; i++) {
    const dx = segments.dx[i]!
    const dy = segments.dy[i]!
    const dz = segments.dz[i]!
    const watts = segments.watts[i]!
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
  return { power, fluence }
}

/** For each zone the floor, or the share of its greatest fluence rate (kW/m²). */
function zoneThresholds(grid: Grid, fluence: Float32Array, options: DenseOptions): Float64Array {
  const { from, n, cellMm } = grid
  const [nx, ny] = n
  const toKWm2 = KW_M2 / cellMm ** 3
  const greatest = new Float64Array(options.zones)
  const { floorKWm2, zoneOf } = options
  for (let k = 0; k < fluence.length; k++) {
    const rate = fluence[k]! * toKWm2
    if (rate < floorKWm2) continue
    const x = from[0] + ((k % nx) + 0.5) * cellMm
    const y = from[1] + ((Math.floor(k / nx) % ny) + 0.5) * cellMm
    const z = from[2] + (Math.floor(k / (nx * ny)) + 0.5) * cellMm
    const zone = zoneOf(x, y, z)
    if (zone >= 0 && rate > greatest[zone]!) greatest[zone] = rate
  }
  return greatest.map((g) => Math.max(floorKWm2, options.share * g))
}

const ABLE = -3

/**
 * Numbers of the corners that one of their 8 cells with at least an eighth of `leastW` lies about, in rising order: of the others none holds
 * so much.
 */
function cornersAble({ n }: Grid, power: Float32Array, leastW: number, of: Int32Array): Int32Array {
  const [nx, ny, nz] = n
  const plane = nx * ny
  // The sum of eight is rounded.
  const least = (leastW / 8) * (1 - 1e-5)
  let count = 0
  for (let k = 0; k < power.length; k++) {
    if (power[k]! < least) continue
    const x = k % nx
    const y = Math.floor(k / nx) % ny
    const z = Math.floor(k / plane)
    for (let j = 0; j < 8; j++) {
      const up = j >> 2
      const back = (j >> 1) & 1
      const right = j & 1
      const cx = x + right
      const cy = y + back
      const cz = z + up
      if (cx < 1 || cy < 1 || cz < 1 || cx >= nx || cy >= ny || cz >= nz) continue
      const corner = k + up * plane + back * nx + right
      if (of[corner] === ABLE) continue
      of[corner] = ABLE
      count++
    }
  }
  const corners = new Int32Array(count)
  for (let k = 0, at = 0; at < count; k++) if (of[k] === ABLE) corners[at++] = k
  return corners
}

/** Corners whose 8 cells are crossed by enough power for one ball to reach its zone's threshold. */
function chooseBlocks(grid: Grid, power: Float32Array, thresholds: Float64Array, options: DenseOptions): Blocks {
  const { from, n, cellMm } = grid
  const [nx, ny, nz] = n
  const radius = options.discMm / 2
  const toKWm2 = KW_M2 / (Math.PI * radius * radius)
  const leastW = Math.min(...thresholds) / toKWm2
  const plane = nx * ny
  const of = sized('block', nx * ny * nz, -1)
  const able = cornersAble(grid, power, leastW, of)
  const powers = new Float32Array(able.length)
  const zones = new Int8Array(able.length)
  const met = new Uint16Array(able.length)
  const leasts = new Float32Array(able.length)
  let count = 0
  for (const k of able) {
    of[k] = -1
    // The four cells beside the corner towards −x, then those towards +x.
    const before = power[k - 1]! + power[k - 1 - nx]! + power[k - 1 - plane]! + power[k - 1 - plane - nx]!
    const after = power[k]! + power[k - nx]! + power[k - plane]! + power[k - plane - nx]!
    const sum = before + after
    if (sum < leastW) continue
    const x = from[0] + (k % nx) * cellMm
    const y = from[1] + (Math.floor(k / nx) % ny) * cellMm
    const z = from[2] + Math.floor(k / plane) * cellMm
    const own = zonesMet(x, y, z, cellMm / 2, options.zoneOf)
    const least = leastOf(own, thresholds)
    if (sum * toKWm2 < least) continue
    of[k] = count
    // They stand before those that are still to come.
    able[count] = k
    powers[count] = sum
    zones[count] = options.zoneOf(x, y, z)
    met[count] = own
    leasts[count] = least
    count++
  }
  return {
    count,
    of,
    corner: able.slice(0, count),
    power: powers.slice(0, count),
    zone: zones.slice(0, count),
    met: met.slice(0, count),
    least: leasts.slice(0, count),
  }
}

/** In each zone so many of the blocks that the most power crosses. */
function strongestBlocks(grid: Grid, blocks: Blocks, zones: number, most: number): Blocks {
  const taken: number[] = []
  for (let zone = 0; zone < zones; zone++) {
    let count = 0
    const own = new Float32Array(blocks.count)
    for (let b = 0; b < blocks.count; b++) if (blocks.zone[b] === zone) own[count++] = blocks.power[b]!
    const leastW = count > most ? own.subarray(0, count).sort()[count - most]! : 0
    const strongest: number[] = []
    for (let b = 0; b < blocks.count; b++) if (blocks.zone[b] === zone && blocks.power[b]! >= leastW) strongest.push(b)
    taken.push(...strongest.sort((a, b) => blocks.power[b]! - blocks.power[a]!).slice(0, most))
  }
  return takeBlocks(grid, blocks, taken)
}

/** Of each zone that some block meets which has no number in `of` any more: the most that such a block can hold. */
function tellLeftOut(all: Blocks, of: Int32Array, { discMm, zones, onLeftOut }: DenseOptions): void {
  if (!onLeftOut) return
  const most = new Float64Array(zones)
  for (let b = 0; b < all.count; b++) {
    if (of[all.corner[b]!]! >= 0) continue
    for (let zone = 0; zone < zones; zone++)
      if ((all.met[b]! >> zone) & 1) most[zone] = Math.max(most[zone]!, all.power[b]!)
  }
  const toKWm2 = KW_M2 / (Math.PI * (discMm / 2) ** 2)
  for (const [zone, watts] of most.entries()) if (watts > 0) onLeftOut(zone, watts * toKWm2)
}

/** The blocks with these numbers, in this order. */
function takeBlocks({ n }: Grid, blocks: Blocks, taken: ArrayLike<number>): Blocks {
  const count = taken.length
  const of = sized('block', n[0] * n[1] * n[2], -1)
  const corner = new Int32Array(count)
  const power = new Float32Array(count)
  const zone = new Int8Array(count)
  const met = new Uint16Array(count)
  const least = new Float32Array(count)
  for (let k = 0; k < count; k++) {
    const b = taken[k]!
    corner[k] = blocks.corner[b]!
    power[k] = blocks.power[b]!
    zone[k] = blocks.zone[b]!
    met[k] = blocks.met[b]!
    least[k] = blocks.least[b]!
    of[corner[k]!] = k
  }
  return { count, of, corner, power, zone, met, least }
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
    const wanted = hottest.length === options.most ? hottest.at(-1)!.kWm2 : 0
    return Math.max(t, options.share * (hottest[0]?.kWm2 ?? 0), wanted)
  })
}

/** Bit z for each zone that a block meets, by its corners and its middle; 0: none is looked at. */
function zonesMet(x: number, y: number, z: number, half: number, zoneOf: DenseOptions['zoneOf']): number {
  let met = 0
  for (let k = 0; k < 9; k++) {
    const by = k === 8 ? 0 : half
    const zone = zoneOf(x + (k & 1 ? by : -by), y + (k & 2 ? by : -by), z + (k & 4 ? by : -by))
    if (zone >= 0) met |= 1 << zone
  }
  return met
}

/** The least threshold of these zones; Infinity: of none. */
function leastOf(met: number, thresholds: Float64Array): number {
  let least = Number.POSITIVE_INFINITY
  for (let zone = 0; zone < thresholds.length; zone++)
    if ((met >> zone) & 1 && thresholds[zone]! < least) least = thresholds[zone]!
  return least
}

/** Numbers of the blocks whose power reaches thresholds that have been raised; their least ones are written anew. */
function ableBlocks(blocks: Blocks, thresholds: Float64Array, { discMm }: DenseOptions): Uint32Array {
  const toKWm2 = KW_M2 / (Math.PI * (discMm / 2) ** 2)
  const able = new Uint32Array(blocks.count)
  let count = 0
  for (let b = 0; b < blocks.count; b++) {
    const least = leastOf(blocks.met[b]!, thresholds)
    blocks.least[b] = least
    if (blocks.power[b]! * toKWm2 * (1 + 1e-5) >= least) able[count++] = b
  }
  return able.subarray(0, count)
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
