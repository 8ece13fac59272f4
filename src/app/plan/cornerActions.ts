// Edits of an own outline, the face's or a board type's, by its corners: each one step of history, refused in the schema's words when the outline can't stand.
import type { Corner } from '../../num/polygon.ts'
import type { Page } from '../actions/action.ts'
import { plan } from '../store/plan.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { unitSystem } from '../store/unitSystem.ts'
import { cornerText, shiftedCorner, withMiddle, withoutCorner } from './model/corners.ts'
import { type EditedOutline, editedOutline, withOutline } from './model/outlines.ts'

type CornerPage = Pick<Page, 'design' | 'view'>

export const CORNER_LABELS = {
  move: 'Move a corner',
  add: 'Add a corner',
  delete: 'Delete a corner',
  nudge: 'Nudge a corner',
  draw: 'Draw an outline',
} as const

/** The view stays where it is for these: what is drawn must not shift under the pointer. */
const labels: readonly string[] = Object.values(CORNER_LABELS)
export const isCornerEdit = (label: string): boolean => labels.includes(label)

export const outlineOf = ({ design, view }: CornerPage): EditedOutline =>
  editedOutline(design.lamp(), view.getState().boards)

/** Index of the selected corner; null without one, or when the outline has it no more. */
export function chosenCorner(page: CornerPage): number | null {
  const { corner } = plan.getState()
  return corner !== null && corner < outlineOf(page).corners.length ? corner : null
}

/** Selects a corner, of the face instead of boards, and announces it. */
export function chooseCorner(page: CornerPage, corner: number): void {
  const { design, view } = page
  const { boards, emitters } = view.getState()
  const outline = outlineOf(page)
  if (outline.typeId === null && boards.length + emitters.length > 0)
    view.setState({ boards: [], emitters: [], focusedPlace: null })
  const words = cornerText(design.lamp(), outline, corner, unitSystem())
  plan.setState({ corner, refused: null, fault: null, announcement: words && `${words}.` })
}

export const refuse = (why: string, after = ''): void => plan.setState({ refused: why, announcement: `${why}${after}` })

function edit(
  page: CornerPage,
  label: string,
  corner: number,
  change: (corners: readonly Corner[]) => Corner[],
): boolean {
  const { typeId, corners } = outlineOf(page)
  const why = tryEdit(page.design, label, (lamp) => withOutline(lamp, typeId, change(corners)))
  if (why === null) chooseCorner(page, corner)
  else refuse(why)
  return why === null
}

export function walkCorners(page: CornerPage, by: 1 | -1): void {
  const count = outlineOf(page).corners.length
  const now = chosenCorner(page)
  chooseCorner(page, now === null ? (by > 0 ? 0 : count - 1) : (now + by + count) % count)
}

export function addCorner(page: CornerPage, after: number): void {
  edit(page, CORNER_LABELS.add, after + 1, (corners) => withMiddle(corners, after))
}

export function deleteCorner(page: CornerPage, corner: number): void {
  if (!edit(page, CORNER_LABELS.delete, corner, (corners) => withoutCorner(corners, corner))) return
  plan.setState({ corner: null, announcement: `Corner ${corner + 1} deleted.` })
}

export function nudgeCorner(page: CornerPage, corner: number, dxMm: number, dyMm: number): void {
  edit(page, CORNER_LABELS.nudge, corner, (corners) => shiftedCorner(corners, corner, dxMm, dyMm))
}
