// Findings in the builder's units. The same list gives the same answer, so that what is drawn from it is drawn once.
import { type Finding, findingsIn } from '../../checks/finding.ts'
import type { UnitSystem } from './unitSystem.ts'

const inInches = new WeakMap<readonly object[], readonly Finding[]>()

/** As they come, findings are metric. */
export function shownFindings(findings: readonly Finding[], system: UnitSystem): readonly Finding[] {
  if (system === 'metric') return findings
  const known = inInches.get(findings)
  if (known) return known
  const shown = findingsIn(findings, 'inch')
  inInches.set(findings, shown)
  return shown
}
