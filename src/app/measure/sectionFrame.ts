// Where millimetres of the section land on the screen: one scale both ways, z to the right, r upwards.
import { lensSpan } from '../../lamp/read.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { faceHalf, tunnelHalf } from './sectionParts.ts'

/** The point in the middle of the drawing, and the scale. */
export interface Camera {
  pxPerMm: number
  midZMm: number
  midRMm: number
}
export interface SizePx {
  width: number
  height: number
}
export interface Extent {
  zFromMm: number
  zToMm: number
  rMm: number
}
export interface Margins {
  left: number
  right: number
  top: number
  bottom: number
}

/** Nominal thickness of the face plate in the drawing; the document doesn't know it. */
export const PLATE_MM = 12

/** What must be on the drawing: the whole lamp and a stretch of the beam before it. */
export function extentOf(lamp: Lamp): Extent {
  const { tunnel, lens } = lamp
  let front = Math.max(1, tallestMm(lamp))
  if (tunnel) front = Math.max(front, tunnel.zOutMm)
  if (lens) front = Math.max(front, lensSpan(lens)[1])
  // Both cuts, so that the drawing keeps its scale when the other is chosen.
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

/** Wide enough for these as well: z and distance from the axis in pairs, and a place on the axis. */
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

/** By board, not by emitter: this is asked for at every frame. */
function tallestMm(lamp: Lamp): number {
  const heights = new Map(lamp.emitterTypes.map((e) => [e.id, e.heightMm]))
  const emitterMm = new Map(lamp.boardTypes.map((t) => [t.id, heights.get(t.emitter) ?? 0]))
  const optics = new Map(lamp.opticTypes.map((o) => [o.id, o]))
  const seen = new Set<string>()
  let tallest = 0
  for (const b of lamp.boards) {
    for (const id of [b.optic ?? lamp.optic, ...Object.values(b.siteOptics ?? {})]) {
      const key = `${b.type} ${id}`
      if (seen.has(key)) continue
      seen.add(key)
      tallest = Math.max(tallest, opticTop(optics.get(id)!, emitterMm.get(b.type)!))
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

export function fitCamera(extent: Extent, size: SizePx, margins: Margins): Camera {
  const width = Math.max(40, size.width - margins.left - margins.right)
  const height = Math.max(40, size.height - margins.top - margins.bottom)
  const pxPerMm = Math.min(width / (extent.zToMm - extent.zFromMm), height / (2 * extent.rMm))
  return {
    pxPerMm,
    midZMm: (extent.zFromMm + extent.zToMm) / 2 - (margins.left - margins.right) / 2 / pxPerMm,
    midRMm: (margins.top - margins.bottom) / 2 / pxPerMm,
  }
}

export const xOfZ = (c: Camera, size: SizePx, zMm: number) => size.width / 2 + (zMm - c.midZMm) * c.pxPerMm
export const yOfR = (c: Camera, size: SizePx, rMm: number) => size.height / 2 - (rMm - c.midRMm) * c.pxPerMm
export const zOfX = (c: Camera, size: SizePx, xPx: number) => c.midZMm + (xPx - size.width / 2) / c.pxPerMm
export const rOfY = (c: Camera, size: SizePx, yPx: number) => c.midRMm - (yPx - size.height / 2) / c.pxPerMm

/** The millimetre under the pointer stays under the pointer. */
export function zoomedAbout(c: Camera, size: SizePx, xPx: number, yPx: number, factor: number): Camera {
  const pxPerMm = Math.min(400, Math.max(0.005, c.pxPerMm * factor))
  const z = zOfX(c, size, xPx)
  const r = rOfY(c, size, yPx)
  return {
    pxPerMm,
    midZMm: z - (xPx - size.width / 2) / pxPerMm,
    midRMm: r + (yPx - size.height / 2) / pxPerMm,
  }
}

export const panned = (c: Camera, dxPx: number, dyPx: number): Camera => ({
  ...c,
  midZMm: c.midZMm - dxPx / c.pxPerMm,
  midRMm: c.midRMm + dyPx / c.pxPerMm,
})

/** The longest length of 1, 2 or 5 × 10ⁿ mm that fits into `maxPx`. */
export function scaleBar(pxPerMm: number, maxPx: number): { lengthMm: number; px: number } {
  const lengthMm = niceBelow(maxPx / pxPerMm)
  return { lengthMm, px: lengthMm * pxPerMm }
}

export function niceBelow(value: number): number {
  const ten = 10 ** Math.floor(Math.log10(value))
  const lead = value / ten
  return (lead >= 5 ? 5 : lead >= 2 ? 2 : 1) * ten
}

const NICE = [1, 1.5, 2, 3, 4, 5, 6, 8, 10]

export function niceAbove(value: number): number {
  if (!(value > 0)) return 1
  const ten = 10 ** Math.floor(Math.log10(value) + 1e-9)
  return NICE.find((n) => n * ten >= value * 0.9999)! * ten
}
