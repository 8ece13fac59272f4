// The pointer while an outline is drawn: where the next corner would lie, snapped, and placing it there.
import type { Corner } from '../../../num/polygon.ts'
import { plan } from '../../store/plan.ts'
import { design, view } from '../../store/stores.ts'
import type { PlanCanvas } from '../canvas.ts'
import { closesAt, drawing, placeCorner } from '../drawActions.ts'
import { snapCorner } from '../model/corners.ts'
import { guidesOnPlan } from '../model/outlines.ts'
import { snapOptions } from './snapping.ts'

/** A corner this near to the pointer is meant by it, px. */
const SAME_PX = 11

export function createDrawing({ interaction, camera }: PlanCanvas) {
  const page = { design, view }
  return {
    aimAt(xMm: number, yMm: number, free: boolean) {
      const now = drawing(page)
      if (!now) return
      const { frame, drawn } = now
      const { pxPerMm } = camera()
      const isNear = (corner: Corner) => {
        const [x, y] = frame.toPlan(corner)
        return closesAt(drawn.corners, corner) && Math.hypot(x - xMm, y - yMm) * pxPerMm <= SAME_PX
      }
      const same = drawn.corners.find(isNear)
      const to = frame.fromPlan([xMm, yMm])
      const snapped = same || free ? null : snapCorner(drawn.corners, -1, ...to, snapOptions(pxPerMm))
      const aim = frame.toPlan(same ?? (snapped ? [snapped.xMm, snapped.yMm] : to))
      interaction.guides = guidesOnPlan(frame, snapped?.constraints ?? [], aim)
      interaction.guideAt = { xMm: aim[0], yMm: aim[1] }
      plan.setState({ aim })
    },
    placeAtAim() {
      const { aim } = plan.getState()
      const now = drawing(page)
      if (aim && now) placeCorner(page, now.frame.fromPlan([aim[0], aim[1]]))
    },
  }
}
