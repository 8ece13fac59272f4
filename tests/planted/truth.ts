// The true irradiance of a disc near a planted place: found with one set of rays, measured with another, so that the noise which made a
// place look hot is not in its figure. The disc stands square to the mean direction, weighted by power, of what passes it (physics.md, 9).
import { makeRandom } from './random.ts'
import type { Vec } from './ray.ts'
import { cellsPerSide, makeSampler, type Sampler } from './sampler.ts'
import type { Sink, Tracer } from './tracer.ts'

export interface Planted {
  at: Vec
  /** Unit vector along which the light runs there, by geometry. */
  along: Vec
  /** The place lies within so much across and along. */
  acrossMm: number
  depthMm: number
}

export interface Truth {
  kWm2: number
  se: number
  at: Vec
  along: Vec
  /** Along the light, from the place to where its cone has grown by the disc. */
  depthMm: number
  rays: number
}

export interface TruthOptions {
  discMm: number
  seed: number
  /** Places that count; absent: all. */
  allowed?: (x: number, y: number, z: number) => boolean
  wantedSe?: number
  /** Rays of the pilot, of the search, and at most for the measurement. */
  pilotRays?: number
  mostRays?: number
}

/** Columns of pieces: place, direction, length, watts. */
const SIZE = 8
interface Pieces {
  data: Float64Array
  count: number
}

/** Null when no light comes there. */
export function findTruth(tracer: Tracer, planted: readonly Planted[], options: TruthOptions): Truth | null {
  const sampler = samplerFor(tracer, planted, options)
  const random = makeRandom(3 * options.seed + 1)
  const rough = search(sampler, planted, 30_000, random, options)
  if (!rough) return null
  // Once more with other rays in a narrow range, where a larger share of what is gathered passes the disc.
  const depthMm = 0.15 * Math.max(...planted.map((p) => p.depthMm))
  const near = { at: rough.at, along: rough.along, acrossMm: 0.8 * options.discMm, depthMm }
  const found = search(sampler, [near], 20_000, random, options) ?? rough
  return measure(sampler, found, makeRandom(3 * options.seed + 2), options)
}

/** The disc at a known place and square to a known direction, nothing searched. */
export function measureAt(tracer: Tracer, at: Vec, along: Vec, options: TruthOptions): Truth | null {
  const planted = [{ at, along, acrossMm: options.discMm, depthMm: options.discMm }]
  return measure(samplerFor(tracer, planted, options), { at, along }, makeRandom(3 * options.seed + 2), options)
}

/** Draws more often what a pilot run brings near the planted places. */
function samplerFor(tracer: Tracer, planted: readonly Planted[], { seed, pilotRays = 60_000 }: TruthOptions): Sampler {
  const perSide = cellsPerSide(tracer)
  const weights = new Float64Array(tracer.watts.length * perSide ** 4)
  let cell = 0
  const reaches = planted.map(capsule)
  const note: Sink = {
    piece(x, y, z, dx, dy, dz, length, watts) {
      if (reaches.some((near) => near(x, y, z, dx, dy, dz, length))) weights[cell]! += watts
    },
  }
  makeSampler(tracer, perSide, null).run(pilotRays, makeRandom(3 * seed), note, (at) => {
    cell = at
  })
  return makeSampler(tracer, perSide, weights)
}

type Near = (x: number, y: number, z: number, dx: number, dy: number, dz: number, length: number) => boolean

/** Whether a piece passes within `acrossMm` of the planted place's own line, over its depth. */
function capsule({ at, along: [ax, ay, az], acrossMm, depthMm }: Planted): Near {
  const far2 = (acrossMm + 6) ** 2
  return (x, y, z, dx, dy, dz, length) => {
    const [px, py, pz] = [x - at[0], y - at[1], z - at[2]]
    const dn = dx * ax + dy * ay + dz * az
    const h = px * ax + py * ay + pz * az
    let [t0, t1] = [0, length]
    if (Math.abs(dn) > 1e-12) {
      const [a, b] = [(-depthMm - h) / dn, (depthMm - h) / dn]
      t0 = Math.max(t0, Math.min(a, b))
      t1 = Math.min(t1, Math.max(a, b))
    } else if (Math.abs(h) > depthMm) return false
    if (t0 > t1) return false
    const [qx, qy, qz] = [px - h * ax, py - h * ay, pz - h * az]
    const [ex, ey, ez] = [dx - dn * ax, dy - dn * ay, dz - dn * az]
    const e2 = ex * ex + ey * ey + ez * ez
    const nearest = e2 > 0 ? -(qx * ex + qy * ey + qz * ez) / e2 : 0
    const t = Math.min(t1, Math.max(t0, nearest))
    return (qx + t * ex) ** 2 + (qy + t * ey) ** 2 + (qz + t * ez) ** 2 <= far2
  }
}

const MOST_SEARCH_RAYS = 400_000

