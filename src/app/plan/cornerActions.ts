// Edits of the face's own outline by its corners: each one step of history, refused in the schema's words when the outline can't stand.
import type { Corner } from '../../num/polygon.ts'
import type { Page } from '../actions/action.ts'
import { withFaceCorners } from '../common/faceEdits.ts'
import { plan } from '../store/plan.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { unitSystem } from '../store/unitSystem.ts'
import { cornerText, ownCorners, shiftedCorner, withMiddle, withoutCorner } from './model/corners.ts'

type CornerPage = Pick<Page, 'design' | 'view'>

export const CORNER_LABELS = {
  move: 'Move a corner',
  add: 'Add a corner',
  delete: 'Delete a corner',
  nudge: 'Nudge a corner',
} as const

/** The view stays where it is for these: what is drawn must not shift under the pointer. */
const labels: readonly string[] = Object.values(CORNER_LABELS)
export const isCornerEdit = (label: string): boolean => labels.includes(label)

/** Index of the selected corner; null without one, or when the outline has it no more. */
export function chosenCorner({ design }: Pick<Page, 'design'>): number | null {
  const { corner } = plan.getState()
  return corner !== null && corner < ownCorners(design.lamp()).length ? corner : null
}

/** Selects a corner instead of boards, and announces it. */
export function chooseCorner({ design, view }: CornerPage, corner: number): void {
  const { boards, emitters } = view.getState()
  if (boards.length + emitters.length > 0) view.setState({ boards: [], emitters: [], focusedPlace: null })
  const words = cornerText(ownCorners(design.lamp()), corner, unitSystem())
  plan.setState({ corner, refused: null, fault: null, announcement: words && `${words}.` })
}

export const refuse = (why: string, after = ''): void => plan.setState({ refused: why, announcement: `${why}${after}` })

function edit(
  page: CornerPage,
  label: string,
  corner: number,
  change: (corners: readonly Corner[]) => Corner[],
): boolean {
  const why = tryEdit(page.design, label, (lamp) => withFaceCorners(lamp, change(ownCorners(lamp))))
  if (why === null) chooseCorner(page, corner)
  else refuse(why)
  return why === null
}

export function walkCorners(page: CornerPage, by: 1 | -1): void {
  const count = ownCorners(page.design.lamp()).length
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
