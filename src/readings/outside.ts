// What a traced lamp adds to the lumens that were read within a cone: the light beside it, which no reading says anything of.
import { combined, type Measured, rectangular } from './uncertainty.ts'

/** Of the lamp as drawn, far away. */
export interface TracedLight {
  /** From the axis outwards, deg; mean over azimuth. */
  thetaDeg: ArrayLike<number>
  cd: ArrayLike<number>
  /** All that leaves the lamp, lm, and its standard error. */
  fluxOutLm: { value: number; se: number }
  /** From the axis to where light leaves the lamp farthest out. */
  apertureReachMm: number
}

export interface LumensWithOutside {
  /** As traced, times what was read within the cone over what is traced there, lm. */
  outside: Measured
  /** Read and added together, lm. */
  all: Measured
}

/**
 * Light outside a cone (half angle, deg) on a wall at a distance (m), lm: all of the traced light less 2π ∫ I sin θ dθ over the cone (trapezoid rule;
 * CIE e-ILV 17-25-039 for flux from intensity), scaled so that the cone gives what was read. Uncertainty: of what was read, of the trace, and of an angle
 * on a near wall, which light from the lamp's rim reaches at another. Null where nothing is traced within the cone.
 */
export function addOutside(
  inCone: Measured,
  coneHalfDeg: number,
  distanceM: number,
  traced: TracedLight,
): LumensWithOutside | null {
  const within = (halfDeg: number) => Math.min(coneLm(traced, halfDeg), traced.fluxOutLm.value)
  const insideLm = within(coneHalfDeg)
  if (!(insideLm > 0) || !(inCone.value > 0)) return null
  const blurDeg = (Math.atan2(traced.apertureReachMm, 1000 * distanceM) * 180) / Math.PI
  const blur = rectangular((within(coneHalfDeg + blurDeg) - within(Math.max(0, coneHalfDeg - blurDeg))) / 2)
  const scale = inCone.value / insideLm
  const outsideLm = Math.max(0, traced.fluxOutLm.value - insideLm) * scale
  const ownU = combined([blur, traced.fluxOutLm.se]) * scale
  const share = inCone.u / inCone.value
  const allLm = inCone.value + outsideLm
  return {
    outside: { value: outsideLm, u: combined([ownU, share * outsideLm]) },
    all: { value: allLm, u: combined([ownU, share * allLm]) },
  }
}

/** Traced light within a cone, lm. */
function coneLm({ thetaDeg, cd }: TracedLight, halfDeg: number): number {
  const rad = Math.PI / 180
  let sum = 0
  for (let i = 1; i < thetaDeg.length; i++) {
    const [a, b] = [thetaDeg[i - 1] ?? 0, thetaDeg[i] ?? 0]
    if (a >= halfDeg) break
    const [inner, outer] = [cd[i - 1] ?? 0, cd[i] ?? 0]
    const end = Math.min(b, halfDeg)
    const atEnd = inner + ((outer - inner) * (end - a)) / (b - a)
    sum += ((inner + atEnd) / 2) * 2 * Math.PI * (Math.cos(a * rad) - Math.cos(end * rad))
  }
  return sum
}
