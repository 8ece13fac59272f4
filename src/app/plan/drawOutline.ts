// Handles of the face's own outline: a square at each corner, a small cross at the middle of each edge.
import type { Corner } from '../../num/polygon.ts'
import { type DrawContext, inMm, inPx, tag } from './drawStill.ts'
import { screenFromPlan } from './model/camera.ts'
import type { CornerHandle } from './model/corners.ts'
import { addPolygon } from './tiles.ts'

/** The outline as the pointer has it; why: it can't stand. */
export interface Shaping {
  tried: readonly Corner[]
  /** Where the dragged corner would lie, mm. */
  at: Corner
  why: string | null
}

const HALF_PX = 4

export function drawOutlineHandles(
  s: DrawContext,
  handles: readonly CornerHandle[],
  chosen: number | null,
  shaping: Shaping | null,
): void {
  if (shaping?.why) {
    drawRefused(s, shaping)
    return
  }
  const { ctx, palette } = s
  inPx(s)
  for (const h of handles) {
    const [x, y] = screenFromPlan(s.camera, s.size, h.xMm, h.yMm)
    ctx.beginPath()
    if (h.on === 'edge') {
      if (shaping) continue
      ctx.arc(x, y, HALF_PX + 1, 0, 2 * Math.PI)
      ctx.fillStyle = palette.ground
      ctx.fill()
      ctx.beginPath()
      ctx.moveTo(x - HALF_PX, y)
      ctx.lineTo(x + HALF_PX, y)
      ctx.moveTo(x, y - HALF_PX)
      ctx.lineTo(x, y + HALF_PX)
      ctx.strokeStyle = palette['ink-quiet']
      ctx.lineWidth = 1.4
    } else {
      const half = h.index === chosen ? HALF_PX + 1 : HALF_PX
      ctx.rect(x - half, y - half, 2 * half, 2 * half)
      ctx.fillStyle = h.index === chosen ? palette.ink : palette.ground
      ctx.fill()
      ctx.strokeStyle = palette.ink
      ctx.lineWidth = 1.6
    }
    ctx.stroke()
  }
}

/** Dashed, with the reason beside the pointer. */
function drawRefused(s: DrawContext, { tried, at, why }: Shaping): void {
  const { ctx, palette } = s
  const px = 1 / s.camera.pxPerMm
  const path = new Path2D()
  addPolygon(path, tried)
  inMm(s)
  ctx.strokeStyle = palette.severe
  ctx.lineWidth = 1.6 * px
  ctx.setLineDash([6 * px, 4 * px])
  ctx.stroke(path)
  ctx.setLineDash([])
  inPx(s)
  const [x, y] = screenFromPlan(s.camera, s.size, ...at)
  ctx.textAlign = 'left'
  ctx.textBaseline = 'middle'
  tag(s, why ?? '', x + 14, y - 14, palette.severe)
}
