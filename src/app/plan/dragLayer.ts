// Boards in the hand. They leave the still layer and are drawn once into a picture of their own; each move then costs
// one blit, however many there are. When they are wider than such a picture may be, they are drawn as paths.
import type { Board, Lamp } from '../../lamp/schema.ts'
import type { PlanCamera } from '../common/planCamera.ts'
import { type Chosen, drawChosen } from './drawLive.ts'
import { drawTiles, inPx, type Sight } from './drawStill.ts'
import { type BoxMm, fitBox, screenFromPlan } from './model/camera.ts'
import { boardsBox } from './model/hit.ts'
import { type PlanTile, planTiles } from './tiles.ts'

/** How the boards in the hand stand against where they were taken up. */
export interface Carry {
  dxMm: number
  dyMm: number
  byDeg: number
  pivotX: number
  pivotY: number
}

export interface Lift {
  draw(s: Sight, carry: Carry): void
}

const MOST_PX = 4096

export function createLift(s: Sight, lamp: Lamp, boards: readonly Board[], chosen: Chosen): Lift {
  const tiles = planTiles(lamp, boards)
  const box = boardsBox(lamp, boards) ?? { minX: 0, minY: 0, maxX: 0, maxY: 0 }
  let sprite = picture(s, tiles, chosen, box)
  let scale = s.camera.pxPerMm
  return {
    draw(now, carry) {
      if (now.camera.pxPerMm !== scale) {
        scale = now.camera.pxPerMm
        sprite = picture(now, tiles, chosen, box)
      }
      if (sprite) blit(now, sprite, box, carry)
      else paths(now, tiles, chosen, carry)
    },
  }
}

const BORDER_PX = 8

function picture(s: Sight, tiles: readonly PlanTile[], chosen: Chosen, box: BoxMm): HTMLCanvasElement | null {
  const widthPx = (box.maxX - box.minX) * s.camera.pxPerMm + 2 * BORDER_PX
  const heightPx = (box.maxY - box.minY) * s.camera.pxPerMm + 2 * BORDER_PX
  const [w, h] = [Math.ceil(widthPx * s.ratio), Math.ceil(heightPx * s.ratio)]
  if (w > MOST_PX || h > MOST_PX || w * h > 3 * s.ctx.canvas.width * s.ctx.canvas.height) return null
  const image = document.createElement('canvas')
  image.width = w
  image.height = h
  const ctx = image.getContext('2d')!
  const size = { widthPx, heightPx }
  const camera: PlanCamera = { ...fitBox(box, size), pxPerMm: s.camera.pxPerMm }
  const own: Sight = { ...s, ctx, camera, size }
  drawTiles(own, tiles, false)
  drawChosen(own, chosen)
  return image
}

function blit(s: Sight, image: HTMLCanvasElement, box: BoxMm, carry: Carry): void {
  const [px, py] = screenFromPlan(s.camera, s.size, carry.pivotX + carry.dxMm, carry.pivotY + carry.dyMm)
  const [x, y] = screenFromPlan(s.camera, s.size, box.minX + carry.dxMm, box.maxY + carry.dyMm)
  inPx(s)
  s.ctx.translate(px, py)
  s.ctx.rotate((-carry.byDeg * Math.PI) / 180)
  s.ctx.drawImage(image, x - px - BORDER_PX, y - py - BORDER_PX, image.width / s.ratio, image.height / s.ratio)
}

function paths(s: Sight, tiles: readonly PlanTile[], chosen: Chosen, carry: Carry): void {
  // Moving boards by d looks the same as moving the camera by -d; a turn is set on top of it.
  const camera = {
    ...s.camera,
    centreXMm: s.camera.centreXMm - carry.dxMm,
    centreYMm: s.camera.centreYMm - carry.dyMm,
  }
  const moved: Sight = { ...s, camera }
  if (carry.byDeg === 0) {
    drawTiles(moved, tiles, false)
    drawChosen(moved, chosen)
    return
  }
  const turned: Sight = { ...moved, turn: carry }
  drawTiles(turned, tiles, false, 4)
  drawChosen(turned, chosen)
}
