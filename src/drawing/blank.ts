// A flat blank: how it lies on the sheet at hand.
import type { Point } from '../layout/shape.ts'
import { boxOf, movedItem, movedPoint, movedSize, pathAreaMm2, pointsOf } from './path.ts'
import type { Item, Size } from './types.ts'

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
  const points = blank.items.flatMap((i) =>
    i.kind === 'path' && i.layer === 'outline' ? pointsOf(i) : circlePoints(i),
  )
  const turns = Array.from({ length: 180 / STEP_DEG }, (_, i) => (i * STEP_DEG * Math.PI) / 180)
  const room = sheet.widthMm * sheet.heightMm
  const fitting =
    areaOf(blank) > room
      ? undefined
      : turns.find((turn) => {
          const { widthMm, heightMm } = extents(points, turn)
          return widthMm + kerfMm <= sheet.widthMm + 1e-9 && heightMm + kerfMm <= sheet.heightMm + 1e-9
        })
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

/** Of the outline, mm². */
const areaOf = (blank: Blank): number =>
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

function extents(points: readonly Point[], turnRad: number): SheetSize {
  const box = { fromX: Infinity, fromY: Infinity, toX: -Infinity, toY: -Infinity }
  for (const p of points) {
    const [x, y] = movedPoint(p, { turnRad, xMm: 0, yMm: 0 })
    box.fromX = Math.min(box.fromX, x)
    box.toX = Math.max(box.toX, x)
    box.fromY = Math.min(box.fromY, y)
    box.toY = Math.max(box.toY, y)
  }
  return { widthMm: box.toX - box.fromX, heightMm: box.toY - box.fromY }
}
