// Facet slopes of a Fresnel lens: exact for the meridional ray from the design point through the middle of the facet.
// Vector Snell: the facet's normal is parallel to n·d − e, d inside the material, e = +z outside (derived; textbook
// law of refraction).

/**
 * Facet slope α, rad, for grooves to the target: radius r of the facet's middle, design point at distance f before
 * the flat side, thickness t from flat side to valleys (mm), index n > 1.
 * sinθ' = sinθ/n, f tanθ + t tanθ' = r, tanα = n sinθ'/(n cosθ' − 1). Solved for tanθ by Newton's rule; exact to
 * rounding. Derived from vector Snell.
 */
export function slopeToTarget(r: number, f: number, t: number, n: number): number {
  let u = r / f // tanθ
  for (let i = 0; i < 60; i++) {
    const s2 = (u * u) / (1 + u * u)
    const root = Math.sqrt(n * n - s2)
    const inside = Math.sqrt(s2) / root // tanθ'
    const error = f * u + t * inside - r
    const slope = f + (t * n * n) / (root * root * root * (1 + u * u) ** 1.5)
    const next = u - error / slope
    if (Math.abs(next - u) <= 1e-15 * u) {
      u = next
      break
    }
    u = next
  }
  const sin = u / Math.sqrt(1 + u * u)
  return Math.atan2(sin, Math.sqrt(n * n - sin * sin) - 1)
}

/**
 * Facet slope α, rad, for grooves to the source, f from the groove valleys (mm), index n > 1: tanθ = r/f, tanα =
 * sinθ/(n − cosθ). Derived from vector Snell.
 */
export function slopeToSource(r: number, f: number, n: number): number {
  const theta = Math.atan2(r, f)
  return Math.atan2(Math.sin(theta), n - Math.cos(theta))
}
