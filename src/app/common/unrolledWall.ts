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

interface Place {
  xMm: number
  yMm: number
  zMm: number
}

/** Share of the wall's whole length at a place on it, mm in the lamp: the inverse of `profilePlace` in run/wallProfile.ts, as is `roundShare`. */
export const wallShare = (tunnel: Tunnel, at: Place): number => onWall(tunnel, at).share

/** Share of the way round, from the middle of the flat at +x anticlockwise: of the azimuth; of a rectangle a quarter for each flat, even along it. */
export function roundShare(tunnel: Tunnel, at: Place): number {
  if (!isRectangle(tunnel)) return shareOfTurn(at.xMm, at.yMm)
  const { halfX, halfY } = onWall(tunnel, at)
  const u = at.xMm / halfX
  const v = at.yMm / halfY
  const share = Math.abs(v) > Math.abs(u) ? (v > 0 ? 2 - u / v : 6 - u / v) : u > 0 ? v / u : 4 + v / u
  return (share < 0 ? share + 8 : share) / 8
}

/** Azimuth from +x as a share of a turn, [0, 1). */
export function shareOfTurn(x: number, y: number): number {
  const turn = Math.atan2(y, x) / (2 * Math.PI)
  return turn - Math.floor(turn)
}

/** Share of the length, and half the section there along x and y, mm. */
function onWall(tunnel: Tunnel, at: Place): { share: number; halfX: number; halfY: number } {
  const { parts } = unroll(stretchesOf(tunnel))
  const on = (part: Unrolled, t: number) => ({
    share: between(part.fromShare, part.toShare, t),
    halfX: between(part.inMm, part.outMm, t) / 2,
    halfY: between(part.inHeightMm, part.outHeightMm, t) / 2,
  })
  const isThere = (t: number) => t >= 0 && t <= 1
  for (const step of parts.filter((p) => p.step && Math.abs(at.zMm - p.zInMm) < NEAR_MM)) {
    const t = alongStep(tunnel, step, at).find(isThere)
    if (t !== undefined) return on(step, t)
  }
  for (const wall of parts.filter((p) => !p.step)) {
    const t = (at.zMm - wall.zInMm) / (wall.zOutMm - wall.zInMm)
    if (isThere(t)) return on(wall, t)
  }
  const end = at.zMm < tunnel.zInMm ? parts[0] : parts.at(-1)
  return end ? on(end, at.zMm < tunnel.zInMm ? 0 : 1) : { share: 0, halfX: 1, halfY: 1 }
}

/** How far a place on a step lies from its lower outline to its upper one: of a rectangle by one pair of sides, and by the other. */
function alongStep(tunnel: Tunnel, step: Unrolled, { xMm, yMm }: Place): number[] {
  const { inMm, outMm, inHeightMm, outHeightMm } = step
  if (!isRectangle(tunnel)) return [(2 * acrossMm(tunnel.sides, xMm, yMm) - inMm) / (outMm - inMm)]
  const ofX = (2 * Math.abs(xMm) - inMm) / (outMm - inMm)
  const ofY = (2 * Math.abs(yMm) - inHeightMm) / (outHeightMm - inHeightMm)
  const inside = (t: number) =>
    2 * Math.abs(xMm) <= between(inMm, outMm, t) + NEAR_MM &&
    2 * Math.abs(yMm) <= between(inHeightMm, outHeightMm, t) + NEAR_MM
  return [ofX, ofY].filter(inside)
}

/** Radius, or the distance across to the flat there, mm. */
function acrossMm(sides: number, x: number, y: number): number {
  if (sides === 0) return Math.hypot(x, y)
  const flat = (2 * Math.PI) / sides
  const azimuth = Math.atan2(y, x)
  return Math.hypot(x, y) * Math.cos(azimuth - flat * Math.round(azimuth / flat))
}

/** As far as a place on a step may lie off its z, or beside its outline. */
const NEAR_MM = 0.01
