// An emitter's angular profile from a photometric file. Nadir of the file becomes the emitter's axis, its horizontal 0 the
// emitter's +x: the luminaire is turned face up about x, so that the file's azimuth ψ, counterclockwise from above (from behind the
// emitter), is φ = −ψ, counterclockwise from the target. Published text says "counterclockwise" only; seen from above is our reading.
import { LIMITS } from '../lamp/limits.ts'
import type { Profile } from '../lamp/schema.ts'
import type { Photometry } from './lm63.ts'
import { lumensOf } from './lm63Lumens.ts'

export type FileProfile =
  | {
      ok: true
      profile: Extract<Profile, { kind: 'table' | 'map' }>
      /** Flux of the file up to 90° from the axis, which the profile represents. */
      fluxLm: number
      note: string
    }
  | { ok: false; why: string }

export function profileFromPhotometry(photometry: Photometry): FileProfile {
  const front = frontOf(photometry)
  const peak = front.rows.reduce((most, row) => Math.max(most, ...row), 0)
  if (!(peak > 0)) {
    return {
      ok: false,
      why: 'No light below 90° from straight down; expected some, since that side becomes the emitter’s front.',
    }
  }
  const { lumens, lowerLumens, upperLumens } = lumensOf(photometry)
  const sentences = [`LM-63 file (${photometry.edition}): straight down is the emitter’s axis.`]
  sentences.push(
    upperLumens > 0
      ? `${percent(upperLumens / lumens)} of its light goes beyond 90° and was left out.`
      : 'None of its light goes beyond 90°.',
  )
  const theta = thinned(front.thetaDeg)
  const relative = (row: readonly number[]) => theta.at.map((i) => digits(row[i]! / peak))
  const thetaDeg = theta.at.map((i) => angle(front.thetaDeg[i]!))
  const fluxLm = Number(lowerLumens.toPrecision(5))
  if (theta.dropped > 0)
    sentences.push(`${theta.at.length} of its ${front.thetaDeg.length} angles from the axis are kept.`)
  if (front.rows.every((row) => row.every((v, i) => v === front.rows[0]![i]))) {
    sentences.push('The same all round.')
    return {
      ok: true,
      profile: { kind: 'table', thetaDeg, intensity: relative(front.rows[0]!) },
      fluxLm,
      note: sentences.join(' '),
    }
  }
  const planes = turned(photometry.horizontalDeg, front.rows)
  const phi = thinned(planes.phiDeg)
  if (phi.dropped > 0) sentences.push(`${phi.at.length} of its ${planes.phiDeg.length} planes are kept.`)
  sentences.push(
    'Its horizontal 0 lies along +x of the board; it counts counterclockwise from above, taken as from behind the emitter, so that its 90° lies along −y.',
  )
  const phiDeg = phi.at.map((i) => angle(planes.phiDeg[i]!))
  const intensity = phi.at.map((i) => relative(planes.rows[i]!))
  return { ok: true, profile: { kind: 'map', thetaDeg, phiDeg, intensity }, fluxLm, note: sentences.join(' ') }
}

/** Angles up to 90°; a file without a point at 90° gets an interpolated one. */
function frontOf({ verticalDeg, candela }: Photometry): { thetaDeg: number[]; rows: number[][] } {
  const inside = verticalDeg.filter((v) => v <= 90).length
  const rows = candela.map((row) => row.slice(0, inside))
  const thetaDeg = verticalDeg.slice(0, inside)
  const last = thetaDeg.at(-1)
  if (last !== undefined && last < 90 && inside < verticalDeg.length) {
    const t = (90 - last) / (verticalDeg[inside]! - last)
    thetaDeg.push(90)
    for (const [h, row] of rows.entries()) row.push(candela[h]![inside - 1]! * (1 - t) + candela[h]![inside]! * t)
  }
  // A file of the upper hemisphere alone has only 90° in common with the front.
  return thetaDeg.length < 2 ? { thetaDeg: [], rows: [] } : { thetaDeg, rows }
}

/** φ = −ψ in [0, 360), sorted in ascending order. */
function turned(horizontalDeg: readonly number[], rows: readonly (readonly number[])[]) {
  const order = horizontalDeg
    .map((h, i) => ({ phi: h === 0 ? 0 : 360 - h, row: rows[i]! }))
    .sort((a, b) => a.phi - b.phi)
  return { phiDeg: order.map((o) => o.phi), rows: order.map((o) => o.row) }
}

/** Indices to keep: evenly spaced among the points of the file, always with the first and the last. */
function thinned(points: readonly number[]): { at: number[]; dropped: number } {
  const most = LIMITS.tableRows
  const keep = Math.min(points.length, most)
  const at = Array.from({ length: keep }, (_, k) =>
    keep === 1 ? 0 : Math.round((k * (points.length - 1)) / (keep - 1)),
  )
  return { at, dropped: points.length - keep }
}

/** Five digits: finer than any goniophotometer. */
const digits = (share: number): number => Number(share.toPrecision(5))
const angle = (deg: number): number => Number(deg.toFixed(4))
const percent = (share: number): string => `${share < 0.0005 ? 'Under 0.1' : (100 * share).toFixed(1)} %`
