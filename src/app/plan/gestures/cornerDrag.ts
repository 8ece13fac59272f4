// A drag of a corner: the outline follows while it can stand, and is back where it was while it can't.
import type { Corner } from '../../../num/polygon.ts'
import { plan } from '../../store/plan.ts'
import { design, view } from '../../store/stores.ts'
import { beginCheckedDrag, type CheckedDragSession } from '../../store/tryEdit.ts'
import type { PlanCanvas } from '../canvas.ts'
import { CORNER_LABELS, chooseCorner, outlineOf, refuse } from '../cornerActions.ts'
import { movedCorner, snapCorner, withMiddle } from '../model/corners.ts'
import { type EditedOutline, guidesOnPlan, withOutline } from '../model/outlines.ts'
import type { CornerHit } from './drag.ts'
import { snapOptions } from './snapping.ts'

interface Dragged {
  session: CheckedDragSession
  index: number
  /** A new corner: it is gone when the drag is refused. */
  adds: boolean
  /** As the drag began, with the new corner of an edge. */
  corners: readonly Corner[]
  outline: EditedOutline
}

export function createCornerDrag({ interaction, camera }: PlanCanvas) {
  let dragged: Dragged | null = null
  const page = { design, view }

  function end() {
    dragged = null
    interaction.shaping = null
    interaction.guides = []
    interaction.guideAt = null
    plan.setState({ dragging: false })
  }

  return {
    get active() {
      return dragged !== null
    },
    begin({ on, index }: CornerHit) {
      const outline = outlineOf(page)
      const before = outline.corners
      const adds = on === 'edge'
      // The whole face would be fitted anew at each move, and slip from under the pointer.
      plan.setState({ camera: camera(), dragging: true, refused: null })
      const corners = adds ? withMiddle(before, index) : before
      dragged = {
        session: beginCheckedDrag(design, adds ? CORNER_LABELS.add : CORNER_LABELS.move),
        index: adds ? index + 1 : index,
        adds,
        corners,
        outline,
      }
      if (adds) dragged.session.preview((lamp) => withOutline(lamp, outline.typeId, corners))
      chooseCorner(page, dragged.index)
    },
    shift(dxMm: number, dyMm: number, free: boolean) {
      if (!dragged) return
      const { session, corners, index, outline } = dragged
      const from = corners[index]
      if (!from) return
      const [fromX, fromY] = outline.toPlan(from)
      const to = outline.fromPlan([fromX + dxMm, fromY + dyMm])
      const { xMm, yMm, constraints } = free
        ? { xMm: to[0], yMm: to[1], constraints: [] }
        : snapCorner(corners, index, ...to, snapOptions(camera().pxPerMm))
      const tried = movedCorner(corners, index, xMm, yMm)
      const at = outline.toPlan([xMm, yMm])
      interaction.guides = guidesOnPlan(outline, constraints, at)
      interaction.guideAt = { xMm: at[0], yMm: at[1] }
      const why = session.preview((lamp) => withOutline(lamp, outline.typeId, tried))
      // What is drawn is then what letting go here leaves.
      if (why !== null) session.preview((lamp) => lamp)
      interaction.shaping = { tried: tried.map(outline.toPlan), at, why }
      plan.setState({ corner: index })
    },
    release() {
      if (!dragged) return
      const { session, index, adds } = dragged
      const why = interaction.shaping?.why ?? null
      if (why === null) session.commit()
      else session.cancel()
      end()
      if (why === null) return chooseCorner(page, index)
      plan.setState({ corner: adds ? null : index })
      refuse(why, adds ? ' No corner was added.' : ' The corner is back where it was.')
    },
    cancel() {
      dragged?.session.cancel()
      end()
      plan.setState({ corner: null })
    },
  }
}
