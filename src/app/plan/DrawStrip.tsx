// Below the drawing while an outline is drawn: whose it is, what the next click does, and the same by buttons.
import { usePlan } from '../store/plan.ts'
import { design, useDesign, view } from '../store/stores.ts'
import { Button } from '../ui/Button.tsx'
import { closeOutline } from './drawActions.ts'
import { runPlanAction } from './gestures/pointer.ts'

const LEAST = 3

export function DrawStrip() {
  const count = usePlan((s) => s.drawn?.corners.length ?? 0)
  const typeId = usePlan((s) => s.drawn?.typeId ?? null)
  const boardId = usePlan((s) => s.drawn?.boardId ?? null)
  const refused = usePlan((s) => s.refused)
  const name = useDesign((s) => s.lamp.boardTypes.find((t) => t.id === typeId)?.name)
  const whose = name === undefined ? 'Outline of the face' : `Outline of “${name}”, on board ${boardId}`
  const next = count < LEAST ? 'click each corner.' : 'click the first corner again to close it.'
  return (
    <div className="plan-strip">
      <span className={refused ? 'plan-refused' : 'plan-facts'} title={refused ?? undefined}>
        {refused ?? `${whose}: ${next}`}
      </span>
      <Button hint="Backspace" isDisabled={count === 0} onPress={() => runPlanAction('delete')}>
        Take back
      </Button>
      <Button
        kind="strong"
        hint="Or Enter twice at the same place"
        isDisabled={count < LEAST}
        onPress={() => closeOutline({ design, view })}
      >
        Close
      </Button>
      <Button hint="Esc: the outline stays as it was" onPress={() => runPlanAction('none')}>
        Cancel
      </Button>
    </div>
  )
}
