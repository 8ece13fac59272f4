// What of a drawing is seen: a rectangle of it in mm, moved and scaled; pure.
import type { Box } from '../../../num/grid.ts'

export interface Frame {
  /** Lower left corner, mm, y up. */
  x: number
  y: number
  widthMm: number
  heightMm: number
}

/** The whole of a box with a margin of a fiftieth, in the shape of a window `aspect` = width / height. */
export function wholeFrame({ fromX, fromY, toX, toY }: Box, aspect: number): Frame {
  const margin = 0.02 * Math.max(toX - fromX, toY - fromY)
  const [w, h] = [toX - fromX + 2 * margin, toY - fromY + 2 * margin]
  const widthMm = Math.max(w, h * aspect)
  const heightMm = widthMm / aspect
  return { x: (fromX + toX - widthMm) / 2, y: (fromY + toY - heightMm) / 2, widthMm, heightMm }
}

/** `by` > 1 shows less; the point at the shares (0 to 1, y up) of the window stays where it is. */
export function scaledFrame(f: Frame, by: number, shareX = 0.5, shareY = 0.5): Frame {
  const factor = Math.min(Math.max(by, 1e-3), 1e3)
  const [widthMm, heightMm] = [f.widthMm / factor, f.heightMm / factor]
  return { x: f.x + shareX * (f.widthMm - widthMm), y: f.y + shareY * (f.heightMm - heightMm), widthMm, heightMm }
}

/** By shares of the window, y up. */
export const movedFrame = (f: Frame, shareX: number, shareY: number): Frame => ({
  ...f,
  x: f.x + shareX * f.widthMm,
  y: f.y + shareY * f.heightMm,
})
