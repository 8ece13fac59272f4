// The drag layer. Dragged boards leave the still layer and are drawn once into a sprite, so that each move costs one blit, however
// many boards there are. Where the sprite would be too large, they are drawn as paths.
import type { Board, Lamp } from '../../lamp/schema.ts'
import type { PlanCamera } from '../common/planCamera.ts'
import { drawGroups, drawOff, type GroupLayer, groupLayers } from './drawGroups.ts'
import { type Chosen, drawChosen } from './drawLive.ts'
import { type DrawContext, drawTiles, inPx } from './drawStill.ts'
import { type BoxMm, fitBox, screenFromPlan } from './model/camera.ts'
import { boardsBox } from './model/hit.ts'
import { type PlanTile, planTiles } from './tiles.ts'

/** Shift and turn of the dragged boards since the drag began. */
export interface DragTransform {
  dxMm: number
  dyMm: number
  byDeg: number
  pivotX: number
  pivotY: number
}

export interface DragLayer {
  draw(s: DrawContext, transform: DragTransform): void
}

const MAX_PX = 4096

export function createDragLayer(s: DrawContext, lamp: Lamp, boards: readonly Board[], chosen: Chosen): DragLayer {
  const tiles = planTiles(lamp, boards)
  const groups = groupLayers(lamp, boards)
  const box = boardsBox(lamp, boards) ?? { minX: 0, minY: 0, maxX: 0, maxY: 0 }
  let sprite = picture(s, { tiles, groups, chosen }, box)
  let scale = s.camera.pxPerMm
  return {
    draw(now, transform) {
      if (now.camera.pxPerMm !== scale) {
        scale = now.camera.pxPerMm
        sprite = picture(now, { tiles, groups, chosen }, box)
      }
      if (sprite) blit(now, sprite, box, transform)
      else paths(now, { tiles, groups, chosen }, transform)
    },
  }
}

const BORDER_PX = 8

interface Dragged {
  tiles: readonly PlanTile[]
  groups: readonly GroupLayer[]
  chosen: Chosen
}

function drawDragged(s: DrawContext, { tiles, groups, chosen }: Dragged, widen = 0): void {
  drawTiles(s, tiles, false, widen, () => drawGroups(s, groups))
  drawOff(s, groups)
  drawChosen(s, chosen)
}

function picture(s: DrawContext, dragged: Dragged, box: BoxMm): HTMLCanvasElement | null {
  const widthPx = (box.maxX - box.minX) * s.camera.pxPerMm + 2 * BORDER_PX
  const heightPx = (box.maxY - box.minY) * s.camera.pxPerMm + 2 * BORDER_PX
  const [w, h] = [Math.ceil(widthPx * s.ratio), Math.ceil(heightPx * s.ratio)]
  if (w > MAX_PX || h > MAX_PX || w * h > 3 * s.ctx.canvas.width * s.ctx.canvas.height) return null
  const image = document.createElement('canvas')
  image.width = w
  image.height = h
  const ctx = image.getContext('2d')!
  const size = { widthPx, heightPx }
  const camera: PlanCamera = { ...fitBox(box, size), pxPerMm: s.camera.pxPerMm }
  const own: DrawContext = { ...s, ctx, camera, size }
  drawDragged(own, dragged)
  return image
}

function blit(s: DrawContext, image: HTMLCanvasElement, box: BoxMm, transform: DragTransform): void {
  const [px, py] = screenFromPlan(
    s.camera,
    s.size,
    transform.pivotX + transform.dxMm,
    transform.pivotY + transform.dyMm,
  )
  const [x, y] = screenFromPlan(s.camera, s.size, box.minX + transform.dxMm, box.maxY + transform.dyMm)
  inPx(s)
  s.ctx.translate(px, py)
  s.ctx.rotate((-transform.byDeg * Math.PI) / 180)
  s.ctx.drawImage(image, x - px - BORDER_PX, y - py - BORDER_PX, image.width / s.ratio, image.height / s.ratio)
}

function paths(s: DrawContext, dragged: Dragged, transform: DragTransform): void {
  // Moving boards by d looks the same as moving the camera by -d; a turn is applied on top.
  const camera = {
    ...s.camera,
    centreXMm: s.camera.centreXMm - transform.dxMm,
    centreYMm: s.camera.centreYMm - transform.dyMm,
  }
  const moved: DrawContext = { ...s, camera }
  if (transform.byDeg === 0) {
    drawDragged(moved, dragged)
    return
  }
  drawDragged({ ...moved, turn: transform }, dragged, 4)
}
