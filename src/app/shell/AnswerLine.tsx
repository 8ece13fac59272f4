// The line on top: what to do next, or what the lamp is. On screen and on paper.

import { answerLine } from '../../report/answerLine.ts'
import { useDanger } from '../store/danger.ts'
import { usePower } from '../store/power.ts'
import { useKnownFindings } from '../store/severe.ts'
import { useDesign, useResult } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'

export function AnswerLine() {
  const lamp = useDesign((s) => s.lamp)
  const sheet = useResult((s) => s.sheet)
  const stale = useResult((s) => s.marked)
  const modes = usePower((s) => s.report?.modes ?? null)
  const danger = useDanger((s) => s.reading)
  const { text, severe } = answerLine(
    { lamp, sheet, stale, findings: useKnownFindings(), modes, danger },
    useUnitSystem(),
  )
  return (
    <section className="shell-answer" aria-label="What to do next" data-severe={severe || undefined}>
      <p>{text}</p>
    </section>
  )
}
