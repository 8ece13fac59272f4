// Places from which the brightest patch of a wide source is seen. Where the source is wider than a field of view, most light arrives where much of the
// source is seen at once, and the most in one field may arrive elsewhere: an array's picture is a pattern of beams. So light is compared by place and by
// direction.
import { makeCellSums } from '../num/cellSums.ts'
import { type Crossings, type DenseSpot, type Hull, MOST_CROSSINGS, pushedTo } from './eyePlaces.ts'

/** Edges of the cells that places are compared in, in shares of the distance, and the least and the most near the lamp, mm: about what a pupil may be widened to. */
const PLACE_SHARE = 0.1
const PLACE_MM = 10
const WIDEST_PLACE_MM = 100
const WIDEST_PLACE_SHARE = 0.05
const LOWER_SIGMAS = 2
/** Kept apart by so many cells. */
const APART_CELLS = 1.5
/** Directions near the plane of a square lattice of cosines cover more solid angle; up to here that is counted. */
const LEAST_COS = 0.3
const CENTRE = 512
const COSINES = 32

let cells: ReturnType<typeof makeCellSums> | null = null

/** Whether a source may be seen wider than a field (rad) at a distance (mm) from its hull. */
export const isWider = (hull: Hull, distanceMm: number, fieldRad: number): boolean =>
  2 * hull.radiusMm > fieldRad * distanceMm

/**
 * Places (mm) at which most light arrives out of one field of view (rad), at most `most`: cells of place and direction that hold most watts even at the
 * lower end of chance, apart from one another; the middle of what passes there. `leastOffDeg` as for brightestPlaces.
 */
export function brightestPatches(
  at: Crossings,
  hull: Hull,
  fieldRad: number,
  { most, leastOffDeg = 0 }: { most: number; leastOffDeg?: number },
): DenseSpot[] {
  const cellMm = cellAt(at)
  const step = Math.max((fieldRad * Math.sqrt(Math.PI)) / 2, 2 / (COSINES - 2))
  const upTo = Math.cos((leastOffDeg * Math.PI) / 180)
  const found = SHIFTS.flatMap((shift) => {
    const keys = fillCells(at, cellMm, { step, shift }, upTo)
    const best: { keys: Uint32Array; key: number; worth: number }[] = []
    cells?.each((key, sum, count) => {
      const worth = sum * Math.max(0, 1 - LOWER_SIGMAS / Math.sqrt(count)) * steepness(key, { step, shift })
      if (worth > 0) best.push({ keys, key, worth })
    })
    return best
  })
  found.sort((a, b) => b.worth - a.worth)
  const chosen: DenseSpot[] = []
  for (const { keys, key } of found.slice(0, 8 * most)) {
    if (chosen.length === most) break
    const spot = middleOf(at, hull, keys, key)
    const isNear = (k: DenseSpot) =>
      Math.hypot(k.xMm - spot.xMm, k.yMm - spot.yMm, k.zMm - spot.zMm) < APART_CELLS * cellMm
    if (!chosen.some(isNear)) chosen.push(spot)
  }
  return chosen.map((spot) => ({ ...spot, raysPerMm2: densityAbout(at, spot, cellMm / 2) }))
}

function cellAt({ distanceMm, xMm, yMm, zMm }: Crossings): number {
  let reach = 0
  for (const column of [xMm, yMm, zMm]) for (const mm of column) reach = Math.max(reach, Math.abs(mm))
  const widest = Math.max(WIDEST_PLACE_MM, WIDEST_PLACE_SHARE * distanceMm)
  return Math.max(PLACE_MM, Math.min(widest, PLACE_SHARE * distanceMm), reach / (CENTRE - 1))
}

const NOWHERE = 0xffffffff
/** A patch on the border of a cell of directions lies in the middle of one of the lattice half a cell on. */
const SHIFTS = [0, 0.5]

/** Square cells of direction cosines. */
interface Lattice {
  step: number
  shift: number
}

/** Sums by place and direction; the key of each crossing. Place cells are numbered in the order of first use. */
function fillCells(at: Crossings, cellMm: number, { step, shift }: Lattice, upTo: number): Uint32Array {
  cells ??= makeCellSums(MOST_CROSSINGS)
  cells.clear()
  const numbers = new Map<number, number>()
  const along = (mm: number) => (Math.floor(mm / cellMm) + CENTRE) & 1023
  const cosine = (d: number) => Math.floor(d / step + shift) + COSINES / 2
  const keys = new Uint32Array(at.watts.length).fill(NOWHERE)
  for (const [k, watts] of at.watts.entries()) {
    if ((at.cosOff[k] ?? 1) > upTo) continue
    const place = along(at.xMm[k] ?? 0) + 1024 * along(at.yMm[k] ?? 0) + 1024 ** 2 * along(at.zMm[k] ?? 0)
    const number = numbers.get(place) ?? numbers.size
    numbers.set(place, number)
    const ahead = (at.dz[k] ?? 1) < 0 ? 1 : 0
    const key = ((number * COSINES + cosine(at.dx[k] ?? 0)) * COSINES + cosine(at.dy[k] ?? 0)) * 2 + ahead
    keys[k] = key
    cells.add(key, watts)
  }
  return keys
}

/** Solid angle of a cell of cosines is its area over the cosine to their plane's normal. */
function steepness(key: number, { step, shift }: Lattice): number {
  const middle = (index: number) => (index - COSINES / 2 + 0.5 - shift) * step
  const [x, y] = [middle(Math.floor(key / (2 * COSINES)) % COSINES), middle(Math.floor(key / 2) % COSINES)]
  return Math.sqrt(Math.max(LEAST_COS ** 2, 1 - x * x - y * y))
}

function middleOf(at: Crossings, hull: Hull, keys: Uint32Array, key: number): DenseSpot {
  let [w, x, y, z] = [0, 0, 0, 0]
  for (const [k, own] of keys.entries()) {
    if (own !== key) continue
    const watts = at.watts[k] ?? 0
    w += watts
    x += watts * (at.xMm[k] ?? 0)
    y += watts * (at.yMm[k] ?? 0)
    z += watts * (at.zMm[k] ?? 0)
  }
  return { ...pushedTo(hull, at.distanceMm, { xMm: x / w, yMm: y / w, zMm: z / w }), raysPerMm2: 0 }
}

/** Rays of the whole that cross a square millimetre within a radius of a place. */
function densityAbout({ xMm, yMm, zMm, factor }: Crossings, spot: DenseSpot, radiusMm: number): number {
  let count = 0
  for (const [k, x] of xMm.entries())
    if ((x - spot.xMm) ** 2 + ((yMm[k] ?? 0) - spot.yMm) ** 2 + ((zMm[k] ?? 0) - spot.zMm) ** 2 <= radiusMm ** 2)
      count++
  return (factor * count) / (Math.PI * radiusMm ** 2)
}
