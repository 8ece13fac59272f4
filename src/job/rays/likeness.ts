// What a ray file's light is like in the document's own terms, for what reads an emitter's size and width without tracing: drawings, étendue, words.
import { RAY_AT, RAY_SIZE } from '../../lamp/rays.ts'
import type { EmitterType } from '../../lamp/schema.ts'
import { steepRays, waistZMm } from '../../library/rayWaist.ts'

type Table = Extract<EmitterType['profile'], { kind: 'table' }>

const DEG = 180 / Math.PI
/** Rings that hold the same light each. */
const RINGS = 40
/** Least gap between their angles, degrees: below it all is one direction. */
const NARROWEST_DEG = 0.01

/** Relative intensity over the angle, mean over azimuth, from rings of the same light each; rays that run down are left out. */
export function profileLike(rows: Float32Array): Table | null {
  const up = rayIndices(rows).filter((i) => rows[i * RAY_SIZE + RAY_AT.direction + 2]! > 0)
  const cosOf = (i: number) => rows[i * RAY_SIZE + RAY_AT.direction + 2]!
  up.sort((a, b) => cosOf(b) - cosOf(a))
  const total = up.reduce((sum, i) => sum + rows[i * RAY_SIZE + RAY_AT.weight]!, 0)
  const thetaDeg: number[] = []
  const intensity: number[] = []
  let [held, fromC] = [0, 0]
  for (const [k, i] of up.entries()) {
    held += rows[i * RAY_SIZE + RAY_AT.weight]!
    if (held < total / RINGS && k < up.length - 1) continue
    const toC = 1 - cosOf(i)
    const middle = Math.acos(1 - (fromC + toC) / 2) * DEG
    if (toC > fromC && middle >= (thetaDeg.at(-1) ?? 0) + NARROWEST_DEG) {
      thetaDeg.push(middle)
      intensity.push(held / (toC - fromC))
      fromC = toC
      held = 0
    }
  }
  const peak = intensity.reduce((a, b) => Math.max(a, b), 0)
  if (!(peak > 0)) return null
  return { kind: 'table', thetaDeg: thetaDeg.map(rounded), intensity: intensity.map((v) => rounded(v / peak)) }
}

const rounded = (x: number) => Number(x.toPrecision(5))
const rayIndices = (rows: Float32Array) => Array.from({ length: rows.length / RAY_SIZE }, (_, i) => i)

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
