// The order of assembly: step by step which parts, what is checked, and the cautions that belong there.

import { useDeferredValue, useMemo } from 'react'
import { assemblyOrder } from '../../bill/assemblyOrder.ts'
import { partsList } from '../../bill/partsList.ts'
import type { PowerUpItem } from '../../electrothermal/result.ts'
import { assemblyWords } from '../../report/assembly.ts'
import { usePower } from '../store/power.ts'
import { useDesign } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { ScrolledPane } from './ScrolledPane.tsx'

const NONE: readonly PowerUpItem[] = []

export function AssemblyPane() {
  const lamp = useDeferredValue(useDesign((s) => s.lamp))
  const powerUp = usePower((s) => s.report?.powerUp ?? NONE)
  const system = useUnitSystem()
  const steps = useMemo(() => {
    const list = partsList(lamp)
    return assemblyWords(lamp, assemblyOrder(lamp, list), list, powerUp, system)
  }, [lamp, powerUp, system])
  return (
    <ScrolledPane className="workshop-pane workshop-steps" label="Order of assembly">
      <ol>
        {steps.map((step) => (
          <li key={step.title}>
            <h3>{step.title}</h3>
            <p>{step.text}</p>
            {step.cautions.map((caution) => (
              <p key={caution} className="workshop-caution">
                {caution}
              </p>
            ))}
            {step.parts.length > 0 && <p className="workshop-quiet">{step.parts.join(' · ')}</p>}
            <ul>
              {step.checks.map((check) => (
                <li key={check.text} data-done={check.done || undefined}>
                  {check.text}
                  {check.done && <span className="ui-hidden"> Done.</span>}
                </li>
              ))}
            </ul>
          </li>
        ))}
      </ol>
    </ScrolledPane>
  )
}
