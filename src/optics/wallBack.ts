// The tunnel's wall for a ray traced backwards. leaveWall chooses a direction; here is the weight that makes the choice an estimate of the
// light that the forward tracer would send the other way.
// A forward ray that comes in along i goes out along o with density q(o|i) per steradian, so that f = ρ q(o|i)/cosθ_o is the
// reflectance distribution, and L(o) = ∫ f L(i) cosθ_i dω_i. The backward ray knows o and draws i with q(i|o): weight f cosθ_i/q(i|o) =
// ρ [q(o|i) cosθ_i]/[q(i|o) cosθ_o]. References: [1] E. Veach, Robust Monte Carlo Methods for Light Transport Simulation (1997), 3.7.5
// and 5 (adjoint scattering); [2] M. Abramowitz, I. A. Stegun, 26.2.17, normal distribution, error below 7.5e-8.
// - Mirror and Lambertian shares are symmetric: the bracket is 1.
// - Slopes of standard deviation σ about the mirror direction, redrawn until they stay off the wall: q(o|i) = g(δ)/A(θ_i), g a function of
//   the angle δ between o and the mirror of i only, which is the same both ways; A the chance to stay off the wall at the first try. The
//   mirror direction stands cosθ off the wall and a slope along the plane of incidence changes that by sinθ, so A = Φ(cotθ/σ), at least ½.
// - Sixteen tries fail with chance (1 − A)¹⁶ < 1.6e-5 and give the mirror direction, which is symmetric; its part in A is left out.
import * as P from './params.ts'
import { DX, DY, DZ, SIDE, W, X, Y } from './records.ts'
import { flareAt, leaveWall, RECTANGLE } from './wall.ts'

const TURN = 6.283185307179586

/** Normal distribution function Φ(x), 0 to 1 [2], error below 7.5e-8. */
export function normalBelow(x: number): number {
  const a = x < 0 ? -x : x
  if (a > 8) return x < 0 ? 0 : 1
  const t = 1 / (1 + 0.2316419 * a)
  const poly = t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))))
  const above = (poly * Math.exp(-0.5 * a * a)) / Math.sqrt(TURN)
  return x < 0 ? above : 1 - above
}

/**
 * Chance, ½ to 1, that a scattered direction about a mirror direction with this cosine to the normal stays off the
 * wall: Φ(cotθ/σ). cos in [0, 1], σ > 0 in rad.
 */
export function staysOff(cos: number, sigma: number): number {
  const sin2 = Math.max(1e-300, 1 - cos * cos)
  // Beyond eight standard deviations normalBelow gives 1: told without root and division, with a margin for rounding.
  if (cos > 0 && cos * cos > 64.0001 * sigma * sigma * sin2) return 1
  return normalBelow(cos / (sigma * Math.sqrt(sin2)))
}

/**
 * Draws the direction after the wall for a ray traced backwards, in place, with its weight corrected as above [1];
 * the reflectance is the caller's. The ray stands on the wall.
 */
export function leaveWallBack(ray: Float64Array, stream: Int32Array, p: Float32Array): void {
  const sigma = p[P.wallScatter]!
  const specular = p[P.wallSpecular]!
  if (sigma === 0 || specular === 0) {
    leaveWall(ray, stream, p)
    return
  }
  const bx = ray[DX]!
  const by = ray[DY]!
  const bz = ray[DZ]!
  leaveWall(ray, stream, p)
  // Normal as leaveWall has it.
  const tan = flareAt(ray, p)
  const scale = 1 / Math.sqrt(1 + tan * tan)
  let cx: number
  let cy: number
  if (p[P.sides]! === 0) {
    const r = Math.max(Math.sqrt(ray[X]! * ray[X]! + ray[Y]! * ray[Y]!), 1e-12)
    cx = ray[X]! / r
    cy = ray[Y]! / r
  } else {
    const phi = (TURN * ray[SIDE]!) / (p[P.sides]! === RECTANGLE ? 4 : p[P.sides]!)
    cx = Math.cos(phi)
    cy = Math.sin(phi)
  }
  const nx = -cx * scale
  const ny = -cy * scale
  const nz = tan * scale
  const cosO = Math.max(1e-9, -(bx * nx + by * ny + bz * nz))
  const cosI = Math.max(0, ray[DX]! * nx + ray[DY]! * ny + ray[DZ]! * nz)
  // cosδ between the new direction and the mirror of the old one; g(δ) = exp(−tan²δ/2σ²)/(2π σ² cos³δ)
  const mx = bx + 2 * cosO * nx
  const my = by + 2 * cosO * ny
  const mz = bz + 2 * cosO * nz
  const ex = ray[DY]! * mz - ray[DZ]! * my
  const ey = ray[DZ]! * mx - ray[DX]! * mz
  const ez = ray[DX]! * my - ray[DY]! * mx
  const cosDelta = ray[DX]! * mx + ray[DY]! * my + ray[DZ]! * mz
  const aI = staysOff(cosI, sigma)
  const aO = staysOff(cosO, sigma)
  if (specular >= 1) {
    ray[W]! *= (cosI * aO) / (cosO * aI)
    return
  }
  let g = 0
  if (cosDelta > 0) {
    const tan2 = (ex * ex + ey * ey + ez * ez) / (cosDelta * cosDelta)
    g =
      (specular * Math.exp((-0.5 * tan2) / (sigma * sigma))) / (TURN * sigma * sigma * (cosDelta * cosDelta * cosDelta))
  }
  // Both shares together: which of them was drawn need not be known, and the weight stays tame where the scattered one is unlikely.
  const diffuse = ((1 - specular) * 2) / TURN
  ray[W]! *= ((diffuse * cosO + g / aI) * cosI) / ((diffuse * cosI + g / aO) * cosO)
}
