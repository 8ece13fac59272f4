// The tunnel's section at a height: its sizes, the circle about it, and how far a point lies outside it.
import { isRectangle, type Stretch, stretchesOf } from './assembly.ts'
import type { Tunnel } from './schema.ts'

const known = new WeakMap<Tunnel, Stretch[]>()

/** As stretchesOf, memoized: rules ask for the section at every emitter. */
function knownStretches(tunnel: Tunnel): Stretch[] {
  const all = known.get(tunnel) ?? stretchesOf(tunnel)
  known.set(tunnel, all)
  return all
}

/** Half sizes of the tunnel's section at a height, mm: along x and y of a rectangle, else both alike; at a step the wider, beyond its ends as there. */
export function sectionAt(tunnel: Tunnel, zMm: number): { xMm: number; yMm: number } {
  const z = Math.min(Math.max(zMm, tunnel.zInMm), tunnel.zOutMm)
  const halves = knownStretches(tunnel)
    .filter((s) => z >= s.zInMm && z <= s.zOutMm)
    .map((s) => {
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

/** As `sectionAt`, of many heights: half sizes of round sections and polygons, to the corners of a rectangle; beyond the ends as there. */
export function makeRadiusAt(tunnel: Tunnel): (zMm: number) => number {
  const rectangle = isRectangle(tunnel)
  const half = (x: number, y: number) => (rectangle ? Math.hypot(x, y) : x) / 2
  const ends = stretchesOf(tunnel).map((s) => ({
    ...{ fromZ: s.zInMm, toZ: s.zOutMm },
    ...{ from: half(s.inMm, s.inHeightMm), to: half(s.outMm, s.outHeightMm) },
  }))
  return (zMm) => {
    const z = Math.min(Math.max(zMm, tunnel.zInMm), tunnel.zOutMm)
    let most = 0
    for (const { fromZ, toZ, from, to } of ends) {
      if (z < fromZ) break
      if (z <= toZ) most = Math.max(most, from + ((to - from) * (z - fromZ)) / (toZ - fromZ))
    }
    return most
  }
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

/** The tunnel's greatest size anywhere, mm, to the corners of a rectangle; 0 without one. */
export function widestTunnelMm(tunnel: Tunnel | null): number {
  if (!tunnel) return 0
  const size = isRectangle(tunnel) ? Math.hypot : (x: number) => x
  return stretchesOf(tunnel).reduce(
    (most, s) => Math.max(most, size(s.inMm, s.inHeightMm), size(s.outMm, s.outHeightMm)),
    0,
  )
}
