// Extent of the lamp along its axis and across it.
import { lensSpan } from '../../lamp/body.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { outlinePath } from '../../layout/outline.ts'
import { faceHalf, tunnelHalf } from './cut.ts'

export interface Extent {
  zFromMm: number
  zToMm: number
  rMm: number
}

/** Nominal thickness of the face plate in the drawing; the document has none. */
export const PLATE_MM = 12

/** What the drawing must show: the whole lamp and a part of the beam in front of it. */
export function extentOf(lamp: Lamp): Extent {
  const { tunnel, lens } = lamp
  let front = Math.max(1, tallestMm(lamp))
  if (tunnel) front = Math.max(front, tunnel.zOutMm)
  if (lens) front = Math.max(front, lensSpan(lens)[1])
  // Of both planes, so that the scale stays when the plane changes.
  const halves = CUTS.flatMap((cut) => [
    faceHalf(lamp.face, cut),
    ...(tunnel
      ? ([1, -1] as const).map((side) => tunnelHalf(tunnel, Math.max(tunnel.inMm, tunnel.outMm), cut, side))
      : []),
  ])
  const rMm = Math.max((lens?.diameterMm ?? 0) / 2, ...halves)
  const ahead = Math.max(0.16 * front, 0.5 * rMm)
  return { zFromMm: -PLATE_MM - 0.02 * front, zToMm: front + ahead, rMm }
}

/** Extends it to pairs of z and distance from the axis, and to a point on the axis. */
export function extentWith(extent: Extent, lines: readonly ArrayLike<number>[], zMm: number): Extent {
  let { zToMm, rMm } = extent
  zToMm = Math.max(zToMm, zMm)
  for (const line of lines)
    for (let i = 0; i < line.length; i += 2) {
      zToMm = Math.max(zToMm, line[i]!)
      rMm = Math.max(rMm, line[i + 1]!)
    }
  return { ...extent, zToMm, rMm }
}

/** By board, not by emitter, since every frame computes it. */
function tallestMm(lamp: Lamp): number {
  const heights = new Map(lamp.emitterTypes.map((e) => [e.id, e.heightMm]))
  const emitterMm = new Map(lamp.boardTypes.map((t) => [t.id, heights.get(t.emitter) ?? 0]))
  const optics = new Map(lamp.opticTypes.map((o) => [o.id, o]))
  const seen = new Set<string>()
  let tallest = 0
  const reach = new Map(
    lamp.boardTypes.map((t) => [t.id, Math.max(...outlinePath(t.outline).map((p) => Math.hypot(...p)))]),
  )
  for (const b of lamp.boards) {
    const raised =
      (b.heightMm ?? 0) + (reach.get(b.type) ?? 0) * Math.abs(Math.sin(((b.wedge?.tiltDeg ?? 0) * Math.PI) / 180))
    for (const id of [b.optic ?? lamp.optic, ...Object.values(b.siteOptics ?? {})]) {
      const key = `${b.type} ${id} ${raised}`
      if (seen.has(key)) continue
      seen.add(key)
      tallest = Math.max(tallest, raised + opticTop(optics.get(id)!, emitterMm.get(b.type)!))
    }
  }
  return tallest
}
const CUTS = ['upright', 'level'] as const
const opticTop = (optic: Lamp['opticTypes'][number], emitterMm: number): number => {
  if (optic.kind === 'collimator') return Math.max(optic.heightMm, emitterMm)
  if (optic.kind === 'reflector') return emitterMm - optic.focalMm + optic.exitDiameterMm ** 2 / (16 * optic.focalMm)
  return emitterMm
}
