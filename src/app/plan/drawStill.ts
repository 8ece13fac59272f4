// The still layer: background, face, keep-outs, boards, emitters, returned light, rulers. Redrawn when the lamp, the camera or the
// overlay changes, never by a pointer move.

import { faceBox, faceHeightMm } from '../../lamp/facePlate.ts'
import type { Face, KeepOut, Lamp } from '../../lamp/schema.ts'
import { flatsPolygon } from '../../layout/outline.ts'
import { polygonInset } from '../../layout/polygonInset.ts'
import type { Corner } from '../../num/polygon.ts'
import type { GridMap } from '../../run/figure.ts'
import { shownText } from '../common/decimalMark.ts'
import { paintGrid } from '../common/gridMap.ts'
import { lampFromPiece, outlineOf } from '../common/piece.ts'
import { isPlain } from '../common/pieceCut.ts'
import type { PlanCamera, PlanSize } from '../common/planCamera.ts'
import { shownUnit } from '../common/unitSystem.ts'
import { unitSystem } from '../store/unitSystem.ts'
import { meets, RULER_PX, roundStep, rulerTicks, screenFromPlan, seenBox } from './model/camera.ts'
import { mostCommonCurrentA } from './model/marks.ts'
import { hatch, type PlanPalette } from './palette.ts'
import { addDisc, addKeepOut, addPolygon, type PlanTile, rectangle } from './tiles.ts'

/** An image laid over the face, and its extent, mm. */
export interface OverlayImage {
  image: HTMLCanvasElement
  extent: Pick<GridMap, 'fromX' | 'toX' | 'fromY' | 'toY'>
}

export interface DrawContext {
  ctx: CanvasRenderingContext2D
  camera: PlanCamera
  size: PlanSize
  /** Device px per CSS px. */
  ratio: number
  palette: PlanPalette
  /** Rotates all that is drawn in mm about a point of the face. */
  turn?: { byDeg: number; pivotX: number; pivotY: number }
}

/** Sets the transform: coordinates are then mm on the face. */
export function inMm(s: DrawContext): void {
  const k = s.camera.pxPerMm * s.ratio
  const [x, y] = screenFromPlan(s.camera, s.size, 0, 0)
  s.ctx.setTransform(k, 0, 0, -k, x * s.ratio, y * s.ratio)
  if (!s.turn) return
  s.ctx.translate(s.turn.pivotX, s.turn.pivotY)
  s.ctx.rotate((s.turn.byDeg * Math.PI) / 180)
  s.ctx.translate(-s.turn.pivotX, -s.turn.pivotY)
}

export const inPx = (s: DrawContext): void => s.ctx.setTransform(s.ratio, 0, 0, s.ratio, 0, 0)

export function clear(s: DrawContext): void {
  s.ctx.setTransform(1, 0, 0, 1, 0, 0)
  s.ctx.clearRect(0, 0, s.ctx.canvas.width, s.ctx.canvas.height)
}

export function facePath(face: Face, insetMm = 0): Path2D {
  const path = new Path2D()
  const across = Math.max(0, face.sizeMm - 2 * insetMm)
  if (face.shape === 'round') addDisc(path, 0, 0, across / 2)
  else if (face.shape === 'hexagon') addPolygon(path, flatsPolygon(6, across))
  else if (face.shape === 'polygon') addOwnOutline(path, face.corners ?? [], insetMm)
  else addPolygon(path, rectangle(across, Math.max(0, faceHeightMm(face) - 2 * insetMm)))
  return path
}

function addOwnOutline(path: Path2D, corners: readonly Corner[], insetMm: number): void {
  if (insetMm === 0) addPolygon(path, corners)
  for (const [from, to] of insetMm > 0 ? polygonInset(corners, insetMm) : []) {
    path.moveTo(...from)
    path.lineTo(...to)
  }
}

export function drawStill(
  s: DrawContext,
  lamp: Lamp,
  tiles: readonly PlanTile[],
  overlayImage: OverlayImage | null,
  between: () => void,
): void {
  clear(s)
  s.ctx.fillStyle = s.palette.ground
  s.ctx.fillRect(0, 0, s.ctx.canvas.width, s.ctx.canvas.height)
  drawLattice(s)
  drawFace(s, lamp)
  if (overlayImage) drawOverlay(s, lamp.face, overlayImage)
  drawTiles(s, tiles, overlayImage !== null, 0, between)
  drawTunnel(s, lamp)
  drawLens(s, lamp)
  drawAxes(s, lamp.face)
  drawCurrents(s, lamp)
}

