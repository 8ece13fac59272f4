// Emitter profiles into packed tables. Degrees become radians here.
import type { OpticType, Profile } from '../lamp/schema.ts'
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
  if (profile.kind === 'gaussian') return gaussianTable(profile.fwhmDeg * RAD)
  return tableFromLists(profile.thetaDeg, profile.intensity)
}

/** Beyond 3.3 half widths under 1e-13 of the peak is left; a hemisphere is the end in any case. */
const gaussianTable = (fwhm: number, nodes?: number): ProfileTable =>
  tableFromProfile((t) => Math.exp(-4 * Math.LN2 * (t / fwhm) ** 2), Math.min(Math.PI / 2, 3.3 * fwhm), [], nodes)

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
  return packRows(
    profile.phiDeg.map((p) => p * RAD),
    profile.intensity.map((row) => (row.some((v) => v > 0) ? tableFromLists(profile.thetaDeg, row) : null)),
  )
}

/** Azimuths rad, rising, and their tables; null where no light goes. Rows may share a table. */
function packRows(phi: readonly number[], tables: readonly (ProfileTable | null)[]): PackedProfile {
  const n = phi.length
  const rows = phi.flatMap((own, i) => {
    const table = tables[i]
    if (!table) return []
    // A single row is its own neighbour a whole turn away: its two halves fold into an even spread.
    const before = gap(phi[(i + n - 1) % n]!, own)
    const after = gap(own, phi[(i + 1) % n]!)
    return [{ phi: own, before, after, table, weight: (table.weight * (before + after)) / 2 }]
  })
  const total = rows.reduce((sum, r) => sum + r.weight, 0)
  const own = new Set(rows.map((r) => r.table))
  const places = new Map<ProfileTable, number>()
  let at = rows.length * ROW
  for (const table of own) {
    places.set(table, at)
    at += table.packed.length
  }
  const packed = new Float32Array(at)
  for (const [table, place] of places) packed.set(table.packed, place)
  let below = 0
  for (const [i, r] of rows.entries()) {
    packed.set([below / total, places.get(r.table) ?? 0, r.phi, r.before, r.after], i * ROW)
    below += r.weight
  }
  return { kind: 2, inverse: 0, packed, rows: rows.length }
}

/** Azimuths of an elliptical beam, a multiple of four, and steps of a table. */
const ELLIPSE_ROWS = 144
const ELLIPSE_NODES = 256

/**
 * A Gaussian of two widths, I ∝ exp(−4 ln 2 θ² (cos²φ/F_x² + sin²φ/F_y²)), F_x and F_y its full widths at half maximum along x and y (rad),
 * as a map: rows even in the angle ψ with tan φ = √(F_y/F_x) tan ψ, which stand closer where the beam is slim, its intensity linear in φ
 * between them. Within 0.15 % of the peak everywhere for F_y/F_x between 1/8 and 8, and within 0.06 % between 1/3 and 3 (the test measures it).
 */
function packEllipse(fwhmX: number, fwhmY: number): PackedProfile {
  const quarter = ELLIPSE_ROWS / 4
  const quarterPhi = Array.from({ length: quarter + 1 }, (_, k) => {
    const psi = (Math.PI / 2) * (k / quarter)
    return Math.atan2(Math.sqrt(fwhmY) * Math.sin(psi), Math.sqrt(fwhmX) * Math.cos(psi))
  })
  const tables = quarterPhi.map((phi) => {
    const fwhm = 1 / Math.hypot(Math.cos(phi) / fwhmX, Math.sin(phi) / fwhmY)
    return gaussianTable(fwhm, ELLIPSE_NODES)
  })
  const folded = Array.from({ length: ELLIPSE_ROWS }, (_, k) => {
    const turn = Math.floor(k / quarter)
    const along = k % quarter
    return turn % 2 === 0 ? along : quarter - along
  })
  const phi = folded.map((k, i) => {
    const turn = Math.floor(i / quarter)
    return (turn % 2 === 0 ? turn : turn + 1) * (Math.PI / 2) + (turn % 2 === 0 ? quarterPhi[k]! : -quarterPhi[k]!)
  })
  return packRows(
    phi,
    folded.map((k) => tables[k]!),
  )
}

/** As the tracer reads a collimator's beam: of its shape, or its table. The document is one that `readLamp` accepts. */
export function packCollimator(optic: Extract<OpticType, { kind: 'collimator' }>): PackedProfile {
  const { shape, fwhmDeg, fwhmYDeg, profile } = optic
  if (shape === 'table' && profile) return packProfile(profile)
  if (shape === 'gaussian' && fwhmYDeg !== undefined && fwhmYDeg !== fwhmDeg)
    return packEllipse(fwhmDeg * RAD, fwhmYDeg * RAD)
  return packProfile({ kind: shape === 'cosine' ? 'cosine' : 'gaussian', fwhmDeg })
}

const gap = (from: number, to: number) => {
  const d = (to - from) % (2 * Math.PI)
  return d <= 0 ? d + 2 * Math.PI : d
}
