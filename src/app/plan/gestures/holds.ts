// A held arrow key is one edit, however often it repeats: the first press takes the boards, letting go puts them down.
import { shifted } from '../../common/boardEdits.ts'
import type { Design, Held } from '../../store/design.ts'

export interface NudgeHold {
  by(dxMm: number, dyMm: number): void
  end(): void
  cancel(): void
  readonly active: boolean
}

export function createNudgeHold(design: Pick<Design, 'hold'>, chosen: () => readonly string[]): NudgeHold {
  let held: Held | null = null
  let ids: readonly string[] = []
  let [dx, dy] = [0, 0]
  return {
    get active() {
      return held !== null
    },
    by(dxMm, dyMm) {
      if (!held) {
        ids = chosen()
        if (ids.length === 0) return
        held = design.hold('Nudge')
        dx = 0
        dy = 0
      }
      dx += dxMm
      dy += dyMm
      const [x, y] = [dx, dy]
      held.show((lamp) => shifted(lamp, ids, x, y))
    },
    end() {
      held?.drop()
      held = null
    },
    cancel() {
      held?.cancel()
      held = null
    },
  }
}
