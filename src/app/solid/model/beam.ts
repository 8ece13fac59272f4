// Fluence of the beam in front of the lamp, from the traced profile alone. The exit aperture is modelled as a disc whose every point emits
// the same profile (true of the whole, not of each point).

import { topZMm } from '../../../lamp/front.ts'
import { placeEmitters } from '../../../lamp/place.ts'
import type { Lamp } from '../../../lamp/schema.ts'
import { linear } from '../../../num/interpolate.ts'
import { mouthRadiusMm, passedLastMm } from '../../common/extent.ts'

export interface BeamTable {
  /** columns along the axis, rows across, row-major by row: row 0 on the axis. Relative to the mean at the mouth. */
  values: Float32Array
  columns: number
  rows: number
  lengthMm: number
  mouthMm: number
  /** Half width of the last row at distance s: mouth + s · spread. */
  spread: number
}

interface ProfileLike {
  thetaDeg: ArrayLike<number>
  cd: ArrayLike<number>
}

/** Position and radius of the exit aperture. */
export function mouthOf(lamp: Lamp): { zMm: number; radiusMm: number } {
  const mouthMm = mouthRadiusMm(lamp)
  if (mouthMm !== null) return { zMm: passedLastMm(lamp), radiusMm: mouthMm }
  let radiusMm = 1
  let zMm = 0
  for (const e of placeEmitters(lamp)) {
    const exit = e.optic.kind === 'bare' ? e.emitter.bodyMm : e.optic.exitDiameterMm
    radiusMm = Math.max(radiusMm, Math.hypot(e.xMm, e.yMm) + exit / 2)
    zMm = Math.max(zMm, e.plain ? (e.optic.kind === 'collimator' ? e.optic.heightMm : e.emitter.heightMm) : topZMm(e))
  }
  return { zMm, radiusMm }
}

/** Half angle, degrees, of the cone that contains `share` of the flux of the forward half space. */
export function fluxConeDeg(profile: ProfileLike, share: number): number {
  const steps = 900
  const sums = new Float64Array(steps + 1)
  for (let i = 1; i <= steps; i++) {
    const theta = (90 * (i - 0.5)) / steps
    sums[i] = sums[i - 1]! + linear(profile.thetaDeg, profile.cd, theta) * Math.sin((theta * Math.PI) / 180)
  }
  const wanted = share * sums[steps]!
  const at = sums.findIndex((s) => s >= wanted)
  return (90 * Math.max(1, at)) / steps
}

/**
 * Fluence at distance s and radius r from a disc of radius a whose every point sends I(θ): with ρ = s·tanθ about the
 * point's foot, E = 1/(πa²) ∫ I(θ) tanθ φ(r, ρ) dθ, φ the part of that circle that lies on the disc.
 */
export function fluenceAt(profile: ProfileLike, mouthMm: number, rMm: number, sMm: number, steps = 360): number {
  // Only where circles about the foot meet the disc.
  const from = Math.atan2(Math.max(0, rMm - mouthMm), sMm)
  const to = Math.min((75 * Math.PI) / 180, Math.atan2(mouthMm + rMm, sMm))
  let sum = 0
  for (let i = 0; i < steps; i++) {
    // Within the disc's projection small angles dominate: finer steps there.
    const u = (i + 0.5) / steps
    const theta = from + (to - from) * (from > 0 ? u : u * u)
    const tan = Math.tan(theta)
    const onDisc = arcOnDisc(rMm, sMm * tan, mouthMm)
    if (onDisc > 0)
      sum += linear(profile.thetaDeg, profile.cd, (theta * 180) / Math.PI) * tan * onDisc * (from > 0 ? 1 : 2 * u)
  }
  return (Math.max(0, to - from) * sum) / steps / (Math.PI * mouthMm * mouthMm)
}

function arcOnDisc(r: number, rho: number, a: number): number {
  if (rho <= a - r) return 2 * Math.PI
  if (rho >= a + r || rho <= r - a) return 0
  return 2 * Math.acos(Math.max(-1, Math.min(1, (r * r + rho * rho - a * a) / (2 * r * rho))))
}

export function beamTable(profile: ProfileLike, mouthMm: number, lengthMm: number, columns = 40, rows = 40): BeamTable {
  const cone = Math.min(65, Math.max(1, fluxConeDeg(profile, 0.97)))
  const spread = Math.tan((cone * Math.PI) / 180)
  const values = new Float32Array(columns * rows)
  const one = fluenceAt(profile, mouthMm, 0, 0) || 1
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const s = (lengthMm * column) / (columns - 1)
      const r = ((mouthMm + s * spread) * row) / (rows - 1)
      values[row * columns + column] = fluenceAt(profile, mouthMm, r, s) / one
    }
  }
  return { values, columns, rows, lengthMm, mouthMm, spread }
}
