// A held arrow key is one step of history, however often it repeats: the first press opens a drag session, the release commits it.
import { shifted } from '../../common/boardEdits.ts'
import type { Design, DragSession } from '../../store/design.ts'

export interface NudgeSession {
  move(dxMm: number, dyMm: number): void
  commit(): void
  cancel(): void
  readonly active: boolean
}

export function createNudgeSession(
  design: Pick<Design, 'beginDrag'>,
  selectedIds: () => readonly string[],
): NudgeSession {
  let session: DragSession | null = null
  let ids: readonly string[] = []
  let [dx, dy] = [0, 0]
  return {
    get active() {
      return session !== null
    },
    move(dxMm, dyMm) {
      if (!session) {
        ids = selectedIds()
        if (ids.length === 0) return
        session = design.beginDrag('Nudge')
        dx = 0
        dy = 0
      }
      dx += dxMm
      dy += dyMm
      const [x, y] = [dx, dy]
      session.preview((lamp) => shifted(lamp, ids, x, y))
    },
    commit() {
      session?.commit()
      session = null
    },
    cancel() {
      session?.cancel()
      session = null
    },
  }
}
