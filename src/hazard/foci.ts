// All foci in front of the lamp, not only the worst place: wherever light crowds into a disc more than beside it, before it and behind
// it. Planes lie so close that no cone of rays can pass its waist between two of them unseen; on each, every place that stands out
// of its surroundings by more than chance is taken up and refined. Foci
// nearer to one another than some two discs count as one.

import type { TimeSliced } from '../num/scheduler.ts'
import { T95 } from '../num/stats.ts'
import { type RayColumns, rayColumns } from '../run/exits.ts'
import type { HotSpot } from '../run/figure.ts'
import { BATCHES, type Run } from '../run/types.ts'
import { climbDensity, discIrradiance, KW_M2, nearby, type Sample, type Spot2, sampleOf } from './planes.ts'

export interface Focus extends HotSpot {
  /** From the lamp's front. */
  distanceMm: number
  /** Half angle of the cone of rays that meet there, rad (root mean square, times √2: the rim of an even cone). */
  coneHalfRad: number
}

export interface FociOptions {
  discMm: number
  /** Weaker ones are left out. */
  floorKWm2?: number
  lookRays?: number
  /** No more than so many, the hottest first. */
  most?: number
}

interface Seed extends Spot2 {
  plane: number
  distanceMm: number
  kWm2: number
  /** Diameter that it was looked for with. */
  sizeMm: number
  /** The planes two before and two behind. */
  from: number
  to: number
}

const FAR_RADII = 60
const AT_LEAST_MM = 5000
const FIRST_MM = 1
/** Share of the depth in which a cone grows out of the disc that planes are apart. */
const DEPTH_STEP = 0.6
/** Spots are looked for at the disc's size, and wider ones at three and nine times it. */
const SCALES = [1, 3, 9]
const STANDS_OUT = 1.25
/** Beside the edge of a wider cone there is as much light further in. */
const FLANK = 1.05

export function* searchFoci(run: Run, frontZMm: number, options: FociOptions): TimeSliced<Focus[]> {
  const { discMm, floorKWm2 = 0.5, lookRays = 131_072, most = 40 } = options
  const rays = rayColumns(run, frontZMm)
  if (rays.count === 0) return []
  const look = sampleOf(rays, (b) => b % 2 === 0, lookRays)
  const seeds: Seed[] = []
  for (const scale of SCALES) {
    const sizeMm = scale * discMm
    const planes = planesFor(rays, sizeMm)
    const found: Seed[] = []
    for (const [plane, distanceMm] of planes.at.entries()) {
      yield
      const from = planes.at[Math.max(0, plane - 2)]!
      const to = planes.at[Math.min(planes.at.length - 1, plane + 2)]!
      for (const spot of standingOut(rays, look, distanceMm, planes.reach(distanceMm), sizeMm, floorKWm2))
        found.push({ ...spot, plane, distanceMm, sizeMm, from, to })
    }
    seeds.push(...strongestOfNeighbours(found, planes, sizeMm))
  }
  seeds.sort((a, b) => b.kWm2 - a.kWm2)
  return yield* refineAll(rays, frontZMm, seeds, { discMm, floorKWm2, most })
}

interface Planes {
  at: number[]
  slope: number
  reach: (distanceMm: number) => number
}

/** A cone to a focus at d is no wider than the aperture over d, nor than the slopes of the rays. */
function planesFor(rays: RayColumns, discMm: number): Planes {
  const step = Math.max(1, Math.floor(rays.count / 4000))
  const radii: number[] = []
  const slopes: number[] = []
  for (let i = 0; i < rays.count; i += step) {
    radii.push(Math.hypot(rays.xMm[i]!, rays.yMm[i]!))
    slopes.push(Math.hypot(rays.slopeX[i]!, rays.slopeY[i]!))
  }
  const at98 = (values: number[]) => values.sort((a, b) => a - b)[Math.floor(0.98 * (values.length - 1))]!
  const radius = Math.max(1, at98(radii))
  const slope = Math.max(1e-3, at98(slopes))
  const at: number[] = []
  const end = Math.max(AT_LEAST_MM, FAR_RADII * radius)
  for (let d = FIRST_MM; d < end; d += (DEPTH_STEP * discMm) / Math.min(slope, radius / d)) at.push(d)
  return { at, slope, reach: (d) => radius + slope * d }
}

const MOST_CELLS = 640
/** Standard deviations above the surroundings, of counts alone. */
const BEYOND_CHANCE = 6
const MOST_ON_A_PLANE = 60

