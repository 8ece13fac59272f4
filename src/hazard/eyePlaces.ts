// Where an eye can be at a distance from the lamp, in front, beside and behind, and at which of these places most light
// arrives. The lamp is taken as the smallest round cylinder about the axis that all its rays leave from: a place at a
// distance is that far from the nearest point of it.
import { type CellSums, makeCellSums } from '../num/cellSums.ts'
import type { EyeRays } from './eyeRays.ts'

export interface Hull {
  radiusMm: number
  fromZMm: number
  toZMm: number
}

export interface Place3 {
  xMm: number
  yMm: number
  zMm: number
}

/** The cylinder about the axis that holds where all rays start, mm; up to frontZMm at least. A point without rays. */
export function hullOf(rays: EyeRays, frontZMm: number): Hull {
  let [square, fromZMm, toZMm] = [0, frontZMm, frontZMm]
  for (let i = 0; i < rays.count; i++) {
    square = Math.max(square, rays.xMm[i]! ** 2 + rays.yMm[i]! ** 2)
    fromZMm = Math.min(fromZMm, rays.zMm[i]!)
    toZMm = Math.max(toZMm, rays.zMm[i]!)
  }
  return { radiusMm: Math.sqrt(square), fromZMm, toZMm }
}

/** Distance of a place outside from the hull, mm; 0 inside. */
export function distanceFrom(hull: Hull, { xMm, yMm, zMm }: Place3): number {
  const aside = Math.max(0, Math.hypot(xMm, yMm) - hull.radiusMm)
  const along = Math.max(0, zMm - hull.toZMm, hull.fromZMm - zMm)
  return Math.hypot(aside, along)
}

/** Where rays pass all places at one distance: they start inside and the hull is convex, so each passes once. */
export interface Crossings {
  distanceMm: number
  xMm: Float32Array
  yMm: Float32Array
  zMm: Float32Array
  /** Unit directions. */
  dx: Float32Array
  dy: Float32Array
  dz: Float32Array
  watts: Float32Array
  /** Cosine of the angle off the axis of the place, as seen from the middle of the front. */
  cosOff: Float32Array
  /** Rays of the whole for each one here. */
  factor: number
}

export const MOST_CROSSINGS = 1 << 16

/**
 * Places (mm) at which rays are `distanceMm` away from the hull, with W weighted for the retina; every so many of the
 * rays, 65,536 at most. Newton's rule on the distance along the ray, which is convex.
 */
export function crossAt(rays: EyeRays, hull: Hull, distanceMm: number): Crossings {
  const step = oddStep(Math.ceil(rays.count / MOST_CROSSINGS))
  const index = Uint32Array.from({ length: Math.ceil(rays.count / step) }, (_, k) => k * step)
  return crossingsOf(rays, hull, distanceMm, index, index.length > 0 ? rays.count / index.length : 1)
}

/**
 * The same of all rays that may cross so far off the axis, as seen from the middle of the front, where these are few: from there a ray that starts L away runs to a place at distance d
 * within asin(L/d) of its own direction.
 */
export function crossAside(rays: EyeRays, hull: Hull, distanceMm: number, leastOffDeg: number): Crossings {
  const reachMm = Math.hypot(hull.radiusMm, hull.toZMm - hull.fromZMm)
  const bent = Math.asin(Math.min(1, reachMm / distanceMm))
  const most = Math.cos(Math.max(0, (leastOffDeg * Math.PI) / 180 - bent))
  const index: number[] = []
  for (let i = 0; i < rays.count; i++) if (rays.dz[i]! <= most) index.push(i)
  const step = oddStep(Math.ceil(index.length / MOST_CROSSINGS))
  const taken = index.filter((_, k) => k % step === 0)
  return crossingsOf(rays, hull, distanceMm, taken, taken.length > 0 ? index.length / taken.length : 1)
}

