// What lies under the pointer, and the cursor that says so.
import { plan } from '../../store/plan.ts'
import { design } from '../../store/stores.ts'
import type { PlanCanvas } from '../canvas.ts'
import { handleAt } from '../model/corners.ts'
import { boardAt, emitterAt } from '../model/hit.ts'
import type { PlanHit, PlanPoint } from './drag.ts'

const HANDLE_PX = 11
/** For a fingertip. */
const HANDLE_TOUCH_PX = 24

export function hitAt(planCanvas: PlanCanvas, at: Pick<PlanPoint, 'xMm' | 'yMm'>, isTouch = false): PlanHit {
  const handle = planCanvas.handle()
  const px = 1 / planCanvas.camera().pxPerMm
  const reachMm = (isTouch ? HANDLE_TOUCH_PX : HANDLE_PX) * px
  if (handle && Math.hypot(at.xMm - handle.xMm, at.yMm - handle.yMm) < reachMm)
    return { on: 'turnHandle', xMm: handle.pivotX, yMm: handle.pivotY }
  const corner = handleAt(planCanvas.cornerHandles(), at.xMm, at.yMm, reachMm)
  if (corner) return { on: corner.on, index: corner.index }
  const lamp = design.lamp()
  if (plan.getState().pickMode === 'emitters') {
    const e = emitterAt(lamp, at.xMm, at.yMm, 2 * px)
    return e ? { on: 'emitter', id: e.boardId, key: e.key } : { on: 'nothing' }
  }
  const b = boardAt(lamp, at.xMm, at.yMm, 2 * px)
  return b ? { on: 'board', id: b.id } : { on: 'nothing' }
}

export const CURSORS: Readonly<Record<PlanHit['on'], string>> = {
  turnHandle: 'alias',
  board: 'move',
  corner: 'move',
  edge: 'copy',
  emitter: 'pointer',
  nothing: 'default',
}
