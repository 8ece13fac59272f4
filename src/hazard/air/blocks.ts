// The blocks of the sparse grid (grid.ts) that can hold what is looked for, by bounds of what each can hold.
import { type Blocks, type Grid, KW_M2 } from './balls.ts'

export interface DenseOptions {
  discMm: number
  /** Points under this are of no interest, kW/m². */
  floorKWm2: number
  /** Of a zone, where it is more than floorKWm2. */
  floorOf?: (zone: number) => number
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

/** By corner the number of its block, or −1: used again from search to search, one runs at a time in a thread. `set`: where some may not be −1. */
const scratch = { numbers: new Int32Array(0), set: new Int32Array(0) }

/** Of so many corners, each without a block. */
function numbersFor(count: number): Int32Array {
  if (scratch.numbers.length < count) scratch.numbers = new Int32Array(count).fill(-1)
  else for (const k of scratch.set) scratch.numbers[k] = -1
  return scratch.numbers.subarray(0, count)
}

const ABLE = -3

/**
 * Numbers of the corners that one of their 8 cells with at least an eighth of `leastW` lies about, in rising order: of the others none holds
 * so much.
 */
function cornersAble(
  { n }: Grid,
  power: Float32Array,
  crossed: Int32Array,
  leastW: number,
  of: Int32Array,
): Int32Array {
  const [nx, ny, nz] = n
  const plane = nx * ny
  // The sum of eight is rounded.
  const least = (leastW / 8) * (1 - 1e-5)
  let count = 0
  for (const k of crossed) {
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
export function chooseBlocks(
  grid: Grid,
  power: Float32Array,
  crossed: Int32Array,
  thresholds: Float64Array,
  options: DenseOptions,
): Blocks {
  const { from, n, cellMm } = grid
  const [nx, ny, nz] = n
  const radius = options.discMm / 2
  const toKWm2 = KW_M2 / (Math.PI * radius * radius)
  // A little less: each block's own threshold decides.
  const leastW = (Math.min(...thresholds) / toKWm2) * (1 - 1e-12)
  const plane = nx * ny
  const of = numbersFor(nx * ny * nz)
  const able = cornersAble(grid, power, crossed, leastW, of)
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
  const corner = able.slice(0, count)
  scratch.set = corner
  return {
    count,
    of,
    corner,
    power: powers.slice(0, count),
    zone: zones.slice(0, count),
    met: met.slice(0, count),
    least: leasts.slice(0, count),
  }
}

/** In each zone so many of the blocks that the most power crosses. */
export function strongestBlocks(blocks: Blocks, zones: number, most: number): Blocks {
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
  return takeBlocks(blocks, taken)
}

/** Of each zone that some block meets which has no number in `of` any more: the most that such a block can hold. */
export function tellLeftOut(all: Blocks, of: Int32Array, { discMm, zones, onLeftOut }: DenseOptions): void {
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

/** The blocks with these numbers, in this order; `of` then has theirs alone. */
export function takeBlocks(blocks: Blocks, taken: ArrayLike<number>): Blocks {
  const count = taken.length
  const { of } = blocks
  for (const k of blocks.corner) of[k] = -1
  const corner = new Int32Array(count)
  const power = new Float32Array(count)
  const zone = new Int8Array(count)
  const met = new Uint16Array(count)
  const least = new Float32Array(count)
  for (let k = 0; k < count; k++) {
    const b = taken[k]!
    const at = blocks.corner[b]!
    corner[k] = at
    power[k] = blocks.power[b]!
    zone[k] = blocks.zone[b]!
    met[k] = blocks.met[b]!
    least[k] = blocks.least[b]!
    of[at] = k
  }
  return { count, of, corner, power, zone, met, least }
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
  for (let zone = 0; zone < thresholds.length; zone++) {
    const own = thresholds[zone]!
    if ((met >> zone) & 1 && own < least) least = own
  }
  return least
}

/** Numbers of the blocks whose power reaches thresholds that have been raised; their least ones are written anew. */
export function ableBlocks(blocks: Blocks, thresholds: Float64Array, { discMm }: DenseOptions): Uint32Array {
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
