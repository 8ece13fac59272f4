// The corners of an own outline as handles, with a mark at the middle of each edge, and what pressing and dragging make of them.
import type { Lamp } from '../../../lamp/schema.ts'
import { boxOfCorners, type Corner, edgesOf } from '../../../num/polygon.ts'
import { roundTidyMm } from '../../common/boardEdits.ts'
import type { UnitSystem } from '../../common/unitSystem.ts'
import type { EditedOutline } from './outlines.ts'
import { type SnapConstraint, type SnapOptions, type Snapped, solveSnap } from './snap.ts'
import { placeText } from './words.ts'

export interface CornerHandle {
  /** corner: itself. edge: the middle between the corner of this index and the next. */
  on: 'corner' | 'edge'
  index: number
  xMm: number
  yMm: number
}

/**
 * corner: corners between two shorter edges than this are no handles at this scale: they would lie over one another.
 * mark: a shorter edge has no mark: it would lie under the corners' handles.
 */
interface LeastEdgesPx {
  corner: number
  mark: number
}
const OF_FACE: LeastEdgesPx = { corner: 12, mark: 40 }
/** Between its corners a board still has to be taken hold of. */
const OF_BOARD: LeastEdgesPx = { corner: 28, mark: 64 }
/** Weaker than a meeting of two, stronger than the grid. */
const RANK = 1

/** Of an outline that is edited, where they lie on the plan. */
export const outlineHandles = (
  { corners, toPlan, typeId }: EditedOutline,
  pxPerMm: number,
  chosen: number | null,
): CornerHandle[] => cornerHandles(corners.map(toPlan), pxPerMm, chosen, typeId === null ? OF_FACE : OF_BOARD)

export function cornerHandles(
  corners: readonly Corner[],
  pxPerMm: number,
  chosen: number | null,
  least: LeastEdgesPx = OF_FACE,
): CornerHandle[] {
  const marks: CornerHandle[] = []
  const own: CornerHandle[] = []
  let beforePx = edgePx(corners.at(-1), corners[0], pxPerMm)
  for (const [index, [from, to]] of edgesOf(corners).entries()) {
    const afterPx = edgePx(from, to, pxPerMm)
    if (index === chosen || Math.max(beforePx, afterPx) >= least.corner)
      own.push({ on: 'corner', index, xMm: from[0], yMm: from[1] })
    const [xMm, yMm] = middle(from, to)
    if (afterPx >= least.mark) marks.push({ on: 'edge', index, xMm, yMm })
    beforePx = afterPx
  }
  return [...marks, ...own]
}

const edgePx = (from: Corner | undefined, to: Corner | undefined, pxPerMm: number): number =>
  from && to ? Math.hypot(to[0] - from[0], to[1] - from[1]) * pxPerMm : 0

const middle = (from: Corner, to: Corner): Corner => [
  roundTidyMm((from[0] + to[0]) / 2),
  roundTidyMm((from[1] + to[1]) / 2),
]

/** The nearest handle within reach, which is a quarter of a small outline's lesser side at most: a fingertip finds the board between them. */
export function handleAt(
  handles: readonly CornerHandle[],
  xMm: number,
  yMm: number,
  reachMm: number,
): CornerHandle | null {
  let best: CornerHandle | null = null
  const { fromX, toX, fromY, toY } = boxOfCorners(handles.map((h): Corner => [h.xMm, h.yMm]))
  let least = handles.length < 3 ? reachMm : Math.min(reachMm, (toX - fromX) / 4, (toY - fromY) / 4)
  for (const h of handles) {
    const off = Math.hypot(h.xMm - xMm, h.yMm - yMm)
    if (off <= least) [best, least] = [h, off]
  }
  return best
}

export const movedCorner = (corners: readonly Corner[], index: number, xMm: number, yMm: number): Corner[] =>
  corners.map((c, i): Corner => (i === index ? [roundTidyMm(xMm), roundTidyMm(yMm)] : c))

export const shiftedCorner = (corners: readonly Corner[], index: number, dxMm: number, dyMm: number): Corner[] =>
  corners.map(([x, y], i): Corner => (i === index ? [roundTidyMm(x + dxMm), roundTidyMm(y + dyMm)] : [x, y]))

export const withoutCorner = (corners: readonly Corner[], index: number): Corner[] =>
  corners.filter((_, i) => i !== index)

/** A new corner in the middle of the edge that begins at a corner; its index is the next. */
export const withMiddle = (corners: readonly Corner[], index: number): Corner[] =>
  edgesOf(corners).flatMap(([from, to], i) => (i === index ? [from, middle(from, to)] : [from]))

/** Snaps a dragged corner to the x and y of the other corners, and to the grid. */
export function snapCorner(
  corners: readonly Corner[],
  index: number,
  xMm: number,
  yMm: number,
  { reachMm, gridMm, neighbours }: Pick<SnapOptions, 'reachMm' | 'gridMm' | 'neighbours'>,
): Snapped {
  const constraints: SnapConstraint[] = []
  const hold = (axis: 0 | 1, at: number, line: { nx: number; ny: number; of: string }) => {
    let found: { at: number; number: number } | null = null
    let least = reachMm
    for (const [i, c] of corners.entries()) {
      const off = Math.abs(c[axis] - at)
      if (i !== index && off <= least) [found, least] = [{ at: c[axis], number: i + 1 }, off]
    }
    const { of, ...way } = line
    if (found)
      constraints.push({
        ...{ kind: 'line', rank: RANK, from: null, ...way },
        ...{ at: found.at, why: `in a ${of} with corner ${found.number}` },
      })
  }
  if (neighbours) {
    hold(0, xMm, { nx: 1, ny: 0, of: 'column' })
    hold(1, yMm, { nx: 0, ny: 1, of: 'row' })
  }
  return solveSnap(xMm, yMm, constraints, reachMm, gridMm)
}

/** "Corner 2 of 5, x 40 mm, y 12 mm"; of a board, how many follow. Empty when there is no such corner. */
export function cornerText(lamp: Lamp, outline: EditedOutline, index: number | null, system: UnitSystem): string {
  const { corners, typeId } = outline
  const c = index === null ? undefined : corners[index]
  if (!c || index === null) return ''
  const number = `${index + 1} of ${corners.length}, ${placeText(c[0], c[1], system)}`
  return typeId === null ? `Corner ${number}` : `Board corner ${number}${followText(lamp, typeId)}`
}

const nameOf = (lamp: Lamp, typeId: string) => lamp.boardTypes.find((t) => t.id === typeId)?.name ?? typeId

function followText(lamp: Lamp, typeId: string): string {
  const boards = lamp.boards.filter((b) => b.type === typeId).length
  return boards > 1 ? `; all ${boards} such boards follow` : ''
}

/** How an own outline is worked by keys; empty without one. */
export function outlineText(lamp: Lamp, { corners, typeId }: EditedOutline): string {
  if (corners.length === 0) return ''
  const whose = typeId === null ? 'Its outline' : `The outline of “${nameOf(lamp, typeId)}”`
  return `${whose} has ${corners.length} corners: q selects the next, arrows move it, shift a adds one after it, Delete removes it.`
}
