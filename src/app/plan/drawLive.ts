// The live layer: what is chosen, hovered, dragged, guided and wrong. It is drawn anew by pointer moves, so all of it is cheap.

import { lampFromBoard } from '../../lamp/place.ts'
import type { Board, Lamp } from '../../lamp/schema.ts'
import { readEmitterKey } from '../common/selection.ts'
import { clear, inMm, inPx, type Sight, tag } from './drawStill.ts'
import type { PlanDrag } from './gestures/drag.ts'
import { meets, RULER_PX, screenFromPlan, seenBox } from './model/camera.ts'
import type { SnapLaw } from './model/snap.ts'
import { addDisc, addOutline } from './tiles.ts'

export interface Chosen {
  boards: Path2D
  emitters: Path2D
  count: number
}

/** Outlines of what is chosen, kept until the choice or the lamp changes. */
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
  /** Guides of the snap in force. */
  guides: readonly SnapLaw[]
  guideAt: { xMm: number; yMm: number } | null
  /** Degrees shown at the turn handle. */
  turnText: string
  ghost: { board: Board; free: boolean } | null
  pointed: { xMm: number; yMm: number; radiusMm: number; words: string } | null
}

export function drawLive(s: Sight, l: LiveState, lifted: (() => void) | null, faults: () => void): void {
  clear(s)
  lifted?.()
  faults()
  if (!lifted) drawHover(s, l)
  if (!lifted) drawChosen(s, l.chosen)
  if (l.ghost) drawGhost(s, l.lamp, l.ghost.board)
  drawGuides(s, l)
  if (l.handle && l.drag.now !== 'moving' && l.drag.now !== 'boxing') drawHandle(s, l)
  if (l.drag.now === 'boxing') drawBox(s, l.drag)
  if (l.pointed) drawPointed(s, l.pointed)
  if (l.pointer) drawRulerMarks(s, l.pointer)
}