function crossingsOf(
  rays: EyeRays,
  hull: Hull,
  distanceMm: number,
  index: ArrayLike<number>,
  factor: number,
): Crossings {
  const n = index.length
  const column = () => new Float32Array(n)
  const directions = { dx: column(), dy: column(), dz: column() }
  const out = { xMm: column(), yMm: column(), zMm: column(), ...directions, watts: column(), cosOff: column() }
  for (let k = 0; k < n; k++) {
    const i = index[k]!
    const t = wayTo(rays, i, hull, distanceMm)
    const [x, y, z] = [rays.xMm[i]! + t * rays.dx[i]!, rays.yMm[i]! + t * rays.dy[i]!, rays.zMm[i]! + t * rays.dz[i]!]
    out.xMm[k] = x
    out.yMm[k] = y
    out.zMm[k] = z
    out.dx[k] = rays.dx[i]!
    out.dy[k] = rays.dy[i]!
    out.dz[k] = rays.dz[i]!
    out.watts[k] = rays.thermal[i]!
    out.cosOff[k] = (z - hull.toZMm) / Math.hypot(x, y, z - hull.toZMm)
  }
  return { distanceMm, ...out, factor }
}

/** An even step would leave out batches: rays may lie batch by batch in turn. */
export const oddStep = (step: number): number => (step % 2 === 0 ? step + 1 : step)

const MOST_ROUNDS = 40

function wayTo(rays: EyeRays, i: number, hull: Hull, distanceMm: number): number {
  const x0 = rays.xMm[i]!
  const y0 = rays.yMm[i]!
  const z0 = rays.zMm[i]!
  const dx = rays.dx[i]!
  const dy = rays.dy[i]!
  const dz = rays.dz[i]!
  // From beyond: there the distance along a ray rises, and being convex Newton's steps never overshoot.
  let t = distanceMm + Math.hypot(2 * hull.radiusMm, hull.toZMm - hull.fromZMm)
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const x = x0 + t * dx
    const y = y0 + t * dy
    const z = z0 + t * dz
    const r = Math.sqrt(x * x + y * y)
    const aside = Math.max(0, r - hull.radiusMm)
    const along = z > hull.toZMm ? z - hull.toZMm : Math.min(0, z - hull.fromZMm)
    const distance = Math.sqrt(aside * aside + along * along)
    const short = distanceMm - distance
    if (Math.abs(short) < 1e-4 * distanceMm) break
    const slope = (aside * (r > 0 ? (x * dx + y * dy) / r : 0) + along * dz) / distance
    t += short / slope
  }
  return t
}

/** Edges of cells in which places are compared, in shares of the distance, and the least one, mm. */
const CELL_SHARE = 0.004
const CELL_MM = 10
const SCALES = [1, 4, 24]
const LOWER_SIGMAS = 2
/** Of the narrowest cells: nearer places would tell of the same light. */
const APART_CELLS = 8
const CENTRE = 512

/**
 * Places (mm) at which most light arrives, at most `most`: the brightest, the middle of the widest, others apart from these: cells in space, of three
 * sizes, that hold most watts for their size even at the lower end of chance; then the middle of what passes there.
 * `leastOffDeg`: only so far off the axis, as seen from the middle of the front.
 */
