// The corners of the face's own outline as handles, with a mark at the middle of each edge, and what pressing and dragging make of them.
import type { Lamp } from '../../../lamp/schema.ts'
import type { Corner } from '../../../num/polygon.ts'
import { roundTidyMm } from '../../common/boardEdits.ts'
import type { UnitSystem } from '../../common/unitSystem.ts'
import { type SnapConstraint, type SnapOptions, type Snapped, solveSnap } from './snap.ts'
import { placeText } from './words.ts'

export interface CornerHandle {
  /** corner: itself. edge: the middle between the corner of this index and the next. */
  on: 'corner' | 'edge'
  index: number
  xMm: number
  yMm: number
}

/** Corners between two shorter edges than this are no handles at this scale: they would lie over one another. */
const LEAST_EDGE_PX = 12
/** A shorter edge has no mark: it would lie under the corners' handles. */
const LEAST_MARKED_PX = 40
/** Weaker than a meeting of two, stronger than the grid. */
const RANK = 1

/** Corners of an outline that is edited on the plan; none when the face has none of its own. */
export const ownCorners = ({ face }: Lamp): readonly Corner[] => (face.shape === 'polygon' ? (face.corners ?? []) : [])

export function cornerHandles(corners: readonly Corner[], pxPerMm: number, chosen: number | null): CornerHandle[] {
  const n = corners.length
  const edgePx = corners.map(([x, y], i) => {
    const [nx, ny] = corners[(i + 1) % n]!
    return Math.hypot(nx - x, ny - y) * pxPerMm
  })
  const marks = corners.flatMap(([x, y], index): CornerHandle[] => {
    const [nx, ny] = corners[(index + 1) % n]!
    return edgePx[index]! < LEAST_MARKED_PX ? [] : [{ on: 'edge', index, xMm: (x + nx) / 2, yMm: (y + ny) / 2 }]
  })
  const own = corners.flatMap(([xMm, yMm], index): CornerHandle[] => {
    const longerPx = Math.max(edgePx[index]!, edgePx[(index + n - 1) % n]!)
    return index === chosen || longerPx >= LEAST_EDGE_PX ? [{ on: 'corner', index, xMm, yMm }] : []
  })
  return [...marks, ...own]
}

/** The nearest handle within reach. */
export function handleAt(
  handles: readonly CornerHandle[],
  xMm: number,
  yMm: number,
  reachMm: number,
): CornerHandle | null {
  let best: CornerHandle | null = null
  let least = reachMm
  for (const h of handles) {
    const off = Math.hypot(h.xMm - xMm, h.yMm - yMm)
    if (off <= least) [best, least] = [h, off]
  }
  return best
}

export const movedCorner = (corners: readonly Corner[], index: number, xMm: number, yMm: number): Corner[] =>
  corners.map((c, i): Corner => (i === index ? [roundTidyMm(xMm), roundTidyMm(yMm)] : c))

export const withoutCorner = (corners: readonly Corner[], index: number): Corner[] =>
  corners.filter((_, i) => i !== index)

/** A new corner in the middle of the edge that begins at a corner; its index is the next. */
export function withMiddle(corners: readonly Corner[], index: number): Corner[] {
  const [[x, y], [nx, ny]] = [corners[index]!, corners[(index + 1) % corners.length]!]
  const middle: Corner = [roundTidyMm((x + nx) / 2), roundTidyMm((y + ny) / 2)]
  return [...corners.slice(0, index + 1), middle, ...corners.slice(index + 1)]
}

/** Snaps a dragged corner to the x and y of the other corners, and to the grid. */
export function snapCorner(
  corners: readonly Corner[],
  index: number,
  xMm: number,
  yMm: number,
  { reachMm, gridMm, neighbours }: Pick<SnapOptions, 'reachMm' | 'gridMm' | 'neighbours'>,
): Snapped {
  const nearest = (axis: 0 | 1, at: number): number | null => {
    let found: number | null = null
    let least = reachMm
    for (const [i, c] of corners.entries()) {
      const off = Math.abs(c[axis] - at)
      if (i !== index && off <= least) [found, least] = [i, off]
    }
    return found
  }
  const constraints: SnapConstraint[] = []
  const [column, row] = neighbours ? [nearest(0, xMm), nearest(1, yMm)] : [null, null]
  const shared = { kind: 'line', rank: RANK, from: null } as const
  if (column !== null)
    constraints.push({ ...shared, nx: 1, ny: 0, at: corners[column]![0], why: `in a column with corner ${column + 1}` })
  if (row !== null)
    constraints.push({ ...shared, nx: 0, ny: 1, at: corners[row]![1], why: `in a row with corner ${row + 1}` })
  return solveSnap(xMm, yMm, constraints, reachMm, gridMm)
}

/** "Corner 2 of 5, x 40 mm, y 12 mm". Empty when there is no such corner. */
export function cornerText(corners: readonly Corner[], index: number | null, system: UnitSystem): string {
  const c = index === null ? undefined : corners[index]
  return c ? `Corner ${index! + 1} of ${corners.length}, ${placeText(c[0], c[1], system)}` : ''
}

/** How an own outline is worked by keys; empty without one. */
export const outlineText = (corners: readonly Corner[]): string =>
  corners.length === 0
    ? ''
    : `Its outline has ${corners.length} corners: q selects the next, arrows move it, shift a adds one after it, Delete removes it.`