/** Squares of the disc's area that hold more than all near them, and clearly more than the ring about them. */
function standingOut(
  rays: RayColumns,
  sample: Sample,
  distanceMm: number,
  reachMm: number,
  discMm: number,
  floorKWm2: number,
): (Spot2 & { kWm2: number })[] {
  const cell = Math.max((discMm * Math.sqrt(Math.PI)) / 4, (2 * reachMm) / MOST_CELLS)
  const n = Math.min(MOST_CELLS, Math.max(16, Math.ceil((2 * reachMm) / cell)))
  const blocks = blockSums(rays, sample, distanceMm, n, cell)
  const toKWm2 = (sample.factor * KW_M2) / (4 * cell * cell)
  const floor = (0.5 * floorKWm2) / toKWm2
  const out: (Spot2 & { kWm2: number; beyond: number })[] = []
  for (let r = 2; r < n - 3; r++) {
    for (let c = 2; c < n - 3; c++) {
      const here = blocks[r * n + c]!
      if (here < floor || !greatestNear(blocks, n, r, c)) continue
      const { mean, most } = ringOf(blocks, n, r, c)
      const beyond = (here - mean) / Math.sqrt(here * rays.wattsOfOne)
      if (beyond < BEYOND_CHANCE || here < STANDS_OUT * mean || here < FLANK * most) continue
      out.push({ xMm: (c + 1 - n / 2) * cell, yMm: (r + 1 - n / 2) * cell, kWm2: here * toKWm2, beyond })
    }
  }
  return out.sort((a, b) => b.beyond - a.beyond).slice(0, MOST_ON_A_PLANE)
}

/** Watts in two by two cells, by the cell with the least indices. */
function blockSums(rays: RayColumns, sample: Sample, distanceMm: number, n: number, cell: number): Float32Array {
  const grid = new Float32Array(n * n)
  const half = (n * cell) / 2
  for (let k = 0; k < sample.index.length; k++) {
    const i = sample.index[k]!
    const x = rays.xMm[i]! + rays.slopeX[i]! * distanceMm + half
    const y = rays.yMm[i]! + rays.slopeY[i]! * distanceMm + half
    if (!(x >= 0 && y >= 0 && x < n * cell && y < n * cell)) continue
    grid[Math.floor(y / cell) * n + Math.floor(x / cell)]! += rays.watts[i]!
  }
  for (let r = 0; r < n - 1; r++)
    for (let c = 0; c < n - 1; c++) {
      const k = r * n + c
      grid[k] = grid[k]! + grid[k + 1]! + grid[k + n]! + grid[k + n + 1]!
    }
  return grid
}

function greatestNear(blocks: Float32Array, n: number, r: number, c: number): boolean {
  const here = blocks[r * n + c]!
  for (let dr = -2; dr <= 2; dr++)
    for (let dc = -2; dc <= 2; dc++) {
      const k = (r + dr) * n + c + dc
      const other = blocks[k]!
      if (other > here || (other === here && k < r * n + c)) return false
    }
  return true
}

const RING = Array.from({ length: 16 }, (_, k) => {
  const turn = (2 * Math.PI * k) / 16
  return [Math.round(3 * Math.cos(turn)), Math.round(3 * Math.sin(turn))] as const
})

/** Mean and greatest of the blocks on a ring of three cells about a place; beyond the edge there is no light. */
function ringOf(blocks: Float32Array, n: number, r: number, c: number): { mean: number; most: number } {
  let sum = 0
  let most = 0
  for (const [dr, dc] of RING) {
    const [row, column] = [r + dr, c + dc]
    if (row < 0 || column < 0 || row >= n || column >= n) continue
    const there = blocks[row * n + column]!
    sum += there
    if (there > most) most = there
  }
  return { mean: sum / RING.length, most }
}

/** Seeds that no stronger one stands beside on the next planes. */
function strongestOfNeighbours(found: readonly Seed[], planes: Planes, discMm: number): Seed[] {
  const byPlane = new Map<number, Seed[]>()
  for (const s of found) byPlane.set(s.plane, [...(byPlane.get(s.plane) ?? []), s])
  return found.filter((s) =>
    [-1, 1].every((side) => {
      const next = planes.at[s.plane + side]
      if (next === undefined) return true
      const within = discMm + planes.slope * Math.abs(next - s.distanceMm)
      return (byPlane.get(s.plane + side) ?? []).every(
        (o) => o.kWm2 < s.kWm2 || Math.hypot(o.xMm - s.xMm, o.yMm - s.yMm) > within,
      )
    }),
  )
}

interface Refining {
  discMm: number
  floorKWm2: number
  most: number
}

