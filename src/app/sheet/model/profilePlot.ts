// Geometry of the intensity profile: mirrored about the axis, linear or logarithmic, with ± as a band.
import { scaleLinear, scaleLog } from 'd3-scale'
import { area, line } from 'd3-shape'
import { T95 } from '../../../num/stats.ts'
import type { Figure } from '../../../run/figure.ts'
import type { PlotBox } from '../../common/plotBox.ts'

export interface ProfileInput {
  thetaDeg: ArrayLike<number>
  cd: ArrayLike<number>
  seCd: ArrayLike<number>
}

/** Decades shown below the peak on the logarithmic scale. */
export const LOG_DECADES = 5

/** Half range in degrees: wide enough for the field angle, no wider than what was traced. */
export function plotHalfDeg(profile: ProfileInput, fieldDeg: number | undefined): number {
  const last = profile.thetaDeg[profile.thetaDeg.length - 1] ?? 1
  if (!fieldDeg) return Math.min(last, 90)
  return Math.min(last, 90, Math.max(1, fieldDeg * 1.05))
}

export interface ProfileDrawing {
  line: string
  band: string
  x: (deg: number) => number
  y: (cd: number) => number
  xTicks: number[]
  yTicks: number[]
  peakCd: number
  degAt: (px: number) => number
}

export function drawProfile(profile: ProfileInput, box: PlotBox, halfDeg: number, log: boolean): ProfileDrawing {
  const peakCd = Math.max(1e-9, ...Array.from(profile.cd))
  const x = scaleLinear([-halfDeg, halfDeg], [box.left, box.widthPx - box.right])
  const range: [number, number] = [box.heightPx - box.bottom, box.top]
  const floor = peakCd * 10 ** -LOG_DECADES
  const y = log ? scaleLog([floor, peakCd * 1.6], range).clamp(true) : scaleLinear([0, peakCd * 1.1], range).clamp(true)
  const points = mirrored(profile, halfDeg)
  const safe = (cd: number) => Math.max(log ? floor : 0, cd)
  return {
    line:
      line<Point>(
        (p) => x(p.deg),
        (p) => y(safe(p.cd)),
      )(points) ?? '',
    band:
      area<Point>(
        (p) => x(p.deg),
        (p) => y(safe(p.cd - T95 * p.se)),
        (p) => y(safe(p.cd + T95 * p.se)),
      )(points) ?? '',
    x,
    y: (cd) => y(safe(cd)),
    xTicks: x.ticks(box.widthPx > 420 ? 9 : 6),
    yTicks: log ? decades(floor, peakCd * 1.6) : y.ticks(4),
    peakCd,
    degAt: (px) => x.invert(px),
  }
}

interface Point {
  deg: number
  cd: number
  se: number
}

/** The profile from -half to half, with interpolated end points. */
export function mirrored(profile: ProfileInput, halfDeg: number): Point[] {
  const right: Point[] = []
  for (let i = 0; i < profile.thetaDeg.length; i++) {
    const deg = profile.thetaDeg[i]!
    if (deg > halfDeg) break
    right.push({ deg, cd: profile.cd[i]!, se: profile.seCd[i]! })
  }
  const last = right[right.length - 1]
  if (last && last.deg < halfDeg) right.push({ deg: halfDeg, ...readProfile(profile, halfDeg) })
  const left = right.filter((p) => p.deg > 0).map((p) => ({ ...p, deg: -p.deg }))
  return [...left.reverse(), ...right]
}

/** Value and standard error at an angle from the axis, by linear interpolation. */
export function readProfile(profile: ProfileInput, thetaDeg: number): { cd: number; se: number } {
  const n = profile.thetaDeg.length
  const at = Math.abs(thetaDeg)
  let i = 1
  while (i < n - 1 && profile.thetaDeg[i]! < at) i++
  const from = profile.thetaDeg[i - 1] ?? 0
  const to = profile.thetaDeg[i] ?? from
  const u = to > from ? Math.min(1, Math.max(0, (at - from) / (to - from))) : 0
  const mix = (a: ArrayLike<number>) => (a[i - 1] ?? 0) + u * ((a[i] ?? a[i - 1] ?? 0) - (a[i - 1] ?? 0))
  return { cd: mix(profile.cd), se: mix(profile.seCd) }
}

function decades(from: number, to: number): number[] {
  const ticks: number[] = []
  for (let e = Math.ceil(Math.log10(from)); e <= Math.floor(Math.log10(to)); e++) ticks.push(10 ** e)
  return ticks
}

/** Largest over smallest angle by direction, minus one; 0 for a round beam. */
export function outOfRound(byDirection: readonly { beamDeg: number }[]): number {
  if (byDirection.length === 0) return 0
  const all = byDirection.map((d) => d.beamDeg)
  return Math.max(...all) / Math.min(...all) - 1
}

/** The widest and the narrowest direction. */
export function extremes<T extends { beamDeg: number }>(byDirection: readonly T[]): [T, T] | null {
  if (byDirection.length === 0) return null
  const sorted = [...byDirection].sort((a, b) => a.beamDeg - b.beamDeg)
  return [sorted[sorted.length - 1]!, sorted[0]!]
}

/** Marks on the curve at half and a tenth of the peak; the level is a share of the peak. */
export function marks(beam: Figure | undefined, field: Figure | undefined, halfDeg: number) {
  return [
    { share: 0.5, word: 'half', figure: beam },
    { share: 0.1, word: 'tenth', figure: field },
  ].flatMap((m) => (m.figure && m.figure.value / 2 <= halfDeg ? [{ ...m, figure: m.figure }] : []))
}
