// Drawing an outline anew, corner by corner: the same corner again, or the first one, closes it. One step of history.
import { type Corner, doMeet } from '../../num/polygon.ts'
import type { Page } from '../actions/action.ts'
import { beginOutline, type DrawnOutline, plan } from '../store/plan.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { unitSystem } from '../store/unitSystem.ts'
import { CORNER_LABELS, refuse } from './cornerActions.ts'
import type { Drawn } from './drawOutline.ts'
import { frameOf, type OutlineFrame, withOutline } from './model/outlines.ts'
import { placeText } from './model/words.ts'

type DrawPage = Pick<Page, 'design' | 'view'>

/** Corners nearer than this are the same one, mm. */
const SAME_MM = 1e-6
const LEAST = 3

/** Whose outline the selection says: of the boards' one type, or without boards the face; null: of several types. */
function ownerOf({ design, view }: DrawPage): Pick<DrawnOutline, 'typeId' | 'boardId'> | null {
  const { boards, emitters } = view.getState()
  if (boards.length === 0) return emitters.length === 0 ? { typeId: null, boardId: null } : null
  const chosen = design.lamp().boards.filter((b) => boards.includes(b.id))
  const [first] = chosen
  if (!first || chosen.some((b) => b.type !== first.type)) return null
  return { typeId: first.type, boardId: first.id }
}

export const canDraw = (page: DrawPage): boolean => !plan.getState().dragging && ownerOf(page) !== null

export function startDrawing(page: DrawPage): void {
  const owner = ownerOf(page)
  if (owner) beginOutline(owner.typeId, owner.boardId)
  else refuse('Select boards of one type to draw their outline, or none to draw the face’s.')
}

export const stopDrawing = (announcement: string): void =>
  plan.setState({ tool: 'pick', drawn: null, aim: null, refused: null, announcement })

/** What is drawn, and its frame; null: nothing, or its board has gone. */
export function drawing({ design }: Pick<Page, 'design'>): { drawn: DrawnOutline; frame: OutlineFrame } | null {
  const { tool, drawn } = plan.getState()
  const frame = tool === 'draw' && drawn ? frameOf(design.lamp(), drawn) : null
  return drawn && frame ? { drawn, frame } : null
}

const isSame = (a: Corner | undefined, b: Corner): boolean =>
  a !== undefined && Math.hypot(a[0] - b[0], a[1] - b[1]) < SAME_MM

/** Whether a corner here closes the outline. */
export const closesAt = (corners: readonly Corner[], at: Corner): boolean =>
  corners.length >= LEAST && (isSame(corners[0], at) || isSame(corners.at(-1), at))

/** Number of the corner where the edge begins that an edge from the last corner to here would cross; null: none. */
function crossedBy(corners: readonly Corner[], at: Corner): number | null {
  const last = corners.at(-1)
  if (!last) return null
  const crossed = corners.slice(0, -2).findIndex((from, i) => {
    const to = corners[i + 1]
    return to !== undefined && doMeet(from, to, last, at)
  })
  return crossed < 0 ? null : crossed + 1
}

const TOO_FEW = `An outline has at least ${LEAST} corners.`
const GONE = 'The board has gone: drawing has ended.'

/** Why no corner can be placed here, or null. */
function cornerFault(corners: readonly Corner[], at: Corner): string | null {
  if (corners.some((c) => isSame(c, at))) return corners.length < LEAST ? TOO_FEW : 'There is a corner already.'
  const crossed = crossedBy(corners, at)
  return crossed === null ? null : `That edge would cross the one from corner ${crossed} to corner ${crossed + 1}.`
}

/** A corner here, in the outline's own frame. */
export function placeCorner(page: DrawPage, at: Corner): void {
  const now = drawing(page)
  if (!now) {
    stopDrawing(GONE)
    return
  }
  const { corners } = now.drawn
  if (closesAt(corners, at)) {
    closeOutline(page)
    return
  }
  const why = cornerFault(corners, at)
  if (why !== null) {
    refuse(why)
    return
  }
  const count = corners.length + 1
  plan.setState({
    drawn: { ...now.drawn, corners: [...corners, at] },
    refused: null,
    announcement: `Corner ${count} at ${placeText(at[0], at[1], unitSystem())}.${count >= LEAST ? ' Enter at the same place closes the outline.' : ''}`,
  })
}

/** Makes the outline of the corners so far; refused in the schema's words when it can't stand. */
export function closeOutline(page: DrawPage): void {
  const now = drawing(page)
  if (!now) {
    stopDrawing(GONE)
    return
  }
  const { typeId, boardId, corners } = now.drawn
  const why =
    corners.length < LEAST
      ? TOO_FEW
      : tryEdit(page.design, CORNER_LABELS.draw, (lamp) => withOutline(lamp, typeId, corners))
  if (why !== null) {
    refuse(why)
    return
  }
  if (boardId !== null) page.view.setState({ boards: [boardId], emitters: [] })
  stopDrawing(`Outline drawn: ${corners.length} corners.`)
}

/** As it lies on the plan, with the place of the next corner; null: nothing is drawn. */
export function drawnNow(page: Pick<Page, 'design'>): Drawn | null {
  const now = drawing(page)
  if (!now) return null
  const { frame, drawn } = now
  const { aim } = plan.getState()
  const at = aim && frame.fromPlan(aim)
  const closes = at !== null && closesAt(drawn.corners, at)
  return {
    corners: drawn.corners.map(frame.toPlan),
    aim: aim && [aim[0], aim[1]],
    crosses: at !== null && !closes && crossedBy(drawn.corners, at) !== null,
    words: at === null ? '' : closes ? 'closes the outline' : placeText(at[0], at[1], unitSystem()),
  }
}

export function takeBackCorner(): void {
  const { drawn } = plan.getState()
  if (!drawn) return
  const corners = drawn.corners.slice(0, -1)
  plan.setState({ drawn: { ...drawn, corners }, refused: null, announcement: `${corners.length} corners are left.` })
}
