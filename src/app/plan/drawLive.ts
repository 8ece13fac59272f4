// The live layer: selection, hover, drag, guides and faults. Every pointer move redraws it, so all of it must be cheap.

import { lampFromBoard } from '../../lamp/place.ts'
import type { Board, Lamp } from '../../lamp/schema.ts'
import { inSystem } from '../../num/quantity.ts'
import { readEmitterKey } from '../common/selection.ts'
import { shownUnit } from '../common/unitSystem.ts'
import { unitLabel } from '../common/units.ts'
import { unitSystem } from '../store/unitSystem.ts'
import { clear, type DrawContext, inMm, inPx, tag } from './drawStill.ts'
import type { PlanDrag } from './gestures/drag.ts'
import { RULER_PX, screenFromPlan } from './model/camera.ts'
import type { SnapConstraint } from './model/snap.ts'
import { addDisc, addOutline } from './tiles.ts'

export interface Chosen {
  boards: Path2D
  emitters: Path2D
  count: number
}

/** Outlines of the selection. */
export function chosenPaths(lamp: Lamp, boards: readonly string[], emitters: readonly string[]): Chosen {
  const types = new Map(lamp.boardTypes.map((t) => [t.id, t]))
  const byId = new Map(lamp.boards.map((b) => [b.id, b]))
  const chosen: Chosen = { boards: new Path2D(), emitters: new Path2D(), count: 0 }
  for (const id of boards) {
    const b = byId.get(id)
    if (!b) continue
    addOutline(chosen.boards, types.get(b.type)!.outline, b)
    chosen.count++
  }
  const body = new Map(lamp.emitterTypes.map((e) => [e.id, e.bodyMm]))
  for (const key of emitters) {
    const { boardId, siteIndex } = readEmitterKey(key)
    const b = byId.get(boardId)
    const type = b && types.get(b.type)
    const site = type?.sites[siteIndex]
    if (!b || !site) continue
    const [x, y] = lampFromBoard(b, site.xMm, site.yMm)
    addDisc(chosen.emitters, x, y, (body.get(type.emitter) ?? 4) * 0.5 + 1)
  }
  return chosen
}

export interface TurnHandle {
  xMm: number
  yMm: number
  pivotX: number
  pivotY: number
}

export interface LiveState {
  lamp: Lamp
  drag: PlanDrag
  chosen: Chosen
  hover: { board: Board | null; emitter: { xMm: number; yMm: number; radiusMm: number } | null }
  pointer: { xPx: number; yPx: number } | null
  handle: TurnHandle | null
  /** Guides of the active snap. */
  guides: readonly SnapConstraint[]
  guideAt: { xMm: number; yMm: number } | null
  /** Degrees shown at the turn handle. */
  turnText: string
  ghost: { board: Board; free: boolean } | null
  focused: { xMm: number; yMm: number; radiusMm: number; words: string } | null
}

export function drawLive(s: DrawContext, l: LiveState, drawDragged: (() => void) | null, faults: () => void): void {
  clear(s)
  drawDragged?.()
  faults()
  if (!drawDragged) drawHover(s, l)
  if (!drawDragged) drawChosen(s, l.chosen)
  if (l.ghost) drawGhost(s, l.lamp, l.ghost.board)
  drawGuides(s, l)
  if (l.handle && l.drag.now !== 'moving' && l.drag.now !== 'boxing') drawHandle(s, l)
  if (l.drag.now === 'boxing') drawBox(s, l.drag)
  if (l.focused) drawFocused(s, l.focused)
  if (l.pointer) drawRulerMarks(s, l.pointer)
}

function drawHover(s: DrawContext, l: LiveState): void {
  const { ctx, palette } = s
  const px = 1 / s.camera.pxPerMm
  inMm(s)
  ctx.strokeStyle = palette['ink-quiet']
  ctx.lineWidth = 1.2 * px
  if (l.hover.emitter) {
    ctx.beginPath()
    ctx.arc(l.hover.emitter.xMm, l.hover.emitter.yMm, l.hover.emitter.radiusMm, 0, 2 * Math.PI)
    ctx.stroke()
  } else if (l.hover.board) {
    const path = new Path2D()
    addOutline(path, l.lamp.boardTypes.find((t) => t.id === l.hover.board!.type)!.outline, l.hover.board)
    ctx.stroke(path)
  }
}

