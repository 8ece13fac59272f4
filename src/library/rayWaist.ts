// Where the rays of a source lie closest together: there they show what shines, wherever a file has them start.
import { RAY_AT, RAY_SIZE } from '../lamp/rays.ts'

/** Rays steeper than this say where their source is. */
const STEEP = 0.5

/** Numbers of the rays that run steeply up, of rows as `raysOf` has them. */
export function steepRays(rows: Float32Array): number[] {
  const steep: number[] = []
  for (let i = 0; i < rows.length / RAY_SIZE; i++) if (rows[i * RAY_SIZE + RAY_AT.direction + 2]! > STEEP) steep.push(i)
  return steep
}

/**
 * Height of the plane at which the steep rays lie closest together, mm: least squares of their crossings about their mean. Within the box of their places
 * made three times as high, since rays that run alongside have no such plane; 0 where none is steep.
 */
export function waistZMm(rows: Float32Array): number {
  const rays = steepRays(rows)
  if (rays.length === 0) return 0
  let [w, cov, spread, low, high] = [0, 0, 0, Infinity, -Infinity]
  const sums = [0, 0, 0, 0]
  const each = (take: (weight: number, px: number, py: number, sx: number, sy: number) => void) => {
    for (const i of rays) {
      const [x, y, z, dx, dy, dz, , weight] = rows.subarray(i * RAY_SIZE, (i + 1) * RAY_SIZE) as unknown as number[]
      const [sx, sy] = [dx! / dz!, dy! / dz!]
      low = Math.min(low, z!)
      high = Math.max(high, z!)
      take(weight!, x! - z! * sx, y! - z! * sy, sx, sy)
    }
  }
  each((weight, ...values) => {
    w += weight
    for (const [k, value] of values.entries()) sums[k]! += weight * value
  })
  const [px0, py0, sx0, sy0] = sums.map((sum) => sum / w) as [number, number, number, number]
  each((weight, px, py, sx, sy) => {
    cov += weight * ((px - px0) * (sx - sx0) + (py - py0) * (sy - sy0))
    spread += weight * ((sx - sx0) ** 2 + (sy - sy0) ** 2)
  })
  const size = high - low
  return spread > 0 ? Math.min(high + size, Math.max(low - size, -cov / spread)) : low
}
