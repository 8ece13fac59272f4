// What a ray file's light is like in the document's own terms, for what reads an emitter's size and width without tracing: drawings, étendue, words.
import { RAY_AT, RAY_SIZE } from '../../lamp/rays.ts'
import type { EmitterType } from '../../lamp/schema.ts'
import { steepRays, waistZMm } from '../../library/rayWaist.ts'

type Table = Extract<EmitterType['profile'], { kind: 'table' }>

const DEG = 180 / Math.PI
/** Bins of the angle from the axis, up to 90°. */
const BINS = 900
/** Rings that hold the same light each, at the least. */
const RINGS = 32

export interface AngleBins {
  /** A ray by its cosine to the axis; those that run down are left out. */
  add(dz: number, weight: number): void
  /** Relative intensity over the angle, mean over azimuth, from rings of the same light each; null where none runs up. */
  profile(): Table | null
}

export function makeAngleBins(): AngleBins {
  const held = new Float64Array(BINS)
  return {
    add(dz, weight) {
      if (dz > 0) held[Math.min(BINS - 1, Math.floor((Math.acos(Math.min(1, dz)) * DEG * BINS) / 90))]! += weight
    },
    profile: () => profileOf(held),
  }
}

function profileOf(held: Float64Array): Table | null {
  const total = held.reduce((a, b) => a + b, 0)
  const last = held.findLastIndex((w) => w > 0)
  const edgeDeg = (bin: number) => (90 * bin) / BINS
  const thetaDeg: number[] = []
  const intensity: number[] = []
  let [ring, from] = [0, 0]
  for (let bin = 0; bin <= last; bin++) {
    ring += held[bin]!
    if (ring < total / RINGS && bin < last) continue
    const [fromC, toC] = [from, bin + 1].map((edge) => 1 - Math.cos(edgeDeg(edge) / DEG)) as [number, number]
    thetaDeg.push(rounded(Math.acos(1 - (fromC + toC) / 2) * DEG))
    intensity.push(ring / (toC - fromC))
    ring = 0
    from = bin + 1
  }
  const peak = intensity.reduce((a, b) => Math.max(a, b), 0)
  return peak > 0 ? { kind: 'table', thetaDeg, intensity: intensity.map((v) => rounded(v / peak)) } : null
}

const rounded = (x: number) => Number(x.toPrecision(5))

/** Shares of the light outside which it is left out, at either end. */
const TAIL = 0.01

/** Disc or rectangle that holds all but some hundredths of the light where its rays lie closest together; null where none of them is steep. */
export function sourceLike(rows: Float32Array): EmitterType['source'] | null {
  const steep = steepRays(rows)
  if (steep.length === 0) return null
  const z = waistZMm(rows)
  const crossing = (i: number, axis: number) => {
    const at = i * RAY_SIZE
    return rows[at + axis]! + ((z - rows[at + 2]!) * rows[at + 3 + axis]!) / rows[at + 5]!
  }
  const weights = steep.map((i) => rows[i * RAY_SIZE + RAY_AT.weight]!)
  const spans = [0, 1].map((axis) => {
    const values = steep.map((i) => crossing(i, axis))
    const [from, to] = [quantile(values, weights, TAIL), quantile(values, weights, 1 - TAIL)]
    return { middle: (from + to) / 2, size: (to - from) / (1 - 2 * TAIL) }
  }) as [{ middle: number; size: number }, { middle: number; size: number }]
  const [x, y] = spans
  const radii = steep.map((i) => Math.hypot(crossing(i, 0) - x.middle, crossing(i, 1) - y.middle))
  let [inside, all] = [0, 0]
  for (const [k, i] of steep.entries()) {
    const [u, v] = [(crossing(i, 0) - x.middle) / (x.size / 2), (crossing(i, 1) - y.middle) / (y.size / 2)]
    all += weights[k]!
    if (u * u + v * v <= 1) inside += weights[k]!
  }
  // An even rectangle holds π/4 of its light within that ellipse, an even disc nine tenths.
  const round = inside > 0.85 * all && Math.abs(x.size - y.size) < 0.1 * x.size
  const sized = (mm: number) => Math.min(100, Math.max(0.01, rounded(mm)))
  return round
    ? { shape: 'disc', diameterMm: sized((2 * quantile(radii, weights, 1 - 2 * TAIL)) / Math.sqrt(1 - 2 * TAIL)) }
    : { shape: 'rectangle', widthMm: sized(x.size), heightMm: sized(y.size) }
}

function quantile(values: readonly number[], weights: readonly number[], share: number): number {
  const order = values.map((_, i) => i).sort((a, b) => values[a]! - values[b]!)
  const total = weights.reduce((a, b) => a + b, 0)
  let below = 0
  for (const i of order) {
    below += weights[i]!
    if (below >= share * total) return values[i]!
  }
  return values[order.at(-1)!]!
}