function search(
  sampler: Sampler,
  planted: readonly Planted[],
  most: number,
  random: () => number,
  options: TruthOptions,
): Climbed | null {
  const pieces: Pieces = { data: new Float64Array(SIZE * most), count: 0 }
  const reaches = planted.map(capsule)
  const gather: Sink = {
    piece(...row) {
      const [x, y, z, dx, dy, dz, length] = row
      if (pieces.count < most && reaches.some((near) => near(x, y, z, dx, dy, dz, length)))
        pieces.data.set(row, SIZE * pieces.count++)
    },
  }
  const chunk = 10_000
  for (let rays = 0; rays < MOST_SEARCH_RAYS && pieces.count < 0.7 * most; rays += chunk)
    sampler.run(chunk, random, gather)
  if (pieces.count < 20) return null
  let best: Climbed | null = null
  for (const p of planted) {
    for (const from of scan(pieces, p, options)) {
      const top = climb(pieces, from, p, options)
      if (!best || top.sum > best.sum) best = top
    }
  }
  return best
}

interface Climbed {
  at: Vec
  along: Vec
  sum: number
}

function frameOf([x, y, z]: Vec): [Vec, Vec] {
  const other: Vec = Math.abs(z) < 0.9 ? [0, 0, 1] : [1, 0, 0]
  const e1 = unit([y * other[2] - z * other[1], z * other[0] - x * other[2], x * other[1] - y * other[0]])
  return [e1, [y * e1[2] - z * e1[1], z * e1[0] - x * e1[2], x * e1[1] - y * e1[0]]]
}

function unit([x, y, z]: Vec): Vec {
  const n = Math.hypot(x, y, z)
  return [x / n, y / n, z / n]
}

const offset = (at: Vec, ...parts: [Vec, number][]): Vec =>
  parts.reduce<Vec>((p, [d, s]) => [p[0] + s * d[0], p[1] + s * d[1], p[2] + s * d[2]], at)

/** Watts through a disc from its front side, and their mean direction. */
function through(pieces: Pieces, at: Vec, [nx, ny, nz]: Vec, radius: number): { sum: number; mean: Vec } {
  const { data, count } = pieces
  let [sum, mx, my, mz] = [0, 0, 0, 0]
  const r2 = radius * radius
  for (let k = 0; k < SIZE * count; k += SIZE) {
    const [dx, dy, dz] = [data[k + 3]!, data[k + 4]!, data[k + 5]!]
    const dn = dx * nx + dy * ny + dz * nz
    if (dn <= 1e-9) continue
    const [px, py, pz] = [at[0] - data[k]!, at[1] - data[k + 1]!, at[2] - data[k + 2]!]
    const t = (px * nx + py * ny + pz * nz) / dn
    if (t < 0 || t >= data[k + 6]!) continue
    if ((t * dx - px) ** 2 + (t * dy - py) ** 2 + (t * dz - pz) ** 2 > r2) continue
    const w = data[k + 7]!
    sum += w
    mx += w * dx
    my += w * dy
    mz += w * dz
  }
  return { sum, mean: sum > 0 ? unit([mx, my, mz]) : [nx, ny, nz] }
}

/** Square to the mean direction: turned twice towards it. */
function facing(pieces: Pieces, at: Vec, from: Vec, radius: number): Climbed {
  const first = through(pieces, at, from, radius)
  const second = through(pieces, at, first.mean, radius)
  return { at, along: second.mean, sum: second.sum }
}

const PLANES = 25
const STARTS = 4

/** The best places on planes across the planted direction, by sums over a fine grid. */
function scan(pieces: Pieces, p: Planted, { discMm, allowed }: TruthOptions): Climbed[] {
  const [e1, e2] = frameOf(p.along)
  const cell = discMm / 4
  const n = 2 * Math.ceil(p.acrossMm / cell) + 1
  const found: Climbed[] = []
  for (let k = 0; k < PLANES; k++) {
    const plane = offset(p.at, [p.along, p.depthMm * ((2 * (k + 0.5)) / PLANES - 1)])
    const grid = gridOf(pieces, plane, p.along, e1, e2, cell, n)
    let best = { sum: 0, at: plane }
    for (let r = 0; r < n; r++)
      for (let c = 0; c < n; c++) {
        const sum = discSum(grid, n, r, c)
        if (sum <= best.sum) continue
        const at = offset(plane, [e1, (c - (n - 1) / 2) * cell], [e2, (r - (n - 1) / 2) * cell])
        if (!allowed || allowed(...at)) best = { sum, at }
      }
    if (best.sum > 0) found.push({ ...best, along: p.along })
  }
  return found.sort((a, b) => b.sum - a.sum).slice(0, STARTS)
}

