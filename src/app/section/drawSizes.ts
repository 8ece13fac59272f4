// Dimension lines and the scale bar.

import { extentOf, PLATE_MM, passedLastMm } from '../common/extent.ts'
import { lengthText } from '../common/lengthText.ts'
import { scaleBar } from './model/frame.ts'
import { type SizeAcross, type SizeAlong, sizesAcross, sizesAlong } from './model/sizes.ts'
import { line, type Pen, widthOf, words } from './pen.ts'

const FIRST_PX = 38
const LEVEL_PX = 22

export function drawSizes(pen: Pen): void {
  const { ctx, paint, size, lamp } = pen
  const lines = sizesAlong(lamp, pen.system)
  const deepest = Math.max(0, ...lines.map((l) => l.level))
  // When zoomed in, dimension lines are kept on the canvas.
  const base = Math.min(pen.y(-extentOf(lamp).rMm) + FIRST_PX, size.height - 34 - deepest * LEVEL_PX)
  ctx.save()
  ctx.strokeStyle = paint['rule-strong']
  ctx.lineWidth = 1
  for (const l of lines) alongLine(pen, l, Math.round(base + l.level * LEVEL_PX) + 0.5)
  for (const a of sizesAcross(lamp, pen.cut, pen.system)) acrossLine(pen, a)
  ctx.restore()
}

function alongLine(pen: Pen, s: SizeAlong, y: number): void {
  const { ctx, paint } = pen
  const from = pen.x(Math.min(s.fromZMm, s.toZMm))
  const to = pen.x(Math.max(s.fromZMm, s.toZMm))
  ctx.strokeStyle = paint['rule-strong']
  for (const x of [from, to]) line(ctx, Math.round(x) + 0.5, y - 16, Math.round(x) + 0.5, y + 5)
  line(ctx, from, y, to, y)
  const room = to - from
  const text = s.short !== undefined && room <= widthOf(pen, s.text) + 18 ? s.short : s.text
  const fits = room > widthOf(pen, text) + 18
  const inwards = fits || s.outside === 'inside'
  arrow(pen, from, y, inwards ? -1 : 1, true)
  arrow(pen, to, y, inwards ? 1 : -1, true)
  if (fits) {
    const shownFrom = Math.max(from, 0)
    const shownTo = Math.min(to, pen.size.width)
    words(pen, text, (shownFrom + shownTo) / 2, y)
  } else if (s.outside === 'left') words(pen, text, from - 10, y, { align: 'right' })
  else if (s.outside === 'right') words(pen, text, to + 10, y, { align: 'left' })
}

function acrossLine(pen: Pen, s: SizeAcross): void {
  const { ctx, paint } = pen
  const way = s.side === 'left' ? -1 : 1
  const edge = s.side === 'left' ? pen.x(-PLATE_MM) : pen.x(passedLastMm(pen.lamp))
  const x = Math.round(edge + way * (30 + s.level * LEVEL_PX)) + 0.5
  const top = pen.y((s.middleMm ?? 0) + s.rMm)
  const bottom = pen.y((s.middleMm ?? 0) - s.rMm)
  ctx.strokeStyle = paint.rule
  for (const y of [top, bottom]) line(ctx, pen.x(s.zMm), y, x + way * 5, y)
  ctx.strokeStyle = paint['rule-strong']
  line(ctx, x, top, x, bottom)
  arrow(pen, x, top, -1, false)
  arrow(pen, x, bottom, 1, false)
  const tall = bottom - top
  const text = tall > widthOf(pen, s.text) + 18 ? s.text : s.short
  const w = widthOf(pen, text)
  // Above the axis, clear of light and focus mark; on a short line at its upper end.
  const textAt = Math.max((top + pen.y(0)) / 2, top + w / 2 + 9)
  if (tall > w + 6) words(pen, text, x, textAt, { turn: -Math.PI / 2 })
  else words(pen, text, x, top - 10 - 14 * s.level, { align: s.side === 'left' ? 'left' : 'right' })
}

/** A slim arrowhead with its tip at (x, y). */
function arrow(pen: Pen, x: number, y: number, way: 1 | -1, level: boolean): void {
  const { ctx, paint } = pen
  ctx.fillStyle = paint['ink-faint']
  ctx.beginPath()
  ctx.moveTo(x, y)
  if (level) {
    ctx.lineTo(x - 7 * way, y - 2)
    ctx.lineTo(x - 7 * way, y + 2)
  } else {
    ctx.lineTo(x - 2, y - 7 * way)
    ctx.lineTo(x + 2, y - 7 * way)
  }
  ctx.fill()
}

export function drawScale(pen: Pen): void {
  const { ctx, paint, size, camera, system } = pen
  const bar = scaleBar(camera.pxPerMm, 110, system)
  const x = 14
  const y = size.height - 13.5
  ctx.save()
  ctx.strokeStyle = paint['ink-quiet']
  ctx.lineWidth = 1
  line(ctx, x, y, x + bar.px, y)
  for (const share of [0, 0.5, 1]) line(ctx, x + share * bar.px, y - (share === 0.5 ? 3 : 5), x + share * bar.px, y)
  words(pen, lengthText(bar.lengthMm, system), x + bar.px + 8, y - 2, { align: 'left' })
  ctx.restore()
}
