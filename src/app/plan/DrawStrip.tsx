// Below the drawing while an outline is drawn: whose it is, what the next click does, and the same by buttons.
import { usePlan } from '../store/plan.ts'
import { design, view } from '../store/stores.ts'
import { Button } from '../ui/Button.tsx'
import { closeOutline } from './drawActions.ts'
import { runPlanAction } from './gestures/pointer.ts'

const LEAST = 3

export function DrawStrip() {
  const count = usePlan((s) => s.drawn?.corners.length ?? 0)
  const typeId = usePlan((s) => s.drawn?.typeId ?? null)
  const refused = usePlan((s) => s.refused)
  const whose = typeId === null ? 'Face outline' : 'Board outline'
  const next = count < LEAST ? 'click each corner.' : 'the first corner again closes it.'
  const words = `${whose}: ${next}`
  return (
    <div className="plan-strip">
      <span className={refused ? 'plan-refused' : 'plan-told'} title={refused ?? words}>
        {refused ?? words}
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