function* refineAll(
  rays: RayColumns,
  frontZMm: number,
  seeds: readonly Seed[],
  { discMm, floorKWm2, most }: Refining,
): TimeSliced<Focus[]> {
  const { index } = sampleOf(rays, () => true, Number.POSITIVE_INFINITY)
  const out: Focus[] = []
  // A seed leads to its focus; more seeds than foci wanted are looked at, since some lead to the same or to none.
  for (const seed of seeds.slice(0, 6 * most)) {
    yield
    const waist = findWaist(rays, index, seed, seed.from, seed.to, seed.sizeMm)
    if (!waist || out.some((f) => same(f, waist, seed.sizeMm))) continue
    const focus = measureFocus(rays, index, waist, seed.sizeMm, discMm)
    if (!focus || focus.kWm2 + T95 * focus.se < floorKWm2) continue
    // The hottest disc of a wide spot may lie in the cone of a focus that is known.
    if (seed.sizeMm > discMm && out.some((f) => f.kWm2 > focus.kWm2 && inConeOf(f, focus))) continue
    out.push({ ...focus, zMm: frontZMm + focus.distanceMm })
  }
  return out.sort((a, b) => b.kWm2 - a.kWm2).slice(0, most)
}

interface Waist extends Spot2 {
  distanceMm: number
  slopeX: number
  slopeY: number
  /** Root mean square of the slopes about their mean, one axis. */
  spread: number
}

/** Within the light that comes from a focus or goes to it, the cone taken as standing straight and half as wide again. */
const inConeOf = (f: Focus, { xMm, yMm, distanceMm }: Pick<Focus, 'xMm' | 'yMm' | 'distanceMm'>): boolean =>
  Math.hypot(f.xMm - xMm, f.yMm - yMm) <=
  1.5 * f.discMm + 1.5 * Math.tan(f.coneHalfRad) * Math.abs(f.distanceMm - distanceMm)

/** Along a focus's own cone of rays: within a disc and a half across, and within the depth where the cone leaves the disc. */
function same(f: Focus, w: Waist, discMm: number): boolean {
  const along = Math.abs(f.distanceMm - w.distanceMm)
  const across = Math.hypot(f.xMm - w.xMm, f.yMm - w.yMm)
  return across <= 1.5 * discMm && along <= Math.max(discMm, (2 * discMm) / Math.max(1e-3, Math.tan(f.coneHalfRad)))
}

function findWaist(
  rays: RayColumns,
  index: Uint32Array,
  seed: Seed,
  from: number,
  to: number,
  discMm: number,
): Waist | null {
  const near = nearby(rays, index, seed, from, to, 4 * discMm)
  let best: Spot2 & { distanceMm: number; crowd: number } = { ...seed, crowd: 0 }
  const tryAt = (distanceMm: number) => {
    const here = climbDensity(rays, near, distanceMm, best, discMm)
    if (here.crowd > best.crowd) best = { ...here, distanceMm }
    return here.crowd
  }
  tryAt(seed.distanceMm)
  const steps = 12
  for (let k = 0; k <= steps; k++) tryAt(from + ((to - from) * k) / steps)
  let a = Math.max(FIRST_MM, best.distanceMm - (to - from) / steps)
  let b = best.distanceMm + (to - from) / steps
  const golden = (Math.sqrt(5) - 1) / 2
  for (let k = 0; k < 10; k++) {
    const [left, right] = [b - golden * (b - a), a + golden * (b - a)]
    if (tryAt(left) >= tryAt(right)) b = right
    else a = left
  }
  if (best.crowd <= 0) return null
  let waist = leastSpread(rays, near, best, discMm)
  for (let k = 0; k < 6; k++) {
    const next = leastSpread(rays, near, waist, discMm)
    const moved = Math.abs(next.distanceMm - waist.distanceMm)
    waist = next
    if (moved < 0.05) break
  }
  // A caustic is brightest beside its waist: then the brightest plane stands.
  const there = climbDensity(rays, near, waist.distanceMm, waist, discMm)
  return there.crowd >= 0.97 * best.crowd ? { ...waist, xMm: there.xMm, yMm: there.yMm } : { ...waist, ...best }
}