export function brightestPlaces(at: Crossings, hull: Hull, most: number, leastOffDeg = 0): DenseSpot[] {
  const upTo = Math.cos((leastOffDeg * Math.PI) / 180)
  scratch ??= makeCellSums(MOST_CROSSINGS)
  const cells = scratch
  const narrowest = cellAt(at)
  const best = SCALES.map((scale) => {
    const cellMm = scale * narrowest
    fillCells(cells, at, cellMm, upTo)
    const found: Cell[] = []
    // What the last of a full list must be beaten by.
    let least = 0
    cells.each((key, sum, count) => {
      const worth = (sum * Math.max(0, 1 - LOWER_SIGMAS / Math.sqrt(count))) / cellMm ** 2
      if (!(worth > least)) return
      keepBest(found, { ...middleOfCell(key, cellMm), worth, count, cellMm }, 4 * most)
      if (found.length === 4 * most) least = found[found.length - 1]!.worth
    })
    return found
  })
  const byWorth = best.flat().sort((a, b) => b.worth - a.worth)
  // The brightest, and the best of the widest cells: these find the middle of a broad beam, where narrow ones follow chance.
  const widest = best.slice(-1).flatMap((found) => found.slice(0, 1))
  const chosen = [...new Set([...byWorth.slice(0, 1), ...widest])].slice(0, most)
  for (const f of byWorth) {
    const isNear = (k: Cell) => Math.hypot(k.xMm - f.xMm, k.yMm - f.yMm, k.zMm - f.zMm) < APART_CELLS * narrowest
    if (chosen.length < most && !chosen.some(isNear)) chosen.push(f)
  }
  return chosen.map((c) => spotOf(at, hull, c, upTo))
}

/** Edge of the cells for so few rays that none of the others holds five, in narrowest cells: about the pupil that these are read by. */
const SPARSE_SCALE = 44

/** The place (mm) of a wide cell that holds most light, of however few rays; none where none passes. */
export function sparsePlace(at: Crossings, hull: Hull, leastOffDeg: number): DenseSpot[] {
  const upTo = Math.cos((leastOffDeg * Math.PI) / 180)
  const cellMm = SPARSE_SCALE * cellAt(at)
  scratch ??= makeCellSums(MOST_CROSSINGS)
  fillCells(scratch, at, cellMm, upTo)
  const found: Cell[] = []
  scratch.each((key, worth, count) => {
    if (worth > 0) keepBest(found, { ...middleOfCell(key, cellMm), worth, count, cellMm }, 1)
  })
  return found.map((cell) => spotOf(at, hull, cell, upTo))
}

const spotOf = (at: Crossings, hull: Hull, cell: Cell, upTo: number): DenseSpot => ({
  ...pushedTo(hull, at.distanceMm, middleOfLight(at, cell, upTo)),
  raysPerMm2: (at.factor * cell.count) / cell.cellMm ** 2,
})

/** Edge of the narrowest cells, mm: so wide that a key has room for all, where light leaves far aside. */
function cellAt({ distanceMm, xMm, yMm, zMm }: Crossings): number {
  let reach = 0
  for (let k = 0; k < xMm.length; k++) reach = Math.max(reach, Math.abs(xMm[k]!), Math.abs(yMm[k]!), Math.abs(zMm[k]!))
  return Math.max(CELL_MM, CELL_SHARE * distanceMm, reach / (CENTRE - 1))
}

/** A place and how many of all rays cross a square millimetre there. */
export type DenseSpot = Place3 & { raysPerMm2: number }

interface Cell extends Place3 {
  /** W/mm² at the lower end. */
  worth: number
  /** Rays. */
  count: number
  cellMm: number
}

let scratch: CellSums | null = null

const cellKey = (x: number, y: number, z: number, cellMm: number): number =>
  ((Math.floor(x / cellMm) + CENTRE) & 1023) |
  (((Math.floor(y / cellMm) + CENTRE) & 1023) << 10) |
  (((Math.floor(z / cellMm) + CENTRE) & 1023) << 20)

function fillCells(cells: CellSums, at: Crossings, cellMm: number, upTo: number): void {
  cells.clear()
  for (let k = 0; k < at.watts.length; k++) {
    if (at.cosOff[k]! > upTo) continue
    cells.add(cellKey(at.xMm[k]!, at.yMm[k]!, at.zMm[k]!, cellMm) >>> 0, at.watts[k]!)
  }
}

function keepBest(best: Cell[], cell: Cell, most: number): void {
  best.splice(best.findLastIndex((b) => b.worth >= cell.worth) + 1, 0, cell)
  if (best.length > most) best.pop()
}

function middleOfCell(key: number, cellMm: number): Place3 {
  const along = (shift: number) => (((key >>> shift) & 1023) - CENTRE + 0.5) * cellMm
  return { xMm: along(0), yMm: along(10), zMm: along(20) }
}

