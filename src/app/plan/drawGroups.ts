// Colour and pattern of each group on its boards, boards that are off darkened, and the boards' names.
import type { Board, Lamp } from '../../lamp/schema.ts'
import { boardOutline } from '../../layout/outline.ts'
import { shapeBox } from '../../layout/shape.ts'
import { type DrawContext, inMm, inPx } from './drawStill.ts'
import { type BoxMm, meets, screenFromPlan, seenBox } from './model/camera.ts'
import { type GroupLines, type GroupMark, groupMarks, groupOf } from './model/groups.ts'
import { groupPattern } from './palette.ts'
import { addOutline } from './tiles.ts'

export interface GroupLayer {
  mark: GroupMark
  outlines: Path2D
}

/** Of these boards; none for a lamp with one group. */
export function groupLayers(lamp: Lamp, boards: readonly Board[]): GroupLayer[] {
  const types = new Map(lamp.boardTypes.map((t) => [t.id, t]))
  return groupMarks(lamp).map((mark) => {
    const outlines = new Path2D()
    for (const b of boards) {
      const type = types.get(b.type)
      if (type && groupOf(lamp, b) === mark.id) addOutline(outlines, type.outline, b)
    }
    return { mark, outlines }
  })
}

/** Between the boards and their emitters. */
export function drawGroups(s: DrawContext, layers: readonly GroupLayer[]): void {
  const { ctx, palette } = s
  for (const { mark, outlines } of layers) {
    const colour = palette.group[mark.tone] ?? palette.ink
    inMm(s)
    ctx.fillStyle = colour
    ctx.globalAlpha = 0.16
    ctx.fill(outlines)
    ctx.globalAlpha = 0.9
    ctx.strokeStyle = colour
    ctx.lineWidth = 1.6 / s.camera.pxPerMm
    ctx.stroke(outlines)
    drawLines(s, outlines, colour, mark.lines)
  }
  ctx.globalAlpha = 1
  inMm(s)
}

function drawLines(s: DrawContext, outlines: Path2D, colour: string, lines: GroupLines): void {
  if (lines === 'plain') return
  const { ctx } = s
  ctx.save()
  ctx.clip(outlines)
  ctx.setTransform(1, 0, 0, 1, 0, 0)
  ctx.globalAlpha = 0.34
  ctx.fillStyle = groupPattern(ctx, colour, lines, s.ratio)
  ctx.fillRect(0, 0, ctx.canvas.width, ctx.canvas.height)
  ctx.restore()
}

/** Over the emitters: boards that give no light in the mode that is traced. */
export function drawOff(s: DrawContext, layers: readonly GroupLayer[]): void {
  const { ctx, palette } = s
  inMm(s)
  ctx.fillStyle = palette.ground
  ctx.globalAlpha = 0.62
  for (const { mark, outlines } of layers) if (mark.isOff) ctx.fill(outlines)
  ctx.globalAlpha = 1
}

/** Where a board is smaller on screen its name would hide it. */
const NAMED_FROM_PX = 34
const boxes = new WeakMap<Board, { types: Lamp['boardTypes']; box: BoxMm }>()

function boxOf(lamp: Lamp, board: Board): BoxMm {
  const known = boxes.get(board)
  if (known?.types === lamp.boardTypes) return known.box
  const { fromX, fromY, toX, toY } = shapeBox(boardOutline(lamp, board))
  const box = { minX: fromX, minY: fromY, maxX: toX, maxY: toY }
  boxes.set(board, { types: lamp.boardTypes, box })
  return box
}

/** At the lower edge of each board that has room for it. */
export function drawNames(s: DrawContext, lamp: Lamp, boards: readonly Board[]): void {
  const { ctx, camera, palette } = s
  const seen = seenBox(camera, s.size)
  inPx(s)
  ctx.font = palette.font
  ctx.textAlign = 'center'
  ctx.textBaseline = 'alphabetic'
  ctx.lineJoin = 'round'
  ctx.lineWidth = 3
  for (const b of boards) {
    const box = boxOf(lamp, b)
    const wide = (box.maxX - box.minX) * camera.pxPerMm
    if (wide < NAMED_FROM_PX || !meets(box, seen)) continue
    const [x, y] = screenFromPlan(camera, s.size, (box.minX + box.maxX) / 2, box.minY)
    ctx.strokeStyle = palette.raised
    ctx.fillStyle = palette.ink
    ctx.strokeText(b.id, x, y - 4, wide)
    ctx.fillText(b.id, x, y - 4, wide)
  }
}
