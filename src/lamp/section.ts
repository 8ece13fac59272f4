// The tunnel's section at a height: its sizes, the circle about it, and how far a point lies outside it.
import { isRectangle, type Stretch, stretchesOf } from './assembly.ts'
import type { Tunnel } from './schema.ts'

const known = new WeakMap<Tunnel, Stretch[]>()

/** Stretches of the tunnel that a height (mm) lies in: two at a joint; beyond its ends the first or the last. */
export function stretchesAt(tunnel: Tunnel, zMm: number): Stretch[] {
  const z = Math.min(Math.max(zMm, tunnel.zInMm), tunnel.zOutMm)
  const all = known.get(tunnel) ?? stretchesOf(tunnel)
  known.set(tunnel, all)
  return all.filter((s) => z >= s.zInMm && z <= s.zOutMm)
}

/** Half sizes of the tunnel's section at a height, mm: along x and y of a rectangle, else both alike; at a step the wider, beyond its ends as there. */
export function sectionAt(tunnel: Tunnel, zMm: number): { xMm: number; yMm: number } {
  const z = Math.min(Math.max(zMm, tunnel.zInMm), tunnel.zOutMm)
  const halves = stretchesAt(tunnel, z).map((s) => {
    const share = (z - s.zInMm) / (s.zOutMm - s.zInMm)
    return { xMm: mixed(s.inMm, s.outMm, share) / 2, yMm: mixed(s.inHeightMm, s.outHeightMm, share) / 2 }
  })
  return halves.reduce((a, b) => ({ xMm: Math.max(a.xMm, b.xMm), yMm: Math.max(a.yMm, b.yMm) }))
}

const mixed = (from: number, to: number, share: number): number => from + (to - from) * share

/** Radius of the circle about the tunnel's section at a height, mm: to the corners of a polygon and a rectangle. */
export function aboutSectionMm(tunnel: Tunnel, zMm: number): number {
  const { xMm, yMm } = sectionAt(tunnel, zMm)
  if (isRectangle(tunnel)) return Math.hypot(xMm, yMm)
  return tunnel.sides === 0 ? xMm : xMm / Math.cos(Math.PI / tunnel.sides)
}

/** How far a point (mm) lies outside the tunnel's section at its height, across the nearest wall; negative inside. */
export function pastWallMm(tunnel: Tunnel, { xMm, yMm, zMm }: { xMm: number; yMm: number; zMm: number }): number {
  const half = sectionAt(tunnel, zMm)
  if (isRectangle(tunnel)) return Math.max(Math.abs(xMm) - half.xMm, Math.abs(yMm) - half.yMm)
  return acrossFlatsMm(tunnel.sides, xMm, yMm) - half.xMm
}

/** Distance from the axis as a section's flats have it: the radius of a round one, or the largest projection on their normals, the first along +x. */
export function acrossFlatsMm(sides: number, xMm: number, yMm: number): number {
  const r = Math.hypot(xMm, yMm)
  if (sides === 0) return r
  const step = (2 * Math.PI) / sides
  const azimuth = Math.atan2(yMm, xMm)
  return r * Math.cos(azimuth - step * Math.round(azimuth / step))
}
