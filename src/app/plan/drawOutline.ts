// Handles of an own outline: a square at each corner, a small cross at the middle of each edge; and an outline that is being drawn.
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

/** An outline that is being drawn, on the plan, mm. */
export interface Drawn {
  corners: readonly Corner[]
  /** Where the next corner would lie. */
  aim: Corner | null
  /** The edge to there crosses another one. */
  crosses: boolean
  words: string
}

export function drawDrawn(s: DrawContext, { corners, aim, crosses, words }: Drawn): void {
  const { ctx, palette } = s
  const onScreen = corners.map(([x, y]) => screenFromPlan(s.camera, s.size, x, y))
  const at = aim && screenFromPlan(s.camera, s.size, ...aim)
  const [first, last] = [onScreen[0], onScreen.at(-1)]
  const line = (points: readonly Corner[]) => {
    ctx.beginPath()
    for (const [x, y] of points) ctx.lineTo(x, y)
    ctx.stroke()
  }
  inPx(s)
  ctx.strokeStyle = palette.ink
  ctx.lineWidth = 1.8
  line(onScreen)
  ctx.setLineDash([6, 4])
  if (at && last) {
    ctx.strokeStyle = crosses ? palette.severe : palette.ink
    line([last, at])
  }
  if (at && first && corners.length > 1) {
    ctx.strokeStyle = palette['ink-quiet']
    ctx.lineWidth = 1
    line([at, first])
  }
  ctx.setLineDash([])
  ctx.lineWidth = 1.6
  ctx.strokeStyle = palette.ink
  for (const [i, [x, y]] of onScreen.entries()) {
    ctx.fillStyle = i === 0 ? palette.ink : palette.ground
    ctx.beginPath()
    ctx.rect(x - HALF_PX, y - HALF_PX, 2 * HALF_PX, 2 * HALF_PX)
    ctx.fill()
    ctx.stroke()
  }
  if (!at) return
  ctx.beginPath()
  ctx.arc(...at, HALF_PX, 0, 2 * Math.PI)
  ctx.stroke()
  ctx.textAlign = 'left'
  ctx.textBaseline = 'middle'
  tag(s, words, at[0] + 14, at[1] - 14, crosses ? palette.severe : palette.ink)
}
