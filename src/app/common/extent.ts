// Extent of the lamp along its axis and across it.
import { elementsOf } from '../../lamp/assembly.ts'
import { foremostZMm } from '../../lamp/body.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { outlinePath } from '../../layout/outline.ts'
import { faceHalf, wallLine } from './cut.ts'
import { boxOf, halfSizes } from './piece.ts'

export interface Extent {
  zFromMm: number
  zToMm: number
  rMm: number
}

/** Nominal thickness of the face plate in the drawing; the document has none. */
export const PLATE_MM = 12

/** What the drawing must show: the whole lamp and a part of the beam in front of it. */
export function extentOf(lamp: Lamp): Extent {
  const { tunnel } = lamp
  const boxes = elementsOf(lamp).map(boxOf)
  const front = Math.max(1, tallestMm(lamp), tunnel?.zOutMm ?? 0, ...boxes.map((b) => b.to[2]))
  // Of both planes, so that the scale stays when the plane changes.
  const halves = CUTS.flatMap((cut) => [
    faceHalf(lamp.face, cut),
    ...(tunnel ? ([1, -1] as const).flatMap((side) => wallLine(tunnel, cut, side).map(([, r]) => side * r)) : []),
  ])
  const sides = boxes.flatMap(({ from, to }) => [-from[0], -from[1], to[0], to[1]])
  const rMm = Math.max(...halves, ...sides)
  const ahead = Math.max(0.16 * front, 0.5 * rMm)
  return { zFromMm: -PLATE_MM - 0.02 * front, zToMm: front + ahead, rMm }
}

/** z of the foremost thing that light passes, or of the tunnel's mouth. */
export const passedLastMm = (lamp: Lamp): number => foremostZMm(lamp) ?? lamp.tunnel?.zOutMm ?? 0

/**
 * Radius of what light can leave by: of the lens or else the last element, or of the tunnel's mouth where that is wider and light passes beside
 * the piece; of a rectangle, of equal area as a square's. Null: the array's own.
 */
export function mouthRadiusMm({ lens, tunnel, ...lamp }: Lamp): number | null {
  const last = lens ?? elementsOf({ ...lamp, lens, tunnel }).at(-1)
  const piece = last ? Math.sqrt(halfSizes(last)[0] * halfSizes(last)[1]) : 0
  const mouth = tunnel ? Math.sqrt(tunnel.outMm * (tunnel.outHeightMm ?? tunnel.outMm)) / 2 : 0
  return Math.max(piece, mouth) || null
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
