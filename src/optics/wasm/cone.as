// Twin of src/optics/cone.ts: the same bits.

export const NEVER: f64 = 1e30

export function coneOut(a: f64, b: f64, c: f64): f64 {
  const disc = b * b - a * c
  if (disc < 0) return NEVER
  const root = Math.sqrt(disc)
  if (b > 0) return c < 0 ? -c / (b + root) : 0
  return a > 0 ? (root - b) / a : NEVER
}

export function coneIn(a: f64, b: f64, c: f64): f64 {
  if (b >= 0 && a >= 0) return NEVER
  const disc = b * b - a * c
  if (disc < 0) return NEVER
  const den = Math.sqrt(disc) - b
  return den > 0 && c > 0 ? c / den : NEVER
}

export function coneAcross(a: f64, b: f64, c: f64): f64 {
  const disc = b * b - a * c
  return a < 0 && b > 0 && disc >= 0 ? (b + Math.sqrt(disc)) / -a : NEVER
}
