// Gaussian scatter at a plane for a ray traced backwards: a step of the tunnel and a diffuser film. leaveStep and passFilm choose a direction;
// here is the weight that makes the choice an estimate of the light that the forward tracer would send the other way, as wallBack.ts has it.
// A forward ray along i goes out along o with density q(o|i) per steradian, and the power through an area says
// L(o) cosθ_o = ∫ q(o|i) L(i) cosθ_i dω_i. The backward ray knows o and draws i with q(i|o): weight q(o|i) cosθ_i / (q(i|o) cosθ_o) [1].
// With slopes of standard deviation σ about a mean direction, redrawn until they stay on its side of the plane, q(o|i) = g(δ)/A(θ_i): δ is the
// angle between o and the mean direction of i, the same both ways (the mean direction is i itself behind a film, its mirror image before it
// or before a step), and A the chance to stay on that side at the first try, Φ(cotθ/σ). So the weight is A(θ_o) cosθ_i / (A(θ_i) cosθ_o).
// References: [1] E. Veach, Robust Monte Carlo Methods for Light Transport Simulation (1997), 3.7.5 and 5 (adjoint scattering).
import * as ELEMENT from '../../optics/elementRow.ts'
import { passFilm } from '../../optics/film.ts'
import { DX, DY, DZ, W } from '../../optics/records.ts'
import { leaveStep } from '../../optics/stretch.ts'
import * as STRETCH from '../../optics/stretchRow.ts'
import { staysOff } from '../../optics/wallBack.ts'

/** Least cosine that is divided by. */
const GRAZING = 1e-9

/** Through a film or back from it, in its frame, with the weight corrected; the film's shares are taken off. `at`: offset of its row. */
export function passFilmBack(ray: Float64Array, stream: Int32Array, rows: Float32Array, at: number): void {
  const spread = rows[at + ELEMENT.spread]!
  const cosO = Math.max(GRAZING, Math.abs(ray[DZ]!))
  passFilm(ray, stream, rows[at + ELEMENT.transmits]!, rows[at + ELEMENT.reflects]!, spread)
  if (spread > 0) ray[W]! *= slopesWeight(cosO, Math.abs(ray[DZ]!), spread)
}

/** Weight of Gaussian slopes: cosines to the normal after (o) and before (i) the surface, as forward light meets it. */
function slopesWeight(cosO: number, cosI: number, sigma: number): number {
  return (cosI * staysOff(cosO, sigma)) / (cosO * staysOff(cosI, sigma))
}

/** Off a step, with the weight corrected; the reflectance is the caller's. `row`: of the stretch that the ray is in. */
export function leaveStepBack(ray: Float64Array, stream: Int32Array, row: Float32Array): void {
  const sigma = row[STRETCH.wallScatter]!
  const specular = row[STRETCH.wallSpecular]!
  const x = ray[DX]!
  const y = ray[DY]!
  const z = ray[DZ]!
  leaveStep(ray, stream, row)
  if (sigma === 0 || specular === 0) return
  const cosO = Math.max(GRAZING, Math.abs(z))
  const cosI = Math.abs(ray[DZ]!)
  if (specular >= 1) {
    ray[W]! *= slopesWeight(cosO, cosI, sigma)
    return
  }
  // Both shares together, whichever was drawn: ρ [s g/A + (1 − s) cosθ/π], each way (wallBack.ts).
  const g = specular * slopesDensity(ray, x, y, -z, sigma)
  const diffuse = (1 - specular) / Math.PI
  ray[W]! *=
    ((diffuse * cosO + g / staysOff(cosI, sigma)) * cosI) / ((diffuse * cosI + g / staysOff(cosO, sigma)) * cosO)
}

/** exp(−tan²δ/2σ²)/(2π σ² cos³δ) of the ray's direction about the unit vector m, 1/sr. */
function slopesDensity(ray: Float64Array, mx: number, my: number, mz: number, sigma: number): number {
  const cos = ray[DX]! * mx + ray[DY]! * my + ray[DZ]! * mz
  if (!(cos > 0)) return 0
  const ex = ray[DY]! * mz - ray[DZ]! * my
  const ey = ray[DZ]! * mx - ray[DX]! * mz
  const ez = ray[DX]! * my - ray[DY]! * mx
  const tan2 = (ex * ex + ey * ey + ez * ez) / (cos * cos)
  return Math.exp((-0.5 * tan2) / (sigma * sigma)) / (2 * Math.PI * sigma * sigma * cos ** 3)
}
