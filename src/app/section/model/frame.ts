// Maps millimetres of the section to the screen: one scale for both axes, z to the right, r upwards.

import type { Extent } from '../../common/extent.ts'
import { niceBelow } from '../../common/niceSteps.ts'
import { shownUnit, type UnitSystem } from '../../common/unitSystem.ts'

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
export interface Margins {
  left: number
  right: number
  top: number
  bottom: number
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

/** Zooms about a point of the canvas, which stays where it is. */
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

/** The longest length of 1, 2 or 5 × 10ⁿ mm, or inches, that fits into `maxPx`. */
export function scaleBar(
  pxPerMm: number,
  maxPx: number,
  system: UnitSystem = 'metric',
): { lengthMm: number; px: number } {
  const { toShown, toDocument } = shownUnit('mm', system)
  const lengthMm = toDocument(niceBelow(toShown(maxPx / pxPerMm)))
  return { lengthMm, px: lengthMm * pxPerMm }
}
