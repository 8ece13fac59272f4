// The worst findings at the head of the sheet, a line each, so that none of them is out of view.

import { bySeverity } from '../../checks/finding.ts'
import { withKeys } from '../common/sameFinding.ts'
import { useSheet } from './contexts.ts'
import { SeverityMark } from './SeverityMark.tsx'
import { countFindings, SEVERITY_WORDS } from './words.ts'

const LINES = 4

export function WorstFindings({ onDanger }: { onDanger(index: number): void }) {
  const { sheet } = useSheet()
  const grave = bySeverity(sheet.findings).filter((f) => f.severity !== 'note')
  if (grave.length === 0) return null
  const left = grave.slice(LINES)
  return (
    <ul className="sheet-worst" aria-label="The worst findings">
      {withKeys(grave.slice(0, LINES)).map(([key, f], i) => (
        <li key={key} data-severity={f.severity}>
          <button type="button" title={f.title} onClick={() => onDanger(i)}>
            <SeverityMark severity={f.severity} />
            <span className="ui-hidden">{SEVERITY_WORDS[f.severity]}:</span>
            <span className="sheet-worst-text">{f.title}</span>
          </button>
        </li>
      ))}
      {left.length > 0 && (
        <li data-severity={left[0]!.severity}>
          <button type="button" onClick={() => onDanger(LINES)}>
            and {countFindings(left)} more
          </button>
        </li>
      )}
    </ul>
  )
}