/** Where most light passes within a cell's edge: about the cell's middle, or about the mean of what passes there, up to four times over. */
function middleOfLight(at: Crossings, cell: Cell, upTo: number): Place3 {
  const count = gatherCrossings(at, cell, upTo)
  const square = cell.cellMm ** 2
  let best = { place: cell as Place3, watts: -1 }
  let { xMm, yMm, zMm } = cell
  for (let round = 0; round < 5; round++) {
    let [w, x, y, z] = [0, 0, 0, 0]
    for (let n = 0; n < count; n++) {
      const k = nearby[n]!
      const dx = at.xMm[k]! - xMm
      const dy = at.yMm[k]! - yMm
      const dz = at.zMm[k]! - zMm
      if (dx * dx + dy * dy + dz * dz > square) continue
      const watts = at.watts[k]!
      w += watts
      x += watts * dx
      y += watts * dy
      z += watts * dz
    }
    if (w >= best.watts) best = { place: { xMm, yMm, zMm }, watts: w }
    xMm += x / w
    yMm += y / w
    zMm += z / w
  }
  return best.place
}

/** Numbers of the crossings that were gathered last. */
const nearby = new Uint32Array(MOST_CROSSINGS)

/** Gathers the crossings that the middle may move over, and says how many they are. */
function gatherCrossings(at: Crossings, { xMm, yMm, zMm, cellMm }: Cell, upTo: number): number {
  const reach = 3 * cellMm
  const [x, y, z, cosOff] = [at.xMm, at.yMm, at.zMm, at.cosOff]
  let count = 0
  for (let k = 0; k < x.length; k++) {
    const [dx, dy, dz] = [x[k]! - xMm, y[k]! - yMm, z[k]! - zMm]
    if (dx > reach || dx < -reach || dy > reach || dy < -reach || dz > reach || dz < -reach) continue
    if (cosOff[k]! <= upTo) nearby[count++] = k
  }
  return count
}

/** The place at a distance (mm) and an angle off the axis, as seen from the middle of the front, on the side of another. */
export function placeAtAngle(hull: Hull, distanceMm: number, angleDeg: number, { xMm, yMm }: Place3): Place3 {
  const [turn, off] = [Math.atan2(yMm, xMm), (angleDeg * Math.PI) / 180]
  const at = (way: number): Place3 => ({
    xMm: way * Math.sin(off) * Math.cos(turn),
    yMm: way * Math.sin(off) * Math.sin(turn),
    zMm: hull.toZMm + way * Math.cos(off),
  })
  // The hull is convex and the front's middle lies in it: farther on the line is farther from it.
  let [low, high] = [0, distanceMm + 2 * hull.radiusMm + hull.toZMm - hull.fromZMm]
  for (let step = 0; step < 40; step++) {
    const way = (low + high) / 2
    if (distanceFrom(hull, at(way)) < distanceMm) low = way
    else high = way
  }
  return at(high)
}

/** Moved to the distance asked for (mm), along the line from the nearest point of the hull. */
export function pushedTo(hull: Hull, distanceMm: number, { xMm, yMm, zMm }: Place3): Place3 {
  const r = Math.hypot(xMm, yMm)
  const keep = r > hull.radiusMm ? hull.radiusMm / r : 1
  const near = { xMm: xMm * keep, yMm: yMm * keep, zMm: Math.min(hull.toZMm, Math.max(hull.fromZMm, zMm)) }
  const away = Math.hypot(xMm - near.xMm, yMm - near.yMm, zMm - near.zMm)
  if (away === 0) return { xMm, yMm, zMm: hull.toZMm + distanceMm }
  const by = distanceMm / away
  return {
    xMm: near.xMm + by * (xMm - near.xMm),
    yMm: near.yMm + by * (yMm - near.yMm),
    zMm: near.zMm + by * (zMm - near.zMm),
  }
}
