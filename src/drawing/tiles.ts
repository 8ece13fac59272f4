// A drawing at true size over pages of paper: which rectangle of it lies on which page.
import type { Point } from '../layout/shape.ts'
import { type FullWorkshop, PAPER_MM } from '../library/typicalWorkshop.ts'
import type { Box } from '../num/grid.ts'
import { itemPoints, pointsOf } from './path.ts'
import type { Drawing, Item } from './types.ts'

export type Paper = FullWorkshop['paper']

/** Most printers leave some 5 mm white (common practice, no source); the lower margin holds the page’s label and its check bar. */
const MARGIN_MM = 10
const LOWER_MM = 24
export const OVERLAP_MM = 10
/** On every page, to be measured before anything is cut. */
export const CHECK_BAR_MM = 100

export interface Tile {
  /** From 1: rows from the top, columns from the left. */
  row: number
  column: number
  /** Part of the drawing on this page, in its coordinates, mm. */
  window: Box
  /** Nothing of the drawing but its frame lies there: no page. */
  isEmpty: boolean
}

export interface Tiling {
  /** As the pages lie. */
  paper: { widthMm: number; heightMm: number }
  /** Lower left corner of every window on its page, mm from the page’s. */
  windowAt: { xMm: number; yMm: number }
  rows: number
  columns: number
  tiles: Tile[]
}

/** Of the room that is left over, how much lies left of the drawing, and above it: in the middle, else at one end. */
const SHARES = [0.5, 0, 1] as const

/**
 * The pages of a drawing, upright or lying: as few as can be, and of those the ones with the fewest joints through the part itself, so that
 * what fits on one page is whole on it. Neighbours share 10 mm.
 */
export function tiles(drawing: Tiled, paper: Paper): Tiling {
  const { widthMm, heightMm } = PAPER_MM[paper]
  const ways = drawing.items.filter((i) => i.layer !== 'frame').map(wayOf)
  const tried = [
    { widthMm, heightMm },
    { widthMm: heightMm, heightMm: widthMm },
  ].flatMap((size) =>
    SHARES.flatMap((above) =>
      SHARES.map((left) => {
        const tiling = tilingOn(drawing.box, ways, size, left, above)
        return { tiling, pages: pageCount(tiling), joints: jointsThrough(drawing.partBox, tiling) }
      }),
    ),
  )
  return tried.reduce((best, t) =>
    t.pages < best.pages || (t.pages === best.pages && t.joints < best.joints) ? t : best,
  ).tiling
}

type Tiled = Pick<Drawing, 'items' | 'box' | 'partBox'>

const pageCount = (tiling: Tiling): number => tiling.tiles.filter((t) => !t.isEmpty).length

/** Pages that hold some of the part, less the one that it takes at least. */
const jointsThrough = (part: Box, { tiles: all }: Tiling): number =>
  all.some(({ window: w }) => part.fromX >= w.fromX && part.toX <= w.toX && part.fromY >= w.fromY && part.toY <= w.toY)
    ? 0
    : all.filter(
        ({ window: w }) => part.fromX < w.toX && part.toX > w.fromX && part.fromY < w.toY && part.toY > w.fromY,
      ).length - 1

function tilingOn(
  box: Box,
  ways: readonly Point[][],
  paper: Tiling['paper'],
  leftShare: number,
  aboveShare: number,
): Tiling {
  const wide = paper.widthMm - 2 * MARGIN_MM
  const high = paper.heightMm - MARGIN_MM - LOWER_MM
  const columns = pagesFor(box.toX - box.fromX, wide)
  const rows = pagesFor(box.toY - box.fromY, high)
  const fromX = box.fromX - leftShare * (columns * (wide - OVERLAP_MM) + OVERLAP_MM - (box.toX - box.fromX))
  const toY = box.toY + aboveShare * (rows * (high - OVERLAP_MM) + OVERLAP_MM - (box.toY - box.fromY))
  const all = Array.from({ length: rows * columns }, (_, i): Tile => {
    const [row, column] = [Math.floor(i / columns) + 1, (i % columns) + 1]
    const x = fromX + (column - 1) * (wide - OVERLAP_MM)
    const y = toY - (row - 1) * (high - OVERLAP_MM) - high
    const window = { fromX: x, fromY: y, toX: x + wide, toY: y + high }
    return { row, column, window, isEmpty: !ways.some((way) => doesCross(way, window)) }
  })
  return { paper, windowAt: { xMm: MARGIN_MM, yMm: LOWER_MM }, rows, columns, tiles: all }
}

const pagesFor = (size: number, room: number): number =>
  Math.max(1, Math.ceil((size - OVERLAP_MM - 1e-9) / (room - OVERLAP_MM)))

/** Points joined by lines that stand for an item. */
function wayOf(item: Item): Point[] {
  if (item.kind === 'path') {
    const points = pointsOf(item, 0.2)
    const [first] = points
    return item.closed && first ? [...points, first] : points
  }
  if (item.kind === 'circle')
    return Array.from({ length: 73 }, (_, i): Point => {
      const at = (i * Math.PI) / 36
      return [item.x + item.radiusMm * Math.cos(at), item.y + item.radiusMm * Math.sin(at)]
    })
  return itemPoints(item)
}

const doesCross = (way: readonly Point[], box: Box): boolean =>
  way.some((to, i) => isLineInBox(way[i - 1] ?? to, to, box))

/** Clipping by parameters (Y.-D. Liang, B. A. Barsky 1984; from memory). */
function isLineInBox([x0, y0]: Point, [x1, y1]: Point, { fromX, fromY, toX, toY }: Box): boolean {
  let [enter, leave] = [0, 1]
  const sides: [number, number][] = [
    [x0 - x1, x0 - fromX],
    [x1 - x0, toX - x0],
    [y0 - y1, y0 - fromY],
    [y1 - y0, toY - y0],
  ]
  for (const [p, q] of sides) {
    if (p === 0 && q < 0) return false
    if (p < 0) enter = Math.max(enter, q / p)
    if (p > 0) leave = Math.min(leave, q / p)
  }
  return enter <= leave
}