export function drawChosen(s: DrawContext, chosen: Chosen): void {
  const { ctx, palette } = s
  const px = 1 / s.camera.pxPerMm
  inMm(s)
  ctx.fillStyle = palette.ink
  ctx.globalAlpha = 0.06
  ctx.fill(chosen.boards)
  ctx.globalAlpha = 1
  ctx.strokeStyle = palette.ink
  ctx.lineWidth = 1.8 * px
  ctx.stroke(chosen.boards)
  ctx.lineWidth = 2 * px
  ctx.stroke(chosen.emitters)
}

function drawGhost(s: DrawContext, lamp: Lamp, board: Board): void {
  const { ctx, palette } = s
  const px = 1 / s.camera.pxPerMm
  const type = lamp.boardTypes.find((t) => t.id === board.type)
  if (!type) return
  inMm(s)
  const path = new Path2D()
  addOutline(path, type.outline, board)
  for (const site of type.sites) {
    const [x, y] = lampFromBoard(board, site.xMm, site.yMm)
    addDisc(path, x, y, 1.5)
  }
  ctx.strokeStyle = palette.ink
  ctx.lineWidth = 1.4 * px
  ctx.setLineDash([4 * px, 3 * px])
  ctx.stroke(path)
  ctx.setLineDash([])
  inPx(s)
  const [x, y] = screenFromPlan(s.camera, s.size, board.xMm, board.yMm)
  ctx.textAlign = 'center'
  ctx.textBaseline = 'middle'
  tag(s, `${fixed(board.xMm)}, ${fixed(board.yMm)} ${unitLabel('mm', unitSystem())}`, x, y, palette.ink)
}

/** Guides of the active constraints, each with its reason beside it. */
function drawGuides(s: DrawContext, l: LiveState): void {
  if (!l.guideAt || l.guides.length === 0) return
  const { ctx, palette } = s
  const px = 1 / s.camera.pxPerMm
  const { xMm, yMm } = l.guideAt
  inMm(s)
  ctx.strokeStyle = palette.steel
  ctx.lineWidth = px
  ctx.setLineDash([6 * px, 4 * px])
  const far = (s.size.widthPx + s.size.heightPx) * px
  const from = new Map(l.lamp.boards.map((b) => [b.id, b]))
  for (const constraint of l.guides) {
    ctx.beginPath()
    const other = constraint.from ? from.get(constraint.from) : undefined
    if (constraint.rank === 0 && other) {
      ctx.moveTo(other.xMm, other.yMm)
      ctx.lineTo(xMm, yMm)
    } else if (constraint.kind === 'line') {
      ctx.moveTo(xMm - far * constraint.ny, yMm + far * constraint.nx)
      ctx.lineTo(xMm + far * constraint.ny, yMm - far * constraint.nx)
    } else ctx.arc(constraint.xMm, constraint.yMm, Math.max(constraint.radiusMm, 4 * px), 0, 2 * Math.PI)
    ctx.stroke()
  }
  ctx.setLineDash([])
  inPx(s)
  const [x, y] = screenFromPlan(s.camera, s.size, xMm, yMm)
  ctx.textBaseline = 'middle'
  ctx.textAlign = 'left'
  for (const [i, constraint] of l.guides.entries())
    tag(s, inSystem(constraint.why, unitSystem()), x + 14, y + 18 + 17 * i, palette.steel)
}

