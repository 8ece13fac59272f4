// Face, boards and emitters in section.
import { type BoardCut, cutBoards, cutEmitters, type EmitterCut, faceHalf } from '../common/cut.ts'
import { PLATE_MM } from '../common/extent.ts'
import { hatchInside, line, type Pen, trace } from './pen.ts'

export function drawAxis(pen: Pen): void {
  const { ctx, size, paint } = pen
  ctx.save()
  ctx.strokeStyle = paint['rule-strong']
  ctx.lineWidth = 1
  ctx.setLineDash([16, 4, 3, 4])
  line(ctx, 0, Math.round(pen.y(0)) + 0.5, size.width, Math.round(pen.y(0)) + 0.5)
  ctx.restore()
}

export function drawFace(pen: Pen): void {
  const { ctx, paint, lamp } = pen
  const half = faceHalf(lamp.face, pen.cut)
  const left = pen.x(-PLATE_MM)
  ctx.save()
  ctx.beginPath()
  ctx.rect(left, pen.y(half), pen.x(0) - left, pen.y(-half) - pen.y(half))
  ctx.fillStyle = paint.raised
  ctx.fill()
  hatchInside(pen, paint['rule-strong'], 7, 1)
  ctx.strokeStyle = paint['ink-quiet']
  ctx.lineWidth = 1.25
  ctx.strokeRect(left, pen.y(half), pen.x(0) - left, pen.y(-half) - pen.y(half))
  ctx.restore()
}

export function drawBoards(pen: Pen): void {
  const { ctx, paint } = pen
  const seen = new Set<string>()
  ctx.save()
  for (const cut of [false, true]) {
    for (const b of cutsOf(pen).boards) {
      const key = `${cut}${b.fromMm.toFixed(2)}/${b.toMm.toFixed(2)}`
      if (b.cut !== cut || seen.has(key)) continue
      seen.add(key)
      ctx.globalAlpha = cut ? 1 : 0.35
      ctx.fillStyle = cut ? '#37604f' : paint.raised
      ctx.strokeStyle = cut ? '#8fbfa9' : paint['rule-strong']
      if (b.outline) {
        trace(pen, b.outline, true)
        ctx.fill()
        ctx.stroke()
        continue
      }
      const x = pen.x(0)
      const w = Math.max(1.5, pen.x(b.thickMm) - x)
      const top = pen.y(b.toMm)
      ctx.fillRect(x, top, w, pen.y(b.fromMm) - top)
      if (pen.camera.pxPerMm > 0.8) ctx.strokeRect(x, top, w, pen.y(b.fromMm) - top)
    }
  }
  ctx.restore()
}

export function drawEmitters(pen: Pen): void {
  const { ctx, paint } = pen
  ctx.save()
  for (const cut of [false, true]) {
    for (const e of cutsOf(pen).emitters) {
      if (e.cut !== cut) continue
      trace(pen, e.outline, true)
      ctx.globalAlpha = cut ? 1 : 0.3
      ctx.fillStyle = `${paint.steel}2e`
      ctx.fill()
      ctx.strokeStyle = paint.steel
      ctx.lineWidth = cut ? 1 : 0.75
      ctx.stroke()
      if (cut) drawDie(pen, e.die)
    }
  }
  ctx.restore()
}

/** Caches boards and emitters in section until they change, since every sheet redraws the section. */
function keptCuts() {
  let from: unknown[] = []
  let cuts: { boards: BoardCut[]; emitters: EmitterCut[] } = { boards: [], emitters: [] }
  return ({ lamp, cut }: Pen) => {
    const now = [lamp.boards, lamp.boardTypes, lamp.emitterTypes, lamp.opticTypes, lamp.optic, lamp.aimAt, cut]
    if (now.some((part, i) => part !== from[i])) {
      from = now
      cuts = { boards: cutBoards(lamp, cut), emitters: cutEmitters(lamp, cut) }
    }
    return cuts
  }
}
const cutsOf = keptCuts()

/** The emitting surface, in the colour of light. */
function drawDie(pen: Pen, [[z, r], [z2, r2]]: EmitterCut['die']): void {
  const { ctx, paint } = pen
  ctx.strokeStyle = paint.light
  ctx.lineWidth = 1.5
  line(ctx, pen.x(z), pen.y(r), pen.x(z2), pen.y(r2))
}
