// The layout's faults in one line; each press shows the next one.

import { memo } from 'react'
import { Button } from 'react-aria-components'
import { usePlan } from '../store/plan.ts'
import { useView } from '../store/stores.ts'
import { unitSystem, useUnitSystem } from '../store/unitSystem.ts'
import { runPlanAction } from './gestures/pointer.ts'
import { cannotBe, faultSentence, faultsLine } from './model/faults.ts'
import { choiceText } from './model/words.ts'
import { useSettledLamp } from './useSettledLamp.ts'

export function PlanFaults() {
  const system = useUnitSystem()
  const faults = usePlan((s) => s.faults)
  const shown = usePlan((s) => s.fault)
  const announcement = usePlan((s) => s.announcement)
  const lamp = useSettledLamp()
  const boards = useView((s) => s.boards)
  const emitters = useView((s) => s.emitters)
  if (faults.length === 0) {
    // The line above already shows the selection.
    const news = announcement === choiceText(lamp, boards, emitters, unitSystem()) ? '' : announcement
    return (
      <div className="plan-faults">
        <span className="plan-quiet">{news || faultsLine(faults)}</span>
      </div>
    )
  }
  const f = shown === null ? undefined : faults[shown]
  return (
    <div className="plan-faults" data-severe={faults.some(cannotBe) || undefined} data-shown={f ? true : undefined}>
      <FaultButton line={faultsLine(faults)} />
      <span className="plan-fault-words">
        {f ? `${shown! + 1} of ${faults.length}: ${faultSentence(lamp, f, system)}` : 'Press to see each (k).'}
      </span>
    </div>
  )
}

const FaultButton = memo(({ line }: { line: string }) => (
  <Button className="plan-fault-button" onPress={() => runPlanAction('fault-next')}>
    <span className="plan-fault-hatch" aria-hidden="true" />
    <span className="plan-fault-line">{line}</span>
  </Button>
))
