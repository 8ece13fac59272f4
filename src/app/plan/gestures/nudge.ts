// A held arrow key is one step of history, however often it repeats: the first press opens a drag session, the release commits it.
import type { Lamp } from '../../../lamp/schema.ts'
import { shifted } from '../../common/boardEdits.ts'
import type { Design, DragSession } from '../../store/design.ts'
import { lampFault } from '../../store/tryEdit.ts'
import type { PlanPage } from '../actions.ts'
import { CORNER_LABELS, chosenCorner, outlineOf, refuse } from '../cornerActions.ts'
import { shiftedCorner } from '../model/corners.ts'
import { withOutline } from '../model/outlines.ts'

export interface NudgeSession {
  move(dxMm: number, dyMm: number): void
  commit(): void
  cancel(): void
  readonly active: boolean
}

/** What the arrow keys move. */
interface Mover {
  label: string
  move(lamp: Lamp, dxMm: number, dyMm: number): Lamp
  /** Why the lamp can't stand so, or null. */
  fault(lamp: Lamp): string | null
}

/** The selected corner, or the selected boards. */
export function moverOf(page: PlanPage): Mover | null {
  const corner = chosenCorner(page)
  const { boards } = page.view.getState()
  if (corner !== null) {
    const { typeId, corners } = outlineOf(page)
    return {
      label: CORNER_LABELS.nudge,
      move: (lamp, dxMm, dyMm) => withOutline(lamp, typeId, shiftedCorner(corners, corner, dxMm, dyMm)),
      fault: lampFault,
    }
  }
  if (boards.length === 0) return null
  return { label: 'Nudge', move: (lamp, dxMm, dyMm) => shifted(lamp, boards, dxMm, dyMm), fault: () => null }
}

export function createNudgeSession(design: Pick<Design, 'beginDrag' | 'lamp'>, grab: () => Mover | null): NudgeSession {
  let held: { session: DragSession; mover: Mover; before: Lamp } | null = null
  let [dx, dy] = [0, 0]
  return {
    get active() {
      return held !== null
    },
    move(dxMm, dyMm) {
      if (!held) {
        const mover = grab()
        if (!mover) return
        held = { mover, before: design.lamp(), session: design.beginDrag(mover.label) }
        dx = 0
        dy = 0
      }
      const { session, mover, before } = held
      const next = mover.move(before, dx + dxMm, dy + dyMm)
      const why = mover.fault(next)
      if (why !== null) return refuse(why)
      dx += dxMm
      dy += dyMm
      session.preview(() => next)
    },
    commit() {
      held?.session.commit()
      held = null
    },
    cancel() {
      held?.session.cancel()
      held = null
    },
  }
}