/** Faint squared paper: one square for each long ruler step. */
function drawLattice(s: DrawContext): void {
  const { ctx, camera, size } = s
  const box = seenBox(camera, size)
  const step = roundStep(56 / camera.pxPerMm)
  inPx(s)
  ctx.strokeStyle = s.palette.rule
  ctx.globalAlpha = 0.35
  ctx.lineWidth = 1
  ctx.beginPath()
  for (let i = Math.ceil(box.minX / step); i * step <= box.maxX; i++) {
    const x = Math.round(screenFromPlan(camera, size, i * step, 0)[0]) + 0.5
    ctx.moveTo(x, 0)
    ctx.lineTo(x, size.heightPx)
  }
  for (let i = Math.ceil(box.minY / step); i * step <= box.maxY; i++) {
    const y = Math.round(screenFromPlan(camera, size, 0, i * step)[1]) + 0.5
    ctx.moveTo(0, y)
    ctx.lineTo(size.widthPx, y)
  }
  ctx.stroke()
  ctx.globalAlpha = 1
}

function drawFace(s: DrawContext, lamp: Lamp): void {
  const { ctx, palette } = s
  const px = 1 / s.camera.pxPerMm
  inMm(s)
  const outline = facePath(lamp.face)
  ctx.fillStyle = palette.sheet
  ctx.fill(outline)
  ctx.strokeStyle = palette['ink-quiet']
  ctx.lineWidth = 1.5 * px
  ctx.stroke(outline)
  if (lamp.face.marginMm > 0) {
    ctx.strokeStyle = palette['rule-strong']
    ctx.lineWidth = px
    ctx.setLineDash([5 * px, 4 * px])
    ctx.stroke(facePath(lamp.face, lamp.face.marginMm))
    ctx.setLineDash([])
  }
  drawKeepOuts(s, lamp.face.keepOuts)
}

function drawKeepOuts(s: DrawContext, keepOuts: readonly KeepOut[]): void {
  if (keepOuts.length === 0) return
  const { ctx, palette } = s
  inMm(s)
  const path = new Path2D()
  for (const k of keepOuts) addKeepOut(path, k)
  ctx.fillStyle = palette.ground
  ctx.fill(path)
  ctx.save()
  ctx.clip(path)
  ctx.setTransform(1, 0, 0, 1, 0, 0)
  ctx.fillStyle = hatch(ctx, palette['rule-strong'], -1, s.ratio)
  ctx.fillRect(0, 0, ctx.canvas.width, ctx.canvas.height)
  ctx.restore()
  inMm(s)
  ctx.strokeStyle = palette['ink-faint']
  ctx.lineWidth = 1 / s.camera.pxPerMm
  ctx.stroke(path)
  inPx(s)
  ctx.font = palette.font
  ctx.textAlign = 'center'
  ctx.textBaseline = 'top'
  ctx.fillStyle = palette['ink-quiet']
  for (const k of keepOuts) {
    const halfMm = k.shape === 'hole' ? k.diameterMm / 2 : k.lengthMm / 2
    if (halfMm * s.camera.pxPerMm < 10 || !k.why) continue
    const down = k.shape === 'hole' ? halfMm : k.widthMm / 2
    const [x, y] = screenFromPlan(s.camera, s.size, k.xMm, k.yMm - down)
    ctx.fillText(k.why.slice(0, 24), x, y + 3)
  }
}

/** Boards and emitters; `between` them is drawn what lies on the boards. `bare` leaves the boards unfilled, so that a map under them shows. */
export function drawTiles(
  s: DrawContext,
  tiles: readonly PlanTile[],
  bare: boolean,
  widen = 0,
  between: () => void = () => {},
): void {
  const { ctx, palette } = s
  const k = s.camera.pxPerMm
  const seen = seenBox(s.camera, s.size, widen)
  inMm(s)
  ctx.lineJoin = 'round'
  for (const tile of tiles) {
    if (!meets(tile.box, seen)) continue
    if (!bare) {
      ctx.fillStyle = palette.raised
      ctx.fill(tile.outlines)
    }
    ctx.strokeStyle = bare ? palette['ink-faint'] : palette['rule-strong']
    ctx.lineWidth = 1 / k
    ctx.stroke(tile.outlines)
  }
  if (bare) return
  between()
  for (const tile of tiles) {
    if (!meets(tile.box, seen)) continue
    for (const layer of tile.optics) {
      const px = layer.radiusMm * k
      ctx.fillStyle = palette.tone[layer.mark.tone]
      ctx.globalAlpha = px < 4 ? 0.55 : 0.13
      ctx.fill(layer.discs)
      if (px < 4) continue
      ctx.globalAlpha = 0.75
      ctx.strokeStyle = palette.tone[layer.mark.tone]
      ctx.lineWidth = 0.9 / k
      ctx.stroke(layer.discs)
      ctx.globalAlpha = 0.9
      ctx.fill(layer.marks)
    }
    ctx.globalAlpha = 1
    if (k > 1.6) {
      ctx.fillStyle = palette.light
      ctx.fill(tile.dies)
    }
  }
  ctx.globalAlpha = 1
}

