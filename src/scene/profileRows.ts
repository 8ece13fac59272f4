// Emitter profiles into packed tables. Degrees become radians here.
import type { Profile } from '../lamp/schema.ts'
import { type ProfileTable, powerFromFwhm, tableFromProfile } from '../optics/profiles.ts'

const RAD = Math.PI / 180

export interface PackedProfile {
  /** 0 cosine power, 1 table, 2 map: as KIND.profile. */
  kind: 0 | 1 | 2
  /** 1/(m+1) of a power. */
  inverse: number
  /** Row records and tables of the others; offsets inside are relative to its start. */
  packed: Float32Array
  rows: number
}

/**
 * An emitter's profile as the tracer reads it: exponent of a cosine power, or packed tables over 1 − cosθ. Angles of
 * the document in degrees.
 * Cosine power I ∝ cosᵐθ, m = ln ½ / ln cos(FWHM/2); Gaussian I ∝ exp(−4 ln 2 (θ/FWHM)²); tables linear in θ
 * (textbook formulas; choices of the model).
 */
export function packProfile(profile: Profile): PackedProfile {
  if (profile.kind === 'cosine') {
    return { kind: 0, inverse: 1 / (powerFromFwhm(profile.fwhmDeg * RAD) + 1), packed: new Float32Array(0), rows: 0 }
  }
  if (profile.kind === 'map') return packMap(profile)
  return { kind: 1, inverse: 0, packed: profileTable(profile).packed, rows: 0 }
}

/**
 * Table of a Gaussian or tabulated profile over 1 − cosθ; its weight is ∫ I dc, relative intensity × c. A table is
 * flat before its first angle and zero past its last.
 */
export function profileTable(profile: Extract<Profile, { kind: 'gaussian' | 'table' }>): ProfileTable {
  if (profile.kind === 'gaussian') {
    const fwhm = profile.fwhmDeg * RAD
    // Beyond 3.3 half widths under 1e-13 of the peak is left; a hemisphere is the end in any case.
    return tableFromProfile((t) => Math.exp(-4 * Math.LN2 * (t / fwhm) ** 2), Math.min(Math.PI / 2, 3.3 * fwhm))
  }
  return tableFromLists(profile.thetaDeg, profile.intensity)
}

function tableFromLists(thetaDeg: readonly number[], intensity: readonly number[]): ProfileTable {
  const theta = thetaDeg.map((t) => t * RAD)
  const last = theta[theta.length - 1]!
  // Tables of the tracer are linear in 1 − cosθ: on the axis, where that goes as θ², a slope over θ wants nodes of its own.
  const first = theta.find((t) => t > 0) ?? 0
  const nearAxis = Array.from({ length: FIRST_STEPS - 1 }, (_, k) => (first * (k + 1)) / FIRST_STEPS)
  return tableFromProfile((t) => linear(t, theta, intensity), last > 0 ? last : Math.PI / 2, [...nearAxis, ...theta])
}
const FIRST_STEPS = 8

/** Piecewise linear, flat before the first angle, zero past the last. */
function linear(t: number, theta: readonly number[], intensity: readonly number[]): number {
  if (t <= theta[0]!) return intensity[0]!
  for (let i = 1; i < theta.length; i++) {
    if (t <= theta[i]!) {
      const f = (t - theta[i - 1]!) / (theta[i]! - theta[i - 1]!)
      return intensity[i - 1]! + f * (intensity[i]! - intensity[i - 1]!)
    }
  }
  return t <= theta[theta.length - 1]! + 1e-9 ? intensity[theta.length - 1]! : 0
}

const ROW = 5

/** Rows as emission.azimuthFromMap reads them: [share below, table offset, φ, width before, width after]. */
function packMap(profile: Extract<Profile, { kind: 'map' }>): PackedProfile {
  const phi = profile.phiDeg.map((p) => p * RAD)
  const n = phi.length
  const rows: { phi: number; before: number; after: number; table: ProfileTable; weight: number }[] = []
  for (let i = 0; i < n; i++) {
    const intensity = profile.intensity[i]!
    if (!intensity.some((v) => v > 0)) continue
    // A single row is its own neighbour a whole turn away: its two halves fold into an even spread.
    const before = gap(phi[(i + n - 1) % n]!, phi[i]!)
    const after = gap(phi[i]!, phi[(i + 1) % n]!)
    const table = tableFromLists(profile.thetaDeg, intensity)
    rows.push({ phi: phi[i]!, before, after, table, weight: (table.weight * (before + after)) / 2 })
  }
  const total = rows.reduce((sum, r) => sum + r.weight, 0)
  const packed = new Float32Array(rows.length * ROW + rows.reduce((sum, r) => sum + r.table.packed.length, 0))
  let below = 0
  let at = rows.length * ROW
  for (const [i, r] of rows.entries()) {
    packed.set([below / total, at, r.phi, r.before, r.after], i * ROW)
    packed.set(r.table.packed, at)
    at += r.table.packed.length
    below += r.weight
  }
  return { kind: 2, inverse: 0, packed, rows: rows.length }
}

const gap = (from: number, to: number) => {
  const d = (to - from) % (2 * Math.PI)
  return d <= 0 ? d + 2 * Math.PI : d
}