function gridOf(pieces: Pieces, plane: Vec, along: Vec, e1: Vec, e2: Vec, cell: number, n: number): Float64Array {
  const grid = new Float64Array(n * n)
  const { data, count } = pieces
  for (let k = 0; k < SIZE * count; k += SIZE) {
    const dn = data[k + 3]! * along[0] + data[k + 4]! * along[1] + data[k + 5]! * along[2]
    if (dn <= 1e-9) continue
    const p: Vec = [plane[0] - data[k]!, plane[1] - data[k + 1]!, plane[2] - data[k + 2]!]
    const t = (p[0] * along[0] + p[1] * along[1] + p[2] * along[2]) / dn
    if (t < 0 || t >= data[k + 6]!) continue
    const q: Vec = [t * data[k + 3]! - p[0], t * data[k + 4]! - p[1], t * data[k + 5]! - p[2]]
    const c = Math.round((q[0] * e1[0] + q[1] * e1[1] + q[2] * e1[2]) / cell + (n - 1) / 2)
    const r = Math.round((q[0] * e2[0] + q[1] * e2[1] + q[2] * e2[2]) / cell + (n - 1) / 2)
    if (c >= 0 && r >= 0 && c < n && r < n) grid[r * n + c]! += data[k + 7]!
  }
  return grid
}

/** Cells whose middle lies in a disc four cells across. */
function discSum(grid: Float64Array, n: number, r: number, c: number): number {
  let sum = 0
  for (let dr = -2; dr <= 2; dr++)
    for (let dc = -2; dc <= 2; dc++) {
      const [row, column] = [r + dr, c + dc]
      if (dr * dr + dc * dc <= 4 && row >= 0 && column >= 0 && row < n && column < n) sum += grid[row * n + column]!
    }
  return sum
}

const AXES: readonly Vec[] = [
  [1, 0, 0],
  [-1, 0, 0],
  [0, 1, 0],
  [0, -1, 0],
  [0, 0, 1],
  [0, 0, -1],
]
/** Directions spread over the sphere by the golden angle: along a border that the axes only run into. */
const SLANTED: readonly Vec[] = Array.from({ length: 40 }, (_, i) => {
  const z = 1 - (2 * i + 1) / 40
  const turn = i * Math.PI * (3 - Math.sqrt(5))
  return [Math.sqrt(1 - z * z) * Math.cos(turn), Math.sqrt(1 - z * z) * Math.sin(turn), z]
})

/** Steps across and along that shrink where none leads up (compass search; R. Hooke, T. A. Jeeves 1961). */
function climb(pieces: Pieces, from: Climbed, p: Planted, { discMm, allowed }: TruthOptions): Climbed {
  const radius = discMm / 2
  let best = facing(pieces, from.at, from.along, radius)
  let [across, along] = [discMm / 3, Math.max(discMm / 2, p.depthMm / PLANES)]
  while (across > discMm / 60) {
    const here = best
    const [e1, e2] = frameOf(here.along)
    let refused = false
    const tryAll = (directions: readonly Vec[]) => {
      for (const [a, b, c] of directions) {
        const at = offset(here.at, [e1, a * across], [e2, b * across], [here.along, c * along])
        if (allowed && !allowed(...at)) {
          refused = true
          continue
        }
        const there = facing(pieces, at, here.along, radius)
        if (there.sum > best.sum) best = there
      }
    }
    tryAll(AXES)
    if (best === here && refused) tryAll(SLANTED)
    if (best === here) {
      across /= 2
      along /= 2
    }
  }
  return best
}

function measure(
  sampler: Sampler,
  { at, along }: Omit<Climbed, 'sum'>,
  random: () => number,
  { discMm, wantedSe = 0.008, mostRays = 3_000_000 }: TruthOptions,
): Truth | null {
  const radius = discMm / 2
  const chunk = Math.min(50_000, mostRays / 10)
  let [rays, sum, squares, turned] = [0, 0, 0, 0]
  let ofRay = 0
  const closeRay = () => {
    sum += ofRay
    squares += ofRay * ofRay
    ofRay = 0
  }
  const sink: Sink = {
    piece(x, y, z, dx, dy, dz, length, watts) {
      const dn = dx * along[0] + dy * along[1] + dz * along[2]
      if (dn <= 1e-9) return
      const [px, py, pz] = [at[0] - x, at[1] - y, at[2] - z]
      const t = (px * along[0] + py * along[1] + pz * along[2]) / dn
      if (t < 0 || t >= length || Math.hypot(t * dx - px, t * dy - py, t * dz - pz) > radius) return
      ofRay += watts
      turned += watts * 2 * (1 - dn)
    },
  }
  while (rays < mostRays) {
    sampler.run(chunk, random, sink, closeRay)
    closeRay()
    rays += chunk
    if (rays >= 2 * chunk && sum > 0 && Math.sqrt(squares - (sum * sum) / rays) < wantedSe * sum) break
  }
  if (!(sum > 0)) return null
  const chunks = rays / chunk
  // Root mean square angle to the mean direction: of an even cone it is its rim over √2.
  const cone = Math.tan(Math.SQRT2 * Math.sqrt(turned / sum))
  const kW = 1e-3 / (Math.PI * radius * radius * 1e-6)
  const se = Math.sqrt(Math.max(0, squares - (sum * sum) / rays))
  return {
    kWm2: (kW * sum) / chunks,
    se: (kW * se) / chunks,
    at,
    along,
    depthMm: discMm / Math.max(2e-3, cone),
    rays,
  }
}
