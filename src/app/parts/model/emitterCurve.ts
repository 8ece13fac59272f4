// The plot and the width of an emitter's sampled profile (a table or a map).
import { scaleLinear } from 'd3-scale'
import { line } from 'd3-shape'
import { meanAround } from '../../../files/lm63Lumens.ts'
import type { Profile } from '../../../lamp/schema.ts'
import { linear } from '../../../num/interpolate.ts'
import { formatNumber } from '../../common/units.ts'

export type SampledProfile = Extract<Profile, { kind: 'table' | 'map' }>

/** Intensity over θ at an azimuth, interpolated between the planes with wrap-around. */
export function rowAt(profile: SampledProfile, phiDeg: number): readonly number[] {
  if (profile.kind === 'table') return profile.intensity
  const { phiDeg: phis, intensity: rows } = profile
  const n = phis.length
  const after = phis.findIndex((p) => p > phiDeg)
  const [from, to] = after === -1 ? [n - 1, 0] : [(after + n - 1) % n, after]
  const fromDeg = phis[from]!
  const width = (((phis[to]! - fromDeg) % 360) + 360) % 360 || 360
  const t = ((((phiDeg - fromDeg) % 360) + 360) % 360) / width
  const [before, beyond] = [rows[from]!, rows[to]!]
  return profile.thetaDeg.map((_, i) => before[i]! * (1 - t) + beyond[i]! * t)
}

const peakOf = (profile: SampledProfile): number =>
  profile.kind === 'table'
    ? Math.max(...profile.intensity)
    : Math.max(...profile.intensity.map((row) => Math.max(...row)))

/** Outermost angle with half of `peak`; null where the table ends above it, 0 where no angle reaches it. */
export function halfAngleDeg(thetaDeg: readonly number[], intensity: readonly number[], peak: number): number | null {
  for (let i = thetaDeg.length - 1; i >= 0; i--) {
    const [here, hereDeg] = [intensity[i]!, thetaDeg[i]!]
    if (here < peak / 2) continue
    const next = intensity[i + 1]
    if (next === undefined) return hereDeg >= 90 ? 90 : null
    return hereDeg + ((here - peak / 2) / (here - next)) * (thetaDeg[i + 1]! - hereDeg)
  }
  return 0
}

const deg = (value: number): string => `${formatNumber(value, 1)}°`

/** "Viewing angle 65.6°, full: half of the peak at 32.8° from the axis." */
export function widthWords(profile: SampledProfile): string {
  const peak = peakOf(profile)
  const last = profile.thetaDeg.at(-1)!
  const half = (phi: number) => halfAngleDeg(profile.thetaDeg, rowAt(profile, phi), peak) ?? last
  const sentences =
    profile.kind === 'table'
      ? [`Viewing angle ${deg(2 * half(0))}, full: half of the peak at ${deg(half(0))} from the axis.`]
      : [`Viewing angle, full: ${deg(half(0) + half(180))} along x, ${deg(half(90) + half(270))} along y.`]
  const tilt = brightestDeg(profile, peak)
  if (tilt > 0) sentences.push(`Brightest ${deg(tilt)} off the axis.`)
  const isTruncated = [0, 90, 180, 270].some(
    (phi) => halfAngleDeg(profile.thetaDeg, rowAt(profile, phi), peak) === null,
  )
  if (isTruncated) sentences.push(`It ends at ${deg(last)} with over half of its peak; no light beyond.`)
  return sentences.join(' ')
}

function brightestDeg(profile: SampledProfile, peak: number): number {
  const rows = profile.kind === 'table' ? [profile.intensity] : profile.intensity
  const at = rows.map((row) => row.indexOf(peak)).filter((i) => i >= 0)
  // A table that starts off the axis is constant from there inwards.
  return Math.min(...at) === 0 ? 0 : profile.thetaDeg[Math.min(...at)]!
}

export interface CurveBox {
  widthPx: number
  heightPx: number
}
const EDGE = { side: 15, top: 6, foot: 16 }

export interface CurvePicture {
  /** One curve, or for a map one along x and one along y. */
  curves: { d: string; along: 'x' | 'y' | 'all round' }[]
  ticks: { xPx: number; deg: number }[]
  halfPx: number
  footPx: number
  middlePx: number
}

/** Relative intensity from −90° to 90°. */
export function curvePicture(profile: SampledProfile, box: CurveBox): CurvePicture {
  const peak = peakOf(profile) || 1
  const x = scaleLinear([-90, 90], [EDGE.side, box.widthPx - EDGE.side])
  const y = scaleLinear([0, 1], [box.heightPx - EDGE.foot, EDGE.top])
  const draw = line<[number, number]>(
    ([t]) => x(t),
    ([, v]) => y(v / peak),
  )
  const across = (phi: number) =>
    draw([
      ...side(profile, phi + 180)
        .map(([t, v]): [number, number] => [-t, v])
        .reverse(),
      ...side(profile, phi),
    ]) ?? ''
  return {
    curves:
      profile.kind === 'table'
        ? [{ d: across(0), along: 'all round' }]
        : [
            { d: across(0), along: 'x' },
            { d: across(90), along: 'y' },
          ],
    ticks: [-90, -60, -30, 0, 30, 60, 90].map((t) => ({ xPx: x(t), deg: t })),
    halfPx: y(0.5),
    footPx: y(0),
    middlePx: x(0),
  }
}

