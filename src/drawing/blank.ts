// A flat blank: how it lies on the sheet at hand.
import type { Point } from '../layout/shape.ts'
import { boxOf, movedItem, movedSize, pathAreaMm2, pointsOf } from './path.ts'
import type { Item, Path, Size } from './types.ts'

export interface Blank {
  items: Item[]
  sizes: Size[]
  notes: string[]
}

export interface SheetSize {
  widthMm: number
  heightMm: number
}

const STEP_DEG = 2

/** The blank as it is drawn, its lower left corner at the origin, and its extents; `fits`: on the sheet, as it lies, with the cut’s room. */
export interface Laid extends Blank {
  widthMm: number
  heightMm: number
  fits: boolean
}

/** The first turn at which the blank fits; as it comes where none does. */
export function lay(blank: Blank, sheet: SheetSize, kerfMm: number): Laid {
  // Corners first: at most turns they alone show that the blank doesn’t fit.
  const corners = blank.items.flatMap((i) => (isOutline(i) ? i.vertices.map(({ x, y }): Point => [x, y]) : []))
  const points = [...corners, ...blank.items.flatMap((i) => (isOutline(i) ? pointsOf(i) : circlePoints(i)))]
  const turns = Array.from({ length: 180 / STEP_DEG }, (_, i) => (i * STEP_DEG * Math.PI) / 180)
  const room = sheet.widthMm * sheet.heightMm
  const fitting =
    blankAreaMm2(blank) > room
      ? undefined
      : turns.find((turn) => isWithin(points, turn, sheet.widthMm - kerfMm + 1e-9, sheet.heightMm - kerfMm + 1e-9))
  const turned = { turnRad: fitting ?? 0, xMm: 0, yMm: 0 }
  const box = boxOf(blank.items.filter((i) => i.layer === 'outline').map((i) => movedItem(i, turned)))
  const move = { ...turned, xMm: -box.fromX, yMm: -box.fromY }
  return {
    items: blank.items.map((i) => movedItem(i, move)),
    sizes: blank.sizes.map((s) => movedSize(s, move)),
    notes: blank.notes,
    widthMm: box.toX - box.fromX,
    heightMm: box.toY - box.fromY,
    fits: fitting !== undefined,
  }
}

const isOutline = (item: Item): item is Path => item.kind === 'path' && item.layer === 'outline'

/** Of the outline, mm². */
export const blankAreaMm2 = (blank: Blank): number =>
  blank.items.reduce((sum, i) => {
    if (i.layer !== 'outline' || i.kind === 'text') return sum
    return sum + (i.kind === 'path' ? Math.abs(pathAreaMm2(i)) : Math.PI * i.radiusMm ** 2)
  }, 0)

function circlePoints(item: Item): Point[] {
  if (item.kind !== 'circle' || item.layer !== 'outline') return []
  return Array.from({ length: 180 }, (_, i): Point => {
    const at = (i * Math.PI) / 90
    return [item.x + item.radiusMm * Math.cos(at), item.y + item.radiusMm * Math.sin(at)]
  })
}

/** Whether the points, turned, span no more than that. */
function isWithin(points: readonly Point[], turnRad: number, widthMm: number, heightMm: number): boolean {
  let [fromX, toX, fromY, toY] = [Infinity, -Infinity, Infinity, -Infinity]
  const [c, s] = [Math.cos(turnRad), Math.sin(turnRad)]
  for (const [u, v] of points) {
    const [x, y] = [c * u - s * v, s * u + c * v]
    if (x < fromX) fromX = x
    if (x > toX) toX = x
    if (y < fromY) fromY = y
    if (y > toY) toY = y
    if (toX - fromX > widthMm || toY - fromY > heightMm) return false
  }
  return true
}