function drawHandle(s: DrawContext, l: LiveState): void {
  const { ctx, palette } = s
  const h = l.handle!
  const [px, py] = screenFromPlan(s.camera, s.size, h.pivotX, h.pivotY)
  let [x, y] = screenFromPlan(s.camera, s.size, h.xMm, h.yMm)
  if (l.drag.now === 'turning' && l.pointer) [x, y] = [l.pointer.xPx, l.pointer.yPx]
  inPx(s)
  ctx.strokeStyle = palette['ink-quiet']
  ctx.lineWidth = 1
  ctx.beginPath()
  ctx.moveTo(px, py)
  ctx.lineTo(x, y)
  ctx.moveTo(px + 3, py)
  ctx.arc(px, py, 3, 0, 2 * Math.PI)
  ctx.stroke()
  ctx.fillStyle = palette.ground
  ctx.strokeStyle = palette.ink
  ctx.lineWidth = 1.6
  ctx.beginPath()
  ctx.arc(x, y, 6, 0, 2 * Math.PI)
  ctx.fill()
  ctx.stroke()
  // A turning arrow inside the knob.
  ctx.lineWidth = 1.1
  ctx.beginPath()
  ctx.arc(x, y, 2.6, -0.4, 4.2)
  ctx.stroke()
  if (!l.turnText) return
  ctx.textAlign = 'left'
  ctx.textBaseline = 'middle'
  tag(s, l.turnText, x + 14, y, palette.ink)
}

function drawBox(s: DrawContext, drag: Extract<PlanDrag, { now: 'boxing' }>): void {
  const { ctx, palette } = s
  const [x0, y0] = screenFromPlan(s.camera, s.size, drag.from.xMm, drag.from.yMm)
  const [x1, y1] = screenFromPlan(s.camera, s.size, drag.to.xMm, drag.to.yMm)
  inPx(s)
  ctx.fillStyle = palette.ink
  ctx.globalAlpha = 0.05
  ctx.fillRect(x0, y0, x1 - x0, y1 - y0)
  ctx.globalAlpha = 1
  ctx.strokeStyle = palette.ink
  ctx.lineWidth = 1
  ctx.setLineDash([4, 3])
  ctx.strokeRect(x0 + 0.5, y0 + 0.5, x1 - x0, y1 - y0)
  ctx.setLineDash([])
}

/** The place of a finding: two rings and a leader, in the colour of light. */
function drawFocused(s: DrawContext, p: NonNullable<LiveState['focused']>): void {
  const { ctx, palette } = s
  const [x, y] = screenFromPlan(s.camera, s.size, p.xMm, p.yMm)
  const r = Math.max(12, p.radiusMm * s.camera.pxPerMm + 6)
  inPx(s)
  ctx.strokeStyle = palette.light
  ctx.lineWidth = 2
  ctx.beginPath()
  ctx.arc(x, y, r, 0, 2 * Math.PI)
  ctx.moveTo(x + r + 5, y)
  ctx.arc(x, y, r + 5, 0, 2 * Math.PI)
  const off = (r + 5) * Math.SQRT1_2
  if (p.words) {
    ctx.moveTo(x + off, y - off)
    ctx.lineTo(x + off + 16, y - off - 16)
  }
  ctx.stroke()
  if (!p.words) return
  ctx.textAlign = 'left'
  ctx.textBaseline = 'middle'
  tag(s, p.words, x + off + 18, y - off - 18, palette.light)
}

function drawRulerMarks(s: DrawContext, at: { xPx: number; yPx: number }): void {
  const { ctx, palette } = s
  inPx(s)
  ctx.fillStyle = palette.ink
  ctx.beginPath()
  if (at.xPx > RULER_PX) {
    ctx.moveTo(at.xPx, RULER_PX)
    ctx.lineTo(at.xPx - 4, RULER_PX - 7)
    ctx.lineTo(at.xPx + 4, RULER_PX - 7)
    ctx.closePath()
  }
  if (at.yPx > RULER_PX) {
    ctx.moveTo(RULER_PX, at.yPx)
    ctx.lineTo(RULER_PX - 7, at.yPx - 4)
    ctx.lineTo(RULER_PX - 7, at.yPx + 4)
    ctx.closePath()
  }
  ctx.fill()
}

/** So many decimals always, so that the words keep still while a board is dragged. */
function fixed(mm: number): string {
  const { toShown, moreDigits } = shownUnit('mm', unitSystem())
  return toShown(mm)
    .toFixed(2 + moreDigits)
    .replace('-', '−')
}
