// Haze: how much it dims, and what it sends to the eye from the beam. Light scattered once; the shader nightAir.glsl is its twin.
// References: [1] H. Koschmieder, Beitr. Phys. freien Atm. 12 (1924) 33 (visual range; the 2 % threshold as in the AMS Glossary of
// Meteorology, "meteorological range"). [2] L. G. Henyey, J. L. Greenstein, Astrophys. J. 93 (1941) 70. [3] J. Ackermann,
// J. Atmos. Oceanic Technol. 15 (1998) 1043: extinction over backscatter of air 15–30 sr at sea, 40–80 sr inland, visible light.
import { intensityTowards, type NightLight } from './light.ts'
import { lampFromPlace, type Place, type Triple } from './scene.ts'

/** Visibilities offered, m, from no haze drawn to thick fog. */
export const VISIBILITIES_M: readonly (number | null)[] = [null, 50e3, 20e3, 10e3, 5e3, 2e3, 1e3, 500, 200, 100]

/** The limit between fog and mist is 1 km (common practice of weather services); the other words are ours. */
export function hazeWord(visibilityM: number | null): string {
  if (visibilityM === null) return 'no haze'
  if (visibilityM >= 40e3) return 'very clear'
  if (visibilityM >= 15e3) return 'clear'
  if (visibilityM >= 8e3) return 'light haze'
  if (visibilityM > 3e3) return 'haze'
  if (visibilityM > 1e3) return 'mist'
  if (visibilityM >= 1e3) return 'thin fog'
  if (visibilityM > 250) return 'fog'
  return 'thick fog'
}

/** Extinction of each metre, from the visibility: V = ln(1/0.02)/σ [1]. */
export const extinctionPerM = (visibilityM: number | null) => (visibilityM === null ? 0 : Math.log(50) / visibilityM)

/** Phase function of two lobes [2], forward and a little backward: extinction over backscatter is 40 sr, between sea and land [3]. */
export const LOBES = { ahead: 0.8, back: -0.5, backShare: 0.0425 } as const

const lobe = (g: number, cos: number) => (1 - g * g) / (4 * Math.PI * (1 + g * g - 2 * g * cos) ** 1.5)

/** Phase function, 1/sr, of the cosine of the scattering angle; it integrates to 1 over the sphere. */
export const phase = (cos: number) =>
  (1 - LOBES.backShare) * lobe(LOBES.ahead, cos) + LOBES.backShare * lobe(LOBES.back, cos)

export interface Air {
  perM: number
  /** Distance of the beam's apex behind the mouth, so that the beam is as wide as the mouth where it leaves it. */
  apexM: number
  /** Angular scale at which the samples along a line of sight are densest: a part of the beam's half angle. */
  coreRad: number
}

export function airOf(visibilityM: number | null, mouthM: number, beamDeg: number): Air {
  const halfRad = (Math.min(150, Math.max(0.2, beamDeg)) * Math.PI) / 360
  return { perM: extinctionPerM(visibilityM), apexM: mouthM / Math.tan(halfRad), coreRad: halfRad / 3 }
}

/**
 * cd/m² that the air on a line of sight sends to the eye:
 * ∫ σ p(Θ) I/r² e^{-σ(t + r)} dt, written over the angle β at which the apex sees the point, where I/r² dt = I dβ/D. Steps are even in
 * u, β = β₀ + w sinh u about the place nearest the axis.
 */
export function airLight(
  light: NightLight,
  place: Place,
  air: Air,
  eye: Triple,
  direction: Triple,
  toM: number,
  steps = 400,
): number {
  if (air.perM === 0) return 0
  const { axis } = place
  const q = eye.map((x, i) => x + axis[i]! * air.apexM) as [number, number, number]
  const b = -(q[0] * direction[0] + q[1] * direction[1] + q[2] * direction[2])
  const foot: Triple = [q[0] + b * direction[0], q[1] + b * direction[1], q[2] + b * direction[2]]
  const D = Math.max(1e-4, Math.hypot(...foot))
  const along = direction[0] * axis[0] + direction[1] * axis[1] + direction[2] * axis[2]
  const across = (foot[0] * axis[0] + foot[1] * axis[1] + foot[2] * axis[2]) / D
  const from = Math.atan(-b / D)
  const to = Math.atan((toM - b) / D)
  const middle = Math.min(to, Math.max(from, Math.atan2(along, across)))
  const w = air.coreRad
  const uFrom = Math.asinh((from - middle) / w)
  const du = (Math.asinh((to - middle) / w) - uFrom) / steps
  let sum = 0
  for (let i = 0; i < steps; i++) {
    const u = uFrom + (i + 0.5) * du
    const beta = middle + w * Math.sinh(u)
    const [c, s] = [Math.cos(beta), Math.sin(beta)]
    const way: Triple = [
      (foot[0] / D) * c + direction[0] * s,
      (foot[1] / D) * c + direction[1] * s,
      (foot[2] / D) * c + direction[2] * s,
    ]
    const r = D / c
    if (r * (across * c + along * s) < air.apexM) continue // behind the mouth
    const passed = Math.exp(-air.perM * (b + D * Math.tan(beta) + Math.max(0, r - air.apexM)))
    sum += intensityTowards(light, ...lampFromPlace(place, way)) * phase(-s) * passed * w * Math.cosh(u) * du
  }
  return (air.perM * sum) / D
}
