// Faults in place: hatching over the region, and a short label beside it.

import type { Lamp } from '../../lamp/schema.ts'
import type { LayoutFault } from '../../layout/clearance.ts'
import { unitSystem } from '../store/unitSystem.ts'
import { type DrawContext, facePath, inMm, inPx, tag } from './drawStill.ts'
import { screenFromPlan } from './model/camera.ts'
import { cannotBe, faultTag } from './model/faults.ts'
import { hatch } from './palette.ts'
import { addDisc, addKeepOut, addOutline } from './tiles.ts'

/** Each exact region costs a clip; beyond this number whole boards are hatched at once. */
const MAX_EXACT = 80
const MAX_LABELS = 24

export function drawFaults(s: DrawContext, lamp: Lamp, faults: readonly LayoutFault[], shown: number | null): void {
  const here = faults.filter((f) => f.boards.every((i) => i < lamp.boards.length))
  if (here.length === 0) return
  outlines(s, lamp, here)
  if (here.length <= MAX_EXACT) for (const f of here) region(s, lamp, f)
  else wholeBoards(s, lamp, here)
  points(s, here)
  words(s, here, shown)
}

const outlineOf = (lamp: Lamp, index: number): Path2D => {
  const path = new Path2D()
  const b = lamp.boards[index]!
  const type = lamp.boardTypes.find((t) => t.id === b.type)
  if (type) addOutline(path, type.outline, b)
  return path
}

function outlines(s: DrawContext, lamp: Lamp, faults: readonly LayoutFault[]): void {
  for (const severe of [false, true]) {
    const path = new Path2D()
    const boards = new Set(faults.filter((f) => cannotBe(f) === severe).flatMap((f) => f.boards))
    if (boards.size === 0) continue
    for (const i of boards) path.addPath(outlineOf(lamp, i))
    inMm(s)
    s.ctx.strokeStyle = severe ? s.palette.severe : s.palette.warning
    s.ctx.lineWidth = 1.4 / s.camera.pxPerMm
    s.ctx.stroke(path)
  }
}

function fillHatched(s: DrawContext, severe: boolean): void {
  s.ctx.setTransform(1, 0, 0, 1, 0, 0)
  s.ctx.fillStyle = hatch(s.ctx, severe ? s.palette.severe : s.palette.warning, severe ? 1 : -1, s.ratio)
  s.ctx.fillRect(0, 0, s.ctx.canvas.width, s.ctx.canvas.height)
}

/** The overlap of two shapes, the overhang, or the gap that is too small. */
function region(s: DrawContext, lamp: Lamp, f: LayoutFault): void {
  const { ctx } = s
  const own = outlineOf(lamp, f.boards[0]!)
  ctx.save()
  inMm(s)
  if (f.kind === 'overlap') {
    ctx.clip(own)
    ctx.clip(outlineOf(lamp, f.boards[1]!))
  } else if (f.kind === 'overhang') {
    ctx.clip(own)
    const outside = new Path2D()
    outside.rect(-1e5, -1e5, 2e5, 2e5)
    outside.addPath(facePath(lamp.face))
    ctx.clip(outside, 'evenodd')
  } else if (f.kind === 'keepOut' && f.gapMm < 0) {
    ctx.clip(own)
    const path = new Path2D()
    addKeepOut(path, lamp.face.keepOuts[f.keepOut ?? 0]!)
    ctx.clip(path)
  } else {
    const spot = new Path2D()
    addDisc(spot, f.xMm, f.yMm, Math.max(Math.abs(f.gapMm), f.wantedMm, 9 / s.camera.pxPerMm))
    ctx.clip(spot)
  }
  fillHatched(s, cannotBe(f))
  ctx.restore()
}

function wholeBoards(s: DrawContext, lamp: Lamp, faults: readonly LayoutFault[]): void {
  const path = new Path2D()
  for (const i of new Set(faults.flatMap((f) => f.boards))) path.addPath(outlineOf(lamp, i))
  s.ctx.save()
  inMm(s)
  s.ctx.clip(path)
  fillHatched(s, faults.some(cannotBe))
  s.ctx.restore()
}

/** A small cross at the point itself, for regions too thin to see. */
function points(s: DrawContext, faults: readonly LayoutFault[]): void {
  const { ctx } = s
  inPx(s)
  ctx.lineWidth = 1.6
  for (const severe of [false, true]) {
    ctx.strokeStyle = severe ? s.palette.severe : s.palette.warning
    ctx.beginPath()
    for (const f of faults) {
      if (cannotBe(f) !== severe) continue
      const [x, y] = screenFromPlan(s.camera, s.size, f.xMm, f.yMm)
      ctx.moveTo(x - 4, y - 4)
      ctx.lineTo(x + 4, y + 4)
      ctx.moveTo(x - 4, y + 4)
      ctx.lineTo(x + 4, y - 4)
    }
    ctx.stroke()
  }
}

function words(s: DrawContext, faults: readonly LayoutFault[], shown: number | null): void {
  const { ctx } = s
  inPx(s)
  ctx.textAlign = 'left'
  ctx.textBaseline = 'middle'
  const taken: [number, number][] = []
  // The same emitter of every board of a type: said once.
  const labelledSites = new Set<number>()
  const rows = [...faults.entries()].sort(([a], [b]) => Number(b === shown) - Number(a === shown))
  let labelled = 0
  for (const [, f] of rows) {
    const [x, y] = screenFromPlan(s.camera, s.size, f.xMm, f.yMm)
    if (x < 0 || y < 0 || x > s.size.widthPx || y > s.size.heightPx) continue
    if (f.site !== undefined && labelledSites.has(f.site)) continue
    if (taken.some(([tx, ty]) => Math.abs(tx - x) < 96 && Math.abs(ty - y) < 18)) continue
    if (++labelled > MAX_LABELS) return
    taken.push([x, y])
    if (f.site !== undefined) labelledSites.add(f.site)
    tag(s, faultTag(f, unitSystem()), x + 9, y, cannotBe(f) ? s.palette.severe : s.palette.warning)
  }
}
