// Vectors in the plainest form, to hold the optics' own formulas: rotations by Rodrigues, laws of reflection and refraction by components.

export type V = readonly [number, number, number]

export const dot = (a: V, b: V): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
export const scaled = (a: V, s: number): V => [a[0] * s, a[1] * s, a[2] * s]
export const plus = (a: V, b: V): V => [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
export const along = (a: V, d: V, s: number): V => plus(a, scaled(d, s))
export const unitOf = (a: V): V => scaled(a, 1 / Math.hypot(...a))
const crossed = (a: V, b: V): V => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]

/** v turned about a unit axis, right-handed (Rodrigues). */
export function turned(v: V, axis: V, angle: number): V {
  const [c, s] = [Math.cos(angle), Math.sin(angle)]
  return plus(plus(scaled(v, c), scaled(crossed(axis, v), s)), scaled(axis, dot(axis, v) * (1 - c)))
}

/** Mirror law: what stands along the normal turns over. */
export const mirrored = (d: V, normal: V): V => along(d, normal, -2 * dot(d, normal))

/** Snell by angles: the part along the surface scales by eta = n(from)/n(to), the rest keeps its side. Null when reflected totally. */
export function bent(d: V, normal: V, eta: number): V | null {
  const cos = dot(d, normal)
  const tangent = scaled(along(d, normal, -cos), eta)
  const sin = Math.hypot(...tangent)
  if (sin >= 1) return null
  return along(tangent, normal, Math.sign(cos) * Math.cos(Math.asin(sin)))
}

/**
 * (a, b, c) given in the frame about the unit vector n: the rotation by the shortest way that takes +z (or −z, when n looks down) to n, in which
 * y turns over with z. Duff et al., J. Comput. Graph. Tech. 6 (2017) 1, write the same without angles.
 */
export function inFrameAbout(n: V, [a, b, c]: V): V {
  const up = n[2] >= 0 ? 1 : -1
  const pole: V = [0, 0, up]
  const side = crossed(pole, n)
  const sin = Math.hypot(...side)
  const local: V = [a, up * b, up * c]
  return sin === 0 ? local : turned(local, scaled(side, 1 / sin), Math.atan2(sin, dot(pole, n)))
}

/** A unit vector from two numbers in (0, 1), even over the sphere. */
export function directionOf(u: number, v: number): V {
  const z = 2 * u - 1
  const r = Math.sqrt(1 - z * z)
  return [r * Math.cos(2 * Math.PI * v), r * Math.sin(2 * Math.PI * v), z]
}
