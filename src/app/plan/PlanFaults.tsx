// The layout's faults in one line; a press walks through them.
import { Button } from 'react-aria-components'
import { usePlan } from '../store/plan.ts'
import { useView } from '../store/stores.ts'
import { runPlanAction } from './gestures/pointer.ts'
import { cannotBe, faultSentence, faultsLine } from './model/faults.ts'
import { choiceText } from './model/words.ts'
import { useStillLamp } from './useStillLamp.ts'

export function PlanFaults() {
  const faults = usePlan((s) => s.faults)
  const shown = usePlan((s) => s.fault)
  const said = usePlan((s) => s.said)
  const lamp = useStillLamp()
  const boards = useView((s) => s.boards)
  const emitters = useView((s) => s.emitters)
  if (faults.length === 0) {
    // What is chosen stands in the line above already.
    const news = said === choiceText(lamp, boards, emitters) ? '' : said
    return (
      <div className="plan-faults">
        <span className="plan-quiet">{news || faultsLine(faults)}</span>
      </div>
    )
  }
  const f = shown === null ? undefined : faults[shown]
  return (
    <div className="plan-faults" data-severe={faults.some(cannotBe) || undefined} data-shown={f ? true : undefined}>
      <Button className="plan-fault-button" onPress={() => runPlanAction('fault-next')}>
        <span className="plan-fault-hatch" aria-hidden="true" />
        <span className="plan-fault-line">{faultsLine(faults)}</span>
      </Button>
      <span className="plan-fault-words">
        {f ? `${shown! + 1} of ${faults.length}: ${faultSentence(lamp, f)}` : 'Press to see each (k).'}
      </span>
    </div>
  )
}