/** The tunnel's inlet over the boards: an emitter outside it gives no light. */
function drawTunnel(s: DrawContext, lamp: Lamp): void {
  const { tunnel } = lamp
  if (!tunnel) return
  const { ctx, palette } = s
  const px = 1 / s.camera.pxPerMm
  inMm(s)
  const path = new Path2D()
  if (tunnel.inHeightMm !== undefined) addPolygon(path, rectangle(tunnel.inMm, tunnel.inHeightMm))
  else if (tunnel.sides === 0) addDisc(path, 0, 0, tunnel.inMm / 2)
  else addPolygon(path, flatsPolygon(tunnel.sides, tunnel.inMm))
  ctx.strokeStyle = palette.steel
  ctx.globalAlpha = 0.8
  ctx.lineWidth = px
  ctx.setLineDash([10 * px, 3 * px, 2 * px, 3 * px])
  ctx.stroke(path)
  ctx.setLineDash([])
  ctx.globalAlpha = 1
}

/** A lens that isn't the plain one: its outline as seen from the front, and a cross where its optical axis goes through it. */
function drawLens(s: DrawContext, lamp: Lamp): void {
  const { lens } = lamp
  if (!lens || isPlain(lens)) return
  const { ctx, palette } = s
  const px = 1 / s.camera.pxPerMm
  const place = lampFromPiece(lens)
  const [x, y] = place([lens.centreXMm ?? 0, lens.centreYMm ?? 0, 0])
  const path = new Path2D()
  addPolygon(
    path,
    outlineOf(lens).map(([u, v]) => {
      const at = place([u, v, 0])
      return [at[0], at[1]] as const
    }),
  )
  const cross = new Path2D()
  cross.moveTo(x - 11 * px, y)
  cross.lineTo(x + 11 * px, y)
  cross.moveTo(x, y - 11 * px)
  cross.lineTo(x, y + 11 * px)
  inMm(s)
  ctx.strokeStyle = palette.steel
  ctx.lineWidth = px
  ctx.setLineDash([2 * px, 3 * px])
  ctx.stroke(path)
  ctx.setLineDash([])
  ctx.strokeStyle = palette.light
  ctx.lineWidth = 2 * px
  ctx.stroke(cross)
}

/** Centre lines as on a drawing, a little past the edge. */
function drawAxes(s: DrawContext, face: Face): void {
  const { ctx, palette } = s
  const px = 1 / s.camera.pxPerMm
  const over = 10 * px
  const { fromX, toX, fromY, toY } = faceBox(face)
  inMm(s)
  ctx.strokeStyle = palette['ink-faint']
  ctx.globalAlpha = 0.5
  ctx.lineWidth = px
  ctx.setLineDash([14 * px, 4 * px, 2 * px, 4 * px])
  ctx.beginPath()
  ctx.moveTo(Math.min(0, fromX) - over, 0)
  ctx.lineTo(Math.max(0, toX) + over, 0)
  ctx.moveTo(0, Math.min(0, fromY) - over)
  ctx.lineTo(0, Math.max(0, toY) + over)
  ctx.stroke()
  ctx.setLineDash([])
  ctx.globalAlpha = 1
}

/** Labels each board that runs at another current than most. */
function drawCurrents(s: DrawContext, lamp: Lamp): void {
  const usual = mostCommonCurrentA(lamp)
  if (s.camera.pxPerMm < 0.7) return
  inPx(s)
  s.ctx.textAlign = 'center'
  s.ctx.textBaseline = 'middle'
  for (const b of lamp.boards) {
    if (b.currentA === usual) continue
    const [x, y] = screenFromPlan(s.camera, s.size, b.xMm, b.yMm)
    tag(s, `${b.currentA} A`, x, y, s.palette.ink)
  }
}