function drawHover(s: Sight, l: LiveState): void {
  const { ctx, ink } = s
  const px = 1 / s.camera.pxPerMm
  inMm(s)
  ctx.strokeStyle = ink['ink-quiet']
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

export function drawChosen(s: Sight, chosen: Chosen): void {
  const { ctx, ink } = s
  const px = 1 / s.camera.pxPerMm
  inMm(s)
  ctx.fillStyle = ink.ink
  ctx.globalAlpha = 0.06
  ctx.fill(chosen.boards)
  ctx.globalAlpha = 1
  ctx.strokeStyle = ink.ink
  ctx.lineWidth = 1.8 * px
  ctx.stroke(chosen.boards)
  ctx.lineWidth = 2 * px
  ctx.stroke(chosen.emitters)
}

function drawGhost(s: Sight, lamp: Lamp, board: Board): void {
  const { ctx, ink } = s
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
  ctx.strokeStyle = ink.ink
  ctx.lineWidth = 1.4 * px
  ctx.setLineDash([4 * px, 3 * px])
  ctx.stroke(path)
  ctx.setLineDash([])
  inPx(s)
  const [x, y] = screenFromPlan(s.camera, s.size, board.xMm, board.yMm)
  ctx.textAlign = 'center'
  ctx.textBaseline = 'middle'
  tag(s, `${fixed(board.xMm)}, ${fixed(board.yMm)} mm`, x, y, ink.ink)
}

/** What holds the board, drawn, and why in words beside it. */
function drawGuides(s: Sight, l: LiveState): void {
  if (!l.guideAt || l.guides.length === 0) return
  const { ctx, ink } = s
  const px = 1 / s.camera.pxPerMm
  const { xMm, yMm } = l.guideAt
  inMm(s)
  ctx.strokeStyle = ink.steel
  ctx.lineWidth = px
  ctx.setLineDash([6 * px, 4 * px])
  const far = (s.size.widthPx + s.size.heightPx) * px
  const from = new Map(l.lamp.boards.map((b) => [b.id, b]))
  for (const law of l.guides) {
    ctx.beginPath()
    const other = law.from ? from.get(law.from) : undefined
    if (law.rank === 0 && other) {
      ctx.moveTo(other.xMm, other.yMm)
      ctx.lineTo(xMm, yMm)
    } else if (law.law === 'line') {
      ctx.moveTo(xMm - far * law.ny, yMm + far * law.nx)
      ctx.lineTo(xMm + far * law.ny, yMm - far * law.nx)
    } else ctx.arc(law.xMm, law.yMm, Math.max(law.radiusMm, 4 * px), 0, 2 * Math.PI)
    ctx.stroke()
  }
  ctx.setLineDash([])
  inPx(s)
  const [x, y] = screenFromPlan(s.camera, s.size, xMm, yMm)
  ctx.textBaseline = 'middle'
  ctx.textAlign = 'left'
  for (const [i, law] of l.guides.entries()) tag(s, law.why, x + 14, y + 18 + 17 * i, ink.steel)
}

function drawHandle(s: Sight, l: LiveState): void {
  const { ctx, ink } = s
  const h = l.handle!
  const [px, py] = screenFromPlan(s.camera, s.size, h.pivotX, h.pivotY)
  let [x, y] = screenFromPlan(s.camera, s.size, h.xMm, h.yMm)
  if (l.drag.now === 'turning' && l.pointer) [x, y] = [l.pointer.xPx, l.pointer.yPx]
  inPx(s)
  ctx.strokeStyle = ink['ink-quiet']
  ctx.lineWidth = 1
  ctx.beginPath()
  ctx.moveTo(px, py)
  ctx.lineTo(x, y)
  ctx.moveTo(px + 3, py)
  ctx.arc(px, py, 3, 0, 2 * Math.PI)
  ctx.stroke()
  ctx.fillStyle = ink.ground
  ctx.strokeStyle = ink.ink
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
  tag(s, l.turnText, x + 14, y, ink.ink)
}

function drawBox(s: Sight, drag: Extract<PlanDrag, { now: 'boxing' }>): void {
  const { ctx, ink } = s
  const [x0, y0] = screenFromPlan(s.camera, s.size, drag.from.xMm, drag.from.yMm)
  const [x1, y1] = screenFromPlan(s.camera, s.size, drag.to.xMm, drag.to.yMm)
  inPx(s)
  ctx.fillStyle = ink.ink
  ctx.globalAlpha = 0.05
  ctx.fillRect(x0, y0, x1 - x0, y1 - y0)
  ctx.globalAlpha = 1
  ctx.strokeStyle = ink.ink
  ctx.lineWidth = 1
  ctx.setLineDash([4, 3])
  ctx.strokeRect(x0 + 0.5, y0 + 0.5, x1 - x0, y1 - y0)
  ctx.setLineDash([])
}

/** A place that a finding points to: two rings and a leader, in the colour of light. */
function drawPointed(s: Sight, p: NonNullable<LiveState['pointed']>): void {
  const { ctx, ink } = s
  const [x, y] = screenFromPlan(s.camera, s.size, p.xMm, p.yMm)
  const r = Math.max(12, p.radiusMm * s.camera.pxPerMm + 6)
  inPx(s)
  ctx.strokeStyle = ink.light
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
  tag(s, p.words, x + off + 18, y - off - 18, ink.light)
}

function drawRulerMarks(s: Sight, at: { xPx: number; yPx: number }): void {
  const { ctx, ink } = s
  inPx(s)
  ctx.fillStyle = ink.ink
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

const fixed = (v: number) => v.toFixed(2).replace('-', '−')

/** Boards in sight, for anything drawn one by one. */
export const inSight = (s: Sight, boards: readonly Board[], reachMm: number): Board[] => {
  const seen = seenBox(s.camera, s.size)
  return boards.filter((b) =>
    meets({ minX: b.xMm - reachMm, maxX: b.xMm + reachMm, minY: b.yMm - reachMm, maxY: b.yMm + reachMm }, seen),
  )
}
