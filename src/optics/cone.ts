// A ray against a cone about the lamp axis, r = q(z). With f(t) = a t² + 2 b t + c = r² − q² along the ray.
// a = dr² − dq², b = x dx + y dy − q dq, c = x² + y² − q². Stable forms of the quadratic's roots (no cancellation).

/** A distance that no ray reaches, mm. */
export const NEVER = 1e30

/**
 * From inside (c ≤ 0): distance to where r reaches q, mm; NEVER when it doesn't. On the cone itself the far crossing
 * is meant. Roots without cancellation: textbook algebra.
 */
export function coneOut(a: number, b: number, c: number): number {
  const disc = b * b - a * c
  if (disc < 0) return NEVER
  const root = Math.sqrt(disc)
  if (b > 0) return c < 0 ? -c / (b + root) : 0
  return a > 0 ? (root - b) / a : NEVER
}

/** From outside (c ≥ 0): distance to where r falls to q, mm; NEVER when it doesn't. */
export function coneIn(a: number, b: number, c: number): number {
  if (b >= 0 && a >= 0) return NEVER
  const disc = b * b - a * c
  if (disc < 0) return NEVER
  const den = Math.sqrt(disc) - b
  return den > 0 && c > 0 ? c / den : NEVER
}

/**
 * From inside the other half of the cone (q < 0, c < 0): distance to where the ray, after leaving that half, enters
 * this one, mm; NEVER when it doesn't.
 */
export function coneAcross(a: number, b: number, c: number): number {
  const disc = b * b - a * c
  return a < 0 && b > 0 && disc >= 0 ? (b + Math.sqrt(disc)) / -a : NEVER
}