/** The plane where the rays of the disc lie closest together: d − cov(place, slope)/var(slope), least squares over both axes. */
function leastSpread(rays: RayColumns, near: Uint32Array, at: Spot2 & { distanceMm: number }, discMm: number): Waist {
  let [w, mx, my, msx, msy] = [0, 0, 0, 0, 0]
  const inside: number[] = []
  for (let k = 0; k < near.length; k++) {
    const i = near[k]!
    const [x, y] = crossing(rays, i, at.distanceMm)
    if ((x - at.xMm) ** 2 + (y - at.yMm) ** 2 > (discMm / 2) ** 2) continue
    inside.push(i)
    const watts = rays.watts[i]!
    w += watts
    mx += watts * x
    my += watts * y
    msx += watts * rays.slopeX[i]!
    msy += watts * rays.slopeY[i]!
  }
  if (!(w > 0)) return { ...at, slopeX: 0, slopeY: 0, spread: 0 }
  const [x0, y0, sx0, sy0] = [mx / w, my / w, msx / w, msy / w]
  let [covariance, variance] = [0, 0]
  for (const i of inside) {
    const [x, y] = crossing(rays, i, at.distanceMm)
    const [sx, sy] = [rays.slopeX[i]! - sx0, rays.slopeY[i]! - sy0]
    covariance += rays.watts[i]! * ((x - x0) * sx + (y - y0) * sy)
    variance += rays.watts[i]! * (sx * sx + sy * sy)
  }
  const most = (0.5 * discMm) / Math.sqrt(Math.max(1e-8, variance / w))
  const step = variance > 0 ? Math.max(-most, Math.min(most, -covariance / variance)) : 0
  const distanceMm = Math.max(FIRST_MM, at.distanceMm + step)
  const moved = distanceMm - at.distanceMm
  return {
    xMm: x0 + sx0 * moved,
    yMm: y0 + sy0 * moved,
    distanceMm,
    slopeX: sx0,
    slopeY: sy0,
    spread: Math.sqrt(variance / w / 2),
  }
}

const crossing = (rays: RayColumns, i: number, d: number): [number, number] => [
  rays.xMm[i]! + rays.slopeX[i]! * d,
  rays.yMm[i]! + rays.slopeY[i]! * d,
]

const AROUND = Array.from({ length: 8 }, (_, k) => [Math.cos((k * Math.PI) / 4), Math.sin((k * Math.PI) / 4)] as const)

/**
 * Only a focus if it is clearly hotter than what lies about it: on a ring, and before and behind it where an even cone would have spread
 * over four times the disc; there the strongest place near by counts, so that the flank of a wider cone is none. The halves must agree.
 */
function measureFocus(
  rays: RayColumns,
  index: Uint32Array,
  waist: Waist,
  sizeMm: number,
  discMm: number,
): Omit<Focus, 'zMm'> | null {
  const cone = 2 * waist.spread
  const depth = sizeMm / Math.max(1e-4, cone)
  const from = Math.max(FIRST_MM, waist.distanceMm - depth)
  const near = nearby(rays, index, waist, from, waist.distanceMm + depth, 4 * sizeMm)
  const sample: Sample = { index: near, factor: 1, batches: BATCHES }
  const at = (d: number, place: Spot2, only = sample) => discIrradiance(rays, only, d, place, sizeMm, 0)
  const here = at(waist.distanceMm, waist)
  const chance = Math.max(here.se, Math.sqrt((here.kWm2 * rays.wattsOfOne * KW_M2) / (Math.PI * (sizeMm / 2) ** 2)))
  const standsOver = (other: number, times = STANDS_OUT) =>
    here.kWm2 >= times * other && here.kWm2 - other >= BEYOND_CHANCE * chance
  const ring = AROUND.map(([x, y]) => ({ xMm: waist.xMm + 1.3 * sizeMm * x, yMm: waist.yMm + 1.3 * sizeMm * y }))
  const beside = ring.map((place) => at(waist.distanceMm, place).kWm2)
  if (!standsOver(beside.reduce((a, b) => a + b, 0) / beside.length)) return null
  if (beside.some((b) => b > here.kWm2)) return null
  for (const d of [from, waist.distanceMm + depth]) {
    const moved = d - waist.distanceMm
    const along = { xMm: waist.xMm + waist.slopeX * moved, yMm: waist.yMm + waist.slopeY * moved }
    if (!standsOver(at(d, climbDensity(rays, near, d, along, sizeMm)).kWm2)) return null
  }
  const halves = [0, 1].map((parity) => ({
    index: near.filter((i) => rays.batch[i]! % 2 === parity),
    factor: 2,
    batches: BATCHES / 2,
  }))
  const [a, b] = halves.map((half) => at(waist.distanceMm, waist, half)) as [typeof here, typeof here]
  if (Math.abs(a.kWm2 - b.kWm2) > 5 * Math.hypot(a.se, b.se, chance)) return null
  const { distanceMm } = waist
  const told = { distanceMm, discMm, coneHalfRad: Math.atan(cone) }
  if (sizeMm === discMm) return { xMm: waist.xMm, yMm: waist.yMm, ...told, kWm2: here.kWm2, se: here.se }
  // A wide one: its hottest disc.
  const place = climbDensity(rays, near, distanceMm, waist, discMm)
  const { kWm2, se } = discIrradiance(rays, sample, distanceMm, place, discMm, 0)
  return { xMm: place.xMm, yMm: place.yMm, ...told, kWm2, se }
}
