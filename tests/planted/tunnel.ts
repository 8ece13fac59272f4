// A frustum or pyramid with a mirror wall: physics.md, section 4. Half size h(z) = hIn + (z − zIn) tan γ; a polygon's first flat faces +x.
import type { Tunnel } from '../../src/lamp/schema.ts'
import { type Ray, rootsOf, type Vec } from './ray.ts'

export interface Walls {
  zInMm: number
  zOutMm: number
  reflectance: number
  inside(x: number, y: number, z: number): boolean
  /** Distance along the ray to the wall from within, with the normal into the tunnel; null when the ray meets none. */
  meet(ray: Ray): { s: number; normal: Vec } | null
  /** Distance to the wall from outside, before the ray has gone `mostMm`; infinite when it passes. */
  meetOutside(ray: Ray, mostMm: number): number
}

export function placeWalls(t: Tunnel): Walls {
  if (t.specularShare < 1 || t.scatterDeg > 0) throw new Error('planted: walls are mirrors')
  const tan = (t.outMm - t.inMm) / 2 / (t.zOutMm - t.zInMm)
  const halfAt = (z: number) => t.inMm / 2 + (z - t.zInMm) * tan
  const meet = t.sides === 0 ? meetCone : meetFlats(t.sides)
  const common = { zInMm: t.zInMm, zOutMm: t.zOutMm, reflectance: t.reflectance }
  const across = t.sides === 0 ? (x: number, y: number) => Math.sqrt(x * x + y * y) : acrossFlats(t.sides)
  return {
    ...common,
    inside: (x, y, z) => across(x, y) < halfAt(z),
    meet: (ray) => meet(ray, halfAt(ray.z), tan),
    meetOutside: (ray, mostMm) => meetFromOutside(ray, mostMm, t, (x, y, z) => across(x, y) - halfAt(z)),
  }
}

/** Greatest distance from the axis along the normal of any flat. */
function acrossFlats(sides: number): (x: number, y: number) => number {
  const normals = Array.from({ length: sides }, (_, k) => (2 * Math.PI * k) / sides).map(
    (a) => [Math.cos(a), Math.sin(a)] as const,
  )
  return (x, y) => {
    let most = Number.NEGATIVE_INFINITY
    for (const [c, s] of normals) most = Math.max(most, c * x + s * y)
    return most
  }
}

function meetCone(ray: Ray, half: number, tan: number) {
  const { x, y, dx, dy, dz } = ray
  const dh = tan * dz
  // Just off the wall, rounding may have put the ray on it or outside: then the far root counts.
  const c = Math.min(x * x + y * y - half * half, 0)
  const roots = rootsOf(dx * dx + dy * dy - dh * dh, x * dx + y * dy - half * dh, c)
  const s = roots.find((t) => t > 1e-6 && half + t * dh > 0)
  if (s === undefined) return null
  const [px, py] = [x + s * dx, y + s * dy]
  const scale = 1 / (Math.hypot(px, py) * Math.sqrt(1 + tan * tan))
  return { s, normal: [-px * scale, -py * scale, tan / Math.sqrt(1 + tan * tan)] as Vec }
}

const meetFlats = (sides: number) => (ray: Ray, half: number, tan: number) => {
  const scale = 1 / Math.sqrt(1 + tan * tan)
  let best: { s: number; normal: Vec } | null = null
  for (let k = 0; k < sides; k++) {
    const a = (2 * Math.PI * k) / sides
    const [c, s] = [Math.cos(a), Math.sin(a)]
    const towards = c * ray.dx + s * ray.dy - tan * ray.dz
    if (towards <= 1e-12) continue
    const gap = Math.max(0, half - (c * ray.x + s * ray.y))
    if (!best || gap / towards < best.s) best = { s: gap / towards, normal: [-c * scale, -s * scale, tan * scale] }
  }
  return best
}

/** In steps of 2 mm, while the ray is near: it only decides whether light that has leaked is stopped by the outer side. */
function meetFromOutside(
  { x, y, z, dx, dy, dz }: Ray,
  mostMm: number,
  t: Tunnel,
  over: (x: number, y: number, z: number) => number,
): number {
  const [a, b] = dz === 0 ? [Number.NaN, Number.NaN] : [(t.zInMm - z) / dz, (t.zOutMm - z) / dz]
  const widest = Math.max(t.inMm, t.outMm) / (t.sides === 0 ? 2 : 2 * Math.cos(Math.PI / t.sides))
  const [near, far] = rootsOf(dx * dx + dy * dy, x * dx + y * dy, x * x + y * y - widest * widest)
  const from = Math.max(0, Math.min(a, b), near)
  const to = Math.min(mostMm, Math.max(a, b), far)
  // A ray that never comes near has no roots: the comparison is false.
  for (let s = from + 1e-3; s < to; s += 2) if (over(x + s * dx, y + s * dy, z + s * dz) < 0) return s
  return Number.POSITIVE_INFINITY
}
