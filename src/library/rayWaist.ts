// Where the rays of a source lie closest together: there they show what shines, wherever a file has them start.
import type { RayNumbers } from '../lamp/rays.ts'

/** Rays steeper than this (cosine to the axis) say where their source is. */
const STEEP = 0.5

/** Those that run steeply up. */
export const steepRays = (rays: Iterable<RayNumbers>): RayNumbers[] => [...rays].filter((ray) => ray.dz > STEEP)

/** Where a ray, or the line through it, crosses a height, mm. */
export const crossingAt = ({ x, y, z, dx, dy, dz }: RayNumbers, zMm: number): { x: number; y: number } => ({
  x: x + ((zMm - z) * dx) / dz,
  y: y + ((zMm - z) * dy) / dz,
})

/**
 * Height of the plane at which steep rays lie closest together, mm: least squares of their crossings about their mean. No farther from their places
 * than these lie apart, along or across the axis, since rays that run alongside have no such plane; 0 without rays.
 */
export function waistZMm(steep: readonly RayNumbers[]): number {
  if (steep.length === 0) return 0
  const all = steep.map((ray) => ({ ...crossingAt(ray, 0), sx: ray.dx / ray.dz, sy: ray.dy / ray.dz, w: ray.weight }))
  const total = all.reduce((sum, p) => sum + p.w, 0)
  const mean = (of: (p: (typeof all)[number]) => number) => all.reduce((sum, p) => sum + p.w * of(p), 0) / total
  const [x, y, sx, sy] = [mean((p) => p.x), mean((p) => p.y), mean((p) => p.sx), mean((p) => p.sy)]
  const covariance = mean((p) => (p.x - x) * (p.sx - sx) + (p.y - y) * (p.sy - sy))
  const spread = mean((p) => (p.sx - sx) ** 2 + (p.sy - sy) ** 2)
  const low = steep.reduce((least, ray) => Math.min(least, ray.z), Infinity)
  const high = steep.reduce((most, ray) => Math.max(most, ray.z), -Infinity)
  const apart = (of: (ray: RayNumbers) => number) => {
    const [least, most] = steep.reduce(
      ([a, b], ray) => [Math.min(a, of(ray)), Math.max(b, of(ray))],
      [Infinity, -Infinity],
    )
    return most - least
  }
  // A file recorded on a plane has all its rays at one height, and its source as far below as they have run apart.
  const size = Math.max(
    high - low,
    apart((ray) => ray.x),
    apart((ray) => ray.y),
  )
  return spread > 0 ? Math.min(high + size, Math.max(low - size, -covariance / spread)) : low
}
