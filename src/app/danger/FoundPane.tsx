import type { Severity } from '../../checks/finding.ts'
import { markOld } from '../common/sameFinding.ts'
import { shownFindings } from '../common/shownFindings.ts'
import { useMissing } from '../store/missing.ts'
import { design } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import type { PaneProps } from './pane.ts'

const WORDS: Record<Severity, string> = { severe: 'Severe', warning: 'Warning', note: 'Note' }

/** The findings, with their remedies. */
export function FoundPane({ reading }: PaneProps) {
  const gone = useMissing((s) => s.danger !== null)
  const system = useUnitSystem()
  const findings = shownFindings(gone ? markOld(reading.findings) : reading.findings, system)
  return (
    <>
      {findings.length === 0 && !gone && (
        <p className="danger-quiet">No rule found anything. That is no proof that the lamp is safe.</p>
      )}
      <ul className="danger-found">
        {findings.map((f) => (
          <li key={`${f.rule} ${f.title}`} data-severity={f.severity}>
            <p className="danger-found-title">
              <span className="danger-severity">{WORDS[f.severity]}</span>
              {f.title}
            </p>
            <p>
              <b>Do:</b> {f.cure}
            </p>
            <details className="danger-why">
              <summary aria-label={`Why: ${f.title}`}>why</summary>
              {f.why}
            </details>
          </li>
        ))}
      </ul>
      <p className="danger-quiet">
        These stand beside the beam sheet’s own Dangers, which hold as well. “{design.lamp().name}” can be saved and
        printed as it is; the safety notice says what was found.
      </p>
    </>
  )
}
