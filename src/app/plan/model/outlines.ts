// Whose outline is edited on the plan, and how its own frame lies on the face: that of the selected board's type, or the face's.
import { lampFromBoard } from '../../../lamp/place.ts'
import type { Board, Lamp } from '../../../lamp/schema.ts'
import type { Corner } from '../../../num/polygon.ts'
import { roundTidyMm } from '../../common/boardEdits.ts'
import { withBoardCorners, withFaceCorners } from '../../common/faceEdits.ts'
import type { SnapConstraint } from './snap.ts'

/** A frame in which an outline is drawn; a tilted board's as it is seen from the front. */
export interface OutlineFrame {
  toPlan(corner: Corner): Corner
  fromPlan(corner: Corner): Corner
}

export interface OutlineOwner {
  /** The board type; null: the face. */
  typeId: string | null
  /** The board that it is drawn on. */
  boardId: string | null
}

export interface EditedOutline extends OutlineOwner, OutlineFrame {
  /** In its own frame, mm; none where the face has no outline of its own. */
  corners: readonly Corner[]
}

const FACE_FRAME: OutlineFrame = { toPlan: (c) => c, fromPlan: (c) => c }

export function boardFrame(board: Pick<Board, 'xMm' | 'yMm' | 'turnDeg' | 'wedge'>): OutlineFrame {
  const [x0, y0] = [board.xMm, board.yMm]
  const column = (x: number, y: number): Corner => {
    const [px, py] = lampFromBoard(board, x, y)
    return [px - x0, py - y0]
  }
  const [[ax, ay], [bx, by]] = [column(1, 0), column(0, 1)]
  // The cosine of the wedge's tilt, which is 60° at most.
  const det = ax * by - ay * bx
  return {
    toPlan: ([x, y]) => lampFromBoard(board, x, y),
    fromPlan: ([x, y]) => [
      roundTidyMm((by * (x - x0) - bx * (y - y0)) / det),
      roundTidyMm((ax * (y - y0) - ay * (x - x0)) / det),
    ],
  }
}

/** Of one selected board whose type has an outline of its own; with any other selection the face's. */
export function editedOutline(lamp: Lamp, boards: readonly string[]): EditedOutline {
  const [id] = boards
  const board = boards.length === 1 ? lamp.boards.find((b) => b.id === id) : undefined
  const outline = board && lamp.boardTypes.find((t) => t.id === board.type)?.outline
  if (board && outline?.shape === 'polygon')
    return { typeId: board.type, boardId: board.id, corners: outline.corners, ...boardFrame(board) }
  const { face } = lamp
  return { typeId: null, boardId: null, corners: face.shape === 'polygon' ? (face.corners ?? []) : [], ...FACE_FRAME }
}

/** Null: the board isn't there any more. */
export function frameOf(lamp: Lamp, { typeId, boardId }: OutlineOwner): OutlineFrame | null {
  if (typeId === null) return FACE_FRAME
  const board = lamp.boards.find((b) => b.id === boardId && b.type === typeId)
  return board ? boardFrame(board) : null
}

export const withOutline = (lamp: Lamp, typeId: string | null, corners: readonly Corner[]): Lamp =>
  typeId === null ? withFaceCorners(lamp, corners) : withBoardCorners(lamp, typeId, corners)

/** Guides that hold in the outline's own frame, as lines on the plan through a point (plan, mm). */
export const guidesOnPlan = (
  frame: OutlineFrame,
  constraints: readonly SnapConstraint[],
  at: Corner,
): SnapConstraint[] => {
  const [x, y] = frame.fromPlan(at)
  return constraints.map((c) => {
    if (c.kind !== 'line') return c
    const [tx, ty] = frame.toPlan([x - c.ny, y + c.nx])
    const long = Math.hypot(tx - at[0], ty - at[1])
    const [nx, ny] = long > 0 ? [(ty - at[1]) / long, (at[0] - tx) / long] : [c.nx, c.ny]
    return { ...c, nx, ny, at: nx * at[0] + ny * at[1] }
  })
}
