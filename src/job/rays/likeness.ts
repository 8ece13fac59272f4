// What a ray file's light is like in the document's own terms, for what reads an emitter's size and width without tracing: drawings, étendue, words.
import { eachRay } from '../../lamp/rays.ts'
import type { EmitterType } from '../../lamp/schema.ts'
import { crossingAt, steepRays, waistZMm } from '../../library/rayWaist.ts'

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
  const cAt = (edge: number) => 1 - Math.cos((90 * edge) / BINS / DEG)
  const thetaDeg: number[] = []
  const intensity: number[] = []
  let [ring, from] = [0, 0]
  for (const [bin, weight] of held.subarray(0, last + 1).entries()) {
    ring += weight
    if (ring < total / RINGS && bin < last) continue
    const [fromC, toC] = [cAt(from), cAt(bin + 1)]
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
  const steep = steepRays(eachRay(rows))
  if (steep.length === 0) return null
  const z = waistZMm(steep)
  const points = steep.map((ray) => ({ ...crossingAt(ray, z), weight: ray.weight }))
  const [x, y] = [
    spanOf(points.map((p) => ({ value: p.x, weight: p.weight }))),
    spanOf(points.map((p) => ({ value: p.y, weight: p.weight }))),
  ]
  let [inside, all] = [0, 0]
  const radii: Weighted[] = []
  for (const p of points) {
    const [u, v] = [p.x - x.middle, p.y - y.middle]
    all += p.weight
    if ((u / x.size) ** 2 + (v / y.size) ** 2 <= 0.25) inside += p.weight
    radii.push({ value: Math.hypot(u, v), weight: p.weight })
  }
  // An even rectangle holds π/4 of its light within that ellipse, an even disc nine tenths.
  const round = inside > 0.85 * all && Math.abs(x.size - y.size) < 0.1 * x.size
  const sized = (mm: number) => Math.min(100, Math.max(0.01, rounded(mm)))
  return round
    ? { shape: 'disc', diameterMm: sized((2 * quantile(radii, 1 - 2 * TAIL)) / Math.sqrt(1 - 2 * TAIL)) }
    : { shape: 'rectangle', widthMm: sized(x.size), heightMm: sized(y.size) }
}

interface Weighted {
  value: number
  weight: number
}

function spanOf(values: readonly Weighted[]): { middle: number; size: number } {
  const [from, to] = [quantile(values, TAIL), quantile(values, 1 - TAIL)]
  return { middle: (from + to) / 2, size: (to - from) / (1 - 2 * TAIL) }
}

function quantile(values: readonly Weighted[], share: number): number {
  const sorted = [...values].sort((a, b) => a.value - b.value)
  const wanted = share * values.reduce((sum, v) => sum + v.weight, 0)
  let below = 0
  for (const { value, weight } of sorted) {
    below += weight
    if (below >= wanted) return value
  }
  return sorted.at(-1)?.value ?? 0
}
