// A ray, and what happens to it at a surface between two media.

export interface Ray {
  x: number
  y: number
  z: number
  dx: number
  dy: number
  dz: number
  watts: number
  nm: number
}

export type Vec = readonly [number, number, number]

export function moveBy(ray: Ray, s: number): void {
  ray.x += s * ray.dx
  ray.y += s * ray.dy
  ray.z += s * ray.dz
}

/** Share that is reflected, and the two directions that leave. */
export interface Crossing {
  reflectance: number
  reflected: Vec
  refracted: Vec
}

/**
 * Snell's law in vector form and Fresnel's reflectance of unpolarised light (M. Born, E. Wolf, Principles of Optics, 7th ed., 1.5.2).
 * `normal` stands on the ray's own side; indexes before and behind the surface. Total reflection: reflectance 1.
 */
export function cross(ray: Ray, [nx, ny, nz]: Vec, before: number, behind: number): Crossing {
  const cosIn = Math.min(1, -(ray.dx * nx + ray.dy * ny + ray.dz * nz))
  const reflected: Vec = [ray.dx + 2 * cosIn * nx, ray.dy + 2 * cosIn * ny, ray.dz + 2 * cosIn * nz]
  const eta = before / behind
  const cos2 = 1 - eta * eta * (1 - cosIn * cosIn)
  if (!(cos2 > 0)) return { reflectance: 1, reflected, refracted: reflected }
  const cosOut = Math.sqrt(cos2)
  const across = ((before * cosIn - behind * cosOut) / (before * cosIn + behind * cosOut)) ** 2
  const along = ((before * cosOut - behind * cosIn) / (before * cosOut + behind * cosIn)) ** 2
  const k = eta * cosIn - cosOut
  const refracted: Vec = [eta * ray.dx + k * nx, eta * ray.dy + k * ny, eta * ray.dz + k * nz]
  return { reflectance: 0.5 * (across + along), reflected, refracted }
}

export function turnTo(ray: Ray, [dx, dy, dz]: Vec): void {
  const scale = 1 / Math.hypot(dx, dy, dz)
  ray.dx = dx * scale
  ray.dy = dy * scale
  ray.dz = dz * scale
}

/** Roots of a t² + 2 b t + c = 0, the smaller first; none when they aren't real. The one near 0 keeps its digits. */
export function rootsOf(a: number, b: number, c: number): [number, number] {
  const disc = b * b - a * c
  if (!(disc >= 0)) return [Number.NaN, Number.NaN]
  const q = -(b + (b < 0 ? -1 : 1) * Math.sqrt(disc))
  const [t1, t2] = [c / q, a === 0 ? Number.NaN : q / a]
  return t1 < t2 ? [t1, t2] : [t2, t1]
}
