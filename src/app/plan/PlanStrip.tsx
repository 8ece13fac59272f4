// The figures of the selection below the drawing. They are edited in the parts column, one press away.

import { memo } from 'react'
import { requestPart } from '../store/openParts.ts'
import { usePlan } from '../store/plan.ts'
import { useDesign, useView } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { DrawStrip } from './DrawStrip.tsx'
import { runPlanAction } from './gestures/pointer.ts'
import { cornerText } from './model/corners.ts'
import { editedOutline } from './model/outlines.ts'
import { chosenFacts } from './model/words.ts'

export function PlanStrip() {
  const boards = useView((s) => s.boards)
  const emitters = useView((s) => s.emitters)
  const system = useUnitSystem()
  const facts = useDesign((s) => chosenFacts(s.lamp, boards, emitters, system).join('\n'))
  const corner = usePlan((s) => s.corner)
  const refused = usePlan((s) => s.refused)
  const draws = usePlan((s) => s.tool === 'draw')
  const cornerWords = useDesign((s) => cornerText(s.lamp, editedOutline(s.lamp, boards), corner, system))
  const ofBoard = useDesign((s) => editedOutline(s.lamp, boards).typeId !== null)
  if (draws) return <DrawStrip />
  if (refused ?? cornerWords)
    return (
      <div className="plan-strip">
        <span className={refused ? 'plan-refused' : 'plan-told'} title={refused ?? cornerWords}>
          {refused ?? cornerWords}
        </span>
        <Button
          hint="Opens the corners as a table in the parts column"
          onPress={() => requestPart(ofBoard ? 'boards' : 'face', true)}
        >
          Type…
        </Button>
      </div>
    )
  if (!facts)
    return (
      <div className="plan-strip">
        <span className="plan-quiet">Click a board, drag a box, or press n to select one. ? shows the keys.</span>
      </div>
    )
  return (
    <div className="plan-strip">
      <p className="plan-facts">
        {facts.split('\n').map((fact) => (
          <span key={fact.replace(/[\d.−]+/g, '')}>{fact}</span>
        ))}
      </p>
      <FactButtons hasBoards={boards.length > 0} />
    </div>
  )
}

/** Figures beside them change with every move. */
const FactButtons = memo(({ hasBoards }: { hasBoards: boolean }) => (
  <>
    {hasBoards && (
      <Button
        hint="A group of its own for these boards: driver, relay, on and off by mode (key g)"
        onPress={() => runPlanAction('group')}
      >
        New group
      </Button>
    )}
    <Button hint="Opens its fields in the parts column" onPress={() => requestPart('selection', true)}>
      Type…
    </Button>
  </>
))
