// Lumens of a photometric file: Φ = ∫∫ I sinγ dγ dφ.
import { zoneSr } from '../beam/profile.ts'
import type { Photometry } from './lm63.ts'

const RAD = Math.PI / 180

type Light = Pick<Photometry, 'verticalDeg' | 'horizontalDeg' | 'candela'>

export interface FileLumens {
  /** Exact for intensities that are linear in both angles between the points of the file. */
  lumens: number
  /** Zonal sum of the handbooks: mean of a zone's two edges times its solid angle. */
  zonalLumens: number
  /** Shares of `lumens`: up to 90° from nadir, and beyond. */
  lowerLumens: number
  upperLumens: number
}

export function lumensOf(light: Light): FileLumens {
  const mean = meanAround(light)
  const v = light.verticalDeg
  let [lower, upper, zonal] = [0, 0, 0]
  for (let i = 1; i < v.length; i++) {
    const [a, b, from, to] = [v[i - 1]!, v[i]!, mean[i - 1]!, mean[i]!]
    zonal += 0.5 * (from + to) * zoneSr(a * RAD, b * RAD)
    if (b <= 90) lower += linearZone(a, b, from, to)
    else if (a >= 90) upper += linearZone(a, b, from, to)
    else {
      const middle = from + ((to - from) * (90 - a)) / (b - a)
      lower += linearZone(a, 90, from, middle)
      upper += linearZone(90, b, middle, to)
    }
  }
  return { lumens: lower + upper, zonalLumens: zonal, lowerLumens: lower, upperLumens: upper }
}

/** Mean intensity over the azimuth by the trapezoidal rule: each plane weighs half the gap on either side. */
export function meanAround({ verticalDeg, horizontalDeg, candela }: Light): number[] {
  const n = horizontalDeg.length
  const weights = Array.from({ length: n }, (_, i) => {
    const before = i > 0 ? horizontalDeg[i - 1]! : horizontalDeg[n - 1]! - 360
    const after = i < n - 1 ? horizontalDeg[i + 1]! : horizontalDeg[0]! + 360
    return (after - before) / 720
  })
  return verticalDeg.map((_, v) => weights.reduce((sum, w, h) => sum + w * candela[h]![v]!, 0))
}

/** 2π ∫ I sinγ dγ of I linear from a to b, expanded about the middle, so that narrow zones keep their precision. */
function linearZone(aDeg: number, bDeg: number, from: number, to: number): number {
  const middle = ((aDeg + bDeg) / 2) * RAD
  const half = ((bDeg - aDeg) / 2) * RAD
  const slope = (to - from) / (2 * half)
  // sin h − h cos h = h³/3 − h⁵/30 + …
  const moment = half < 0.01 ? half ** 3 / 3 - half ** 5 / 30 : Math.sin(half) - half * Math.cos(half)
  return 2 * Math.PI * ((from + to) * Math.sin(middle) * Math.sin(half) + 2 * slope * Math.cos(middle) * moment)
}