/** Constant inside the first angle and zero past the last, as in the tracer. */
function side(profile: SampledProfile, phi: number): [number, number][] {
  const row = rowAt(profile, phi)
  const points = profile.thetaDeg.map((t, i): [number, number] => [t, row[i]!])
  const last = profile.thetaDeg.at(-1)!
  return [
    [0, row[0]!],
    ...points,
    ...(last < 90
      ? ([
          [last, 0],
          [90, 0],
        ] as [number, number][])
      : []),
  ]
}

const ROWS = 19

/** Any profile as a table, for editing: formulas are sampled, a map is averaged over its azimuths. */
export function asTable(profile: Profile): Extract<Profile, { kind: 'table' }> {
  if (profile.kind === 'table') return profile
  if (profile.kind === 'map') return averaged(profile)
  const half = profile.fwhmDeg / 2
  const RAD = Math.PI / 180
  // Gaussian: exp(−4 ln2 (θ/FWHM)²). Cosine power: m = ln ½ / ln cos(FWHM/2).
  const power = Math.log(0.5) / Math.log(Math.cos(half * RAD))
  const of = (t: number) =>
    profile.kind === 'gaussian' ? Math.exp(-Math.LN2 * (t / half) ** 2) : Math.max(0, Math.cos(t * RAD)) ** power
  const step = Math.min(5, tidyStep(profile.fwhmDeg / 8))
  const last = (ROWS - 1) * step
  // Include the angle of half the peak, so that the width is preserved.
  const angles = new Set([...Array.from({ length: ROWS }, (_, i) => i * step), half].map((t) => Number(t.toFixed(3))))
  const thetaDeg = [...angles].sort((a, b) => a - b)
  // It ends at zero; only a wide Gaussian is still bright at 90°.
  const intensity = thetaDeg.map((t) => (t >= last && last < 90 ? 0 : Number(of(t).toFixed(5))))
  return { kind: 'table', thetaDeg, intensity }
}

/** The largest of 1, 2, 2.5, 5 times a power of ten that is at most `step`. */
function tidyStep(step: number): number {
  const ten = 10 ** Math.floor(Math.log10(step))
  return ten * ([5, 2.5, 2, 1].find((k) => k * ten <= step) ?? 1)
}

function averaged({ thetaDeg, phiDeg, intensity }: Extract<Profile, { kind: 'map' }>) {
  const mean = meanAround({ verticalDeg: thetaDeg, horizontalDeg: phiDeg, candela: intensity })
  const peak = Math.max(...mean)
  return { kind: 'table' as const, thetaDeg, intensity: mean.map((v) => Number((v / peak).toPrecision(5))) }
}

/** Full width at half maximum, clamped to the limits of a formula. */
export function fullWidthDeg(profile: SampledProfile): number {
  const flat = asTable(profile)
  const half = halfAngleDeg(flat.thetaDeg, flat.intensity, peakOf(flat)) ?? flat.thetaDeg.at(-1)!
  return Math.min(178, Math.max(1, Number((2 * half).toFixed(2))))
}

/** A new row for a table: the last step again or, once it reaches 90°, the middle of the widest gap. */
export function rowAdded(
  rows: readonly { thetaDeg: number; intensity: number }[],
): { thetaDeg: number; intensity: number }[] {
  const last = rows.at(-1)!
  const before = rows.at(-2)
  const step = before ? last.thetaDeg - before.thetaDeg : 10
  if (last.thetaDeg < 90) {
    const thetaDeg = Math.min(90, Number((last.thetaDeg + step).toFixed(3)))
    return [...rows, { thetaDeg, intensity: last.intensity }]
  }
  if (!before) return [{ thetaDeg: 0, intensity: last.intensity }, ...rows]
  let at = 1
  const gap = (i: number) => rows[i]!.thetaDeg - rows[i - 1]!.thetaDeg
  for (let i = 2; i < rows.length; i++) if (gap(i) > gap(at) + 1e-9) at = i
  const thetaDeg = Number(((rows[at]!.thetaDeg + rows[at - 1]!.thetaDeg) / 2).toFixed(3))
  const intensity = linear(
    rows.map((r) => r.thetaDeg),
    rows.map((r) => r.intensity),
    thetaDeg,
  )
  return [...rows.slice(0, at), { thetaDeg, intensity: Number(intensity.toFixed(5)) }, ...rows.slice(at)]
}
