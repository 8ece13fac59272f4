// The tunnel's wall rolled out, walls and steps in the order of light: where a share of its length lies, and the other way round.
import { isRectangle, stretchesOf, type Unrolled, unroll } from '../../lamp/assembly.ts'
import type { Tunnel } from '../../lamp/schema.ts'
import { alongOf, type Cut, tunnelHalf } from './cut.ts'
import type { Point } from './lensProfile.ts'

const between = (a: number, b: number, t: number) => a + (b - a) * t

/** Points (z, r) of the section for shares of the wall's whole length from the inlet, 0 to 1. */
export function wallPlaces(tunnel: Tunnel, cut: Cut, side: 1 | -1): (share: number) => Point {
  const { parts } = unroll(stretchesOf(tunnel))
  const wide = alongOf(cut) === 'x'
  return (share) => {
    const part = parts.find((p) => share < p.toShare) ?? parts.at(-1)
    if (!part) return [tunnel.zInMm, 0]
    const t = Math.min(1, Math.max(0, (share - part.fromShare) / (part.toShare - part.fromShare)))
    const sizeMm = wide ? between(part.inMm, part.outMm, t) : between(part.inHeightMm, part.outHeightMm, t)
    return [between(part.zInMm, part.zOutMm, t), side * tunnelHalf(tunnel, sizeMm, cut, side)]
  }
}

/** Share of the wall's whole length at a place on it, mm in the lamp. */
export function wallShare(tunnel: Tunnel, at: { xMm: number; yMm: number; zMm: number }): number {
  const { parts } = unroll(stretchesOf(tunnel))
  const acrossMm = 2 * (isRectangle(tunnel) ? Math.max(Math.abs(at.xMm), Math.abs(at.yMm)) : Math.hypot(at.xMm, at.yMm))
  const inPart = (p: Unrolled): number | null => {
    const t = p.step ? (acrossMm - p.inMm) / (p.outMm - p.inMm) : (at.zMm - p.zInMm) / (p.zOutMm - p.zInMm)
    const isThere = t >= 0 && t <= 1 && (!p.step || Math.abs(at.zMm - p.zInMm) < NEAR_MM)
    return isThere ? between(p.fromShare, p.toShare, t) : null
  }
  const steps = parts.filter((p) => p.step)
  for (const p of [...steps, ...parts.filter((q) => !q.step)]) {
    const share = inPart(p)
    if (share !== null) return share
  }
  return at.zMm < tunnel.zInMm ? 0 : 1
}
/** As far as a place on a step may lie off its z. */
const NEAR_MM = 0.01
