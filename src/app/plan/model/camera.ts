// The plan's camera: mm on the face (x right, y up) to px on the canvas (x right, y down), one scale, no rotation.

import { faceBox } from '../../../lamp/facePlate.ts'
import type { Face } from '../../../lamp/schema.ts'
import type { PlanCamera, PlanSize } from '../../common/planCamera.ts'

export interface BoxMm {
  minX: number
  minY: number
  maxX: number
  maxY: number
}

const MIN_PX_PER_MM = 0.02
const MAX_PX_PER_MM = 400

const clampScale = (k: number) => Math.min(MAX_PX_PER_MM, Math.max(MIN_PX_PER_MM, k))

export const screenFromPlan = (c: PlanCamera, s: PlanSize, xMm: number, yMm: number): [number, number] => [
  s.widthPx / 2 + (xMm - c.centreXMm) * c.pxPerMm,
  s.heightPx / 2 - (yMm - c.centreYMm) * c.pxPerMm,
]

export const planFromScreen = (c: PlanCamera, s: PlanSize, xPx: number, yPx: number): [number, number] => [
  c.centreXMm + (xPx - s.widthPx / 2) / c.pxPerMm,
  c.centreYMm - (yPx - s.heightPx / 2) / c.pxPerMm,
]

/** Zooms about a point of the canvas, which stays where it is. */
export function zoomAt(c: PlanCamera, s: PlanSize, xPx: number, yPx: number, factor: number): PlanCamera {
  const [xMm, yMm] = planFromScreen(c, s, xPx, yPx)
  const pxPerMm = clampScale(c.pxPerMm * factor)
  return {
    pxPerMm,
    centreXMm: xMm - (xPx - s.widthPx / 2) / pxPerMm,
    centreYMm: yMm + (yPx - s.heightPx / 2) / pxPerMm,
  }
}

/** Shifts the drawing by so many px. */
export const panBy = (c: PlanCamera, dxPx: number, dyPx: number): PlanCamera => ({
  ...c,
  centreXMm: c.centreXMm - dxPx / c.pxPerMm,
  centreYMm: c.centreYMm + dyPx / c.pxPerMm,
})

export function fitBox(box: BoxMm, s: PlanSize, borderPx = 28): PlanCamera {
  const w = Math.max(box.maxX - box.minX, 1)
  const h = Math.max(box.maxY - box.minY, 1)
  return {
    centreXMm: (box.minX + box.maxX) / 2,
    centreYMm: (box.minY + box.maxY) / 2,
    pxPerMm: clampScale(
      Math.min(Math.max(s.widthPx - 2 * borderPx, 20) / w, Math.max(s.heightPx - 2 * borderPx, 20) / h),
    ),
  }
}

/** The visible part of the face, widened by a share of the view on each side. */
export function seenBox(c: PlanCamera, s: PlanSize, widen = 0): BoxMm {
  const w = (s.widthPx / c.pxPerMm) * (0.5 + widen)
  const h = (s.heightPx / c.pxPerMm) * (0.5 + widen)
  return { minX: c.centreXMm - w, maxX: c.centreXMm + w, minY: c.centreYMm - h, maxY: c.centreYMm + h }
}

export const meets = (a: BoxMm, b: BoxMm): boolean =>
  a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY

export const boxOf = (x0: number, y0: number, x1: number, y1: number): BoxMm => ({
  minX: Math.min(x0, x1),
  maxX: Math.max(x0, x1),
  minY: Math.min(y0, y1),
  maxY: Math.max(y0, y1),
})

/** The smallest 1, 2 or 5 times a power of ten that is at least `leastMm`. */
export function roundStep(leastMm: number): number {
  const power = 10 ** Math.floor(Math.log10(leastMm))
  for (const m of [1, 2, 5]) if (m * power >= leastMm * (1 - 1e-9)) return tidy(m * power)
  return tidy(10 * power)
}

export interface Tick {
  mm: number
  /** In the ruler's own unit. */
  shown: number
  long: boolean
}

/** Ruler ticks of a range: long, labelled ticks at least `longPx` apart, with four or five short steps between. */
export function rulerTicks(fromMm: number, toMm: number, pxPerMm: number, unitMm = 1, longPx = 56): Tick[] {
  const long = roundStep(longPx / (pxPerMm * unitMm))
  const lead = Math.round(long / 10 ** Math.floor(Math.log10(long) + 1e-9))
  const parts = lead === 2 ? 4 : 5
  const ticks: Tick[] = []
  const first = Math.ceil((fromMm * parts) / (long * unitMm) - 1e-9)
  const last = Math.floor((toMm * parts) / (long * unitMm) + 1e-9)
  for (let i = first; i <= last; i++) {
    const shown = tidy((i * long) / parts)
    ticks.push({ mm: tidy(shown * unitMm), shown, long: i % parts === 0 })
  }
  return ticks
}

const tidy = (v: number) => Number(v.toPrecision(12)) + 0

/** The rulers' width, in px. */
export const RULER_PX = 20

/** The whole face, clear of the rulers. */
export function fitFace(face: Face, s: PlanSize): PlanCamera {
  const { fromX, toX, fromY, toY } = faceBox(face)
  const inner = { widthPx: s.widthPx - RULER_PX, heightPx: s.heightPx - RULER_PX }
  const c = fitBox({ minX: fromX, maxX: toX, minY: fromY, maxY: toY }, inner, 30)
  return panBy(c, RULER_PX / 2, RULER_PX / 2)
}