/** Text on a patch of background, readable over anything; kept inside the canvas. */
export function tag(s: DrawContext, text: string, x: number, y: number, colour: string): void {
  const { ctx, palette } = s
  const words = shownText(text)
  ctx.font = palette.font
  const w = ctx.measureText(words).width + 8
  const wanted = ctx.textAlign === 'center' ? x - w / 2 : x
  const left = x > s.size.widthPx ? wanted : Math.max(0, Math.min(wanted, s.size.widthPx - w))
  ctx.fillStyle = palette.ground
  ctx.globalAlpha = 0.86
  ctx.fillRect(left, y - 8, w, 16)
  ctx.globalAlpha = 1
  ctx.fillStyle = colour
  ctx.fillText(words, ctx.textAlign === 'center' ? left + w / 2 : left + 4, y + 0.5)
}

/** The map as an image, one pixel for each bin. */
export function heatImage(map: GridMap, topValue: number): HTMLCanvasElement {
  const image = document.createElement('canvas')
  image.width = map.columns
  image.height = map.rows
  image.getContext('2d')!.putImageData(new ImageData(paintGrid(map, topValue), map.columns, map.rows), 0, 0)
  return image
}

function drawOverlay(s: DrawContext, face: Face, { image, extent }: OverlayImage): void {
  const { ctx } = s
  ctx.save()
  inMm(s)
  ctx.clip(facePath(face))
  inPx(s)
  const [x0, y0] = screenFromPlan(s.camera, s.size, extent.fromX, extent.toY)
  const [x1, y1] = screenFromPlan(s.camera, s.size, extent.toX, extent.fromY)
  ctx.imageSmoothingEnabled = true
  ctx.drawImage(image, x0, y0, x1 - x0, y1 - y0)
  ctx.restore()
}

/** Along the top (x) and the left (y), in mm; above everything else of the still layer. */
export function drawRulers(s: DrawContext): void {
  const { ctx, palette, size } = s
  const box = seenBox(s.camera, s.size)
  inPx(s)
  const mm = shownUnit('mm', unitSystem())
  ctx.fillStyle = palette.sheet
  ctx.fillRect(0, 0, size.widthPx, RULER_PX)
  ctx.fillRect(0, 0, RULER_PX, size.heightPx)
  ctx.strokeStyle = palette['ink-faint']
  ctx.fillStyle = palette['ink-quiet']
  ctx.font = palette.font
  ctx.lineWidth = 1
  ctx.beginPath()
  ctx.textBaseline = 'top'
  ctx.textAlign = 'left'
  for (const t of rulerTicks(box.minX, box.maxX, s.camera.pxPerMm, mm.toDocument(1))) {
    const x = Math.round(screenFromPlan(s.camera, size, t.mm, 0)[0]) + 0.5
    if (x < RULER_PX) continue
    ctx.moveTo(x, RULER_PX)
    ctx.lineTo(x, RULER_PX - (t.long ? 9 : 4))
    if (t.long) ctx.fillText(shownText(rulerLabel(t.shown)), x + 3, 3)
  }
  for (const t of rulerTicks(box.minY, box.maxY, s.camera.pxPerMm, mm.toDocument(1))) {
    const y = Math.round(screenFromPlan(s.camera, size, 0, t.mm)[1]) + 0.5
    if (y < RULER_PX) continue
    ctx.moveTo(RULER_PX, y)
    ctx.lineTo(RULER_PX - (t.long ? 9 : 4), y)
    if (!t.long) continue
    ctx.save()
    ctx.translate(3, y - 3)
    ctx.rotate(-Math.PI / 2)
    ctx.fillText(shownText(rulerLabel(t.shown)), 0, 0)
    ctx.restore()
  }
  ctx.stroke()
  ctx.fillStyle = palette.sheet
  ctx.fillRect(0, 0, RULER_PX, RULER_PX)
  ctx.fillStyle = palette['ink-faint']
  ctx.fillText(mm.word, 2, 4)
  ctx.strokeStyle = palette.rule
  ctx.strokeRect(RULER_PX - 0.5, RULER_PX - 0.5, size.widthPx, size.heightPx)
}

const rulerLabel = (shown: number) => `${shown}`.replace('-', '−')
