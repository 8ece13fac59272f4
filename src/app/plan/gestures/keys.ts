// Keys that only the drawing itself takes: space moves the view, Escape calls a drag off, arrows nudge, Enter places a board or a corner.
import { chordOf } from '../../actions/keys.ts'
import { plan } from '../../store/plan.ts'
import { design, view } from '../../store/stores.ts'
import { choose, moveAim } from '../actions.ts'
import type { PlanCanvas } from '../canvas.ts'
import { chooseCorner, chosenCorner } from '../cornerActions.ts'
import { nudgeBy } from '../nudges.ts'
import type { NudgeSession } from './nudge.ts'

interface On {
  nudge: NudgeSession
  cancel(): void
  placeAtAim(): void
}

export function createPlanKeys({ live, interaction, requestLive }: PlanCanvas, { nudge, cancel, placeAtAim }: On) {
  const page = { design, view }
  let spaceHeld = false
  return {
    isSpaceHeld: () => spaceHeld,
    onKey(e: KeyboardEvent) {
      if (e.key === ' ' && !e.ctrlKey) {
        spaceHeld = true
        live.style.cursor = 'grab'
        return e.preventDefault()
      }
      if (e.key === 'Escape' && (interaction.drag.now !== 'idle' || nudge.active)) {
        nudge.cancel()
        cancel()
        return e.preventDefault()
      }
      if (interaction.drag.now !== 'idle') return
      if (e.key === 'Enter' && plan.getState().tool !== 'pick') {
        placeAtAim()
        return e.preventDefault()
      }
      const by = nudgeBy(chordOf(e))
      if (!by) return
      if (plan.getState().tool !== 'pick') {
        moveAim(page, by[0], by[1])
        requestLive()
      } else nudge.move(by[0], by[1])
      e.preventDefault()
    },
    onKeyUp(e: KeyboardEvent) {
      if (e.key === ' ') {
        spaceHeld = false
        live.style.cursor = 'default'
      }
      if (e.key.startsWith('Arrow') && nudge.active) {
        nudge.commit()
        const corner = chosenCorner(page)
        if (corner === null) choose(page, view.getState().boards)
        else if (plan.getState().refused === null) chooseCorner(page, corner)
      }
    },
    onBlur() {
      spaceHeld = false
      nudge.commit()
    },
  }
}
