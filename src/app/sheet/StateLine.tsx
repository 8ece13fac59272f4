import { bySeverity, type Finding } from '../../checks/finding.ts'
import type { Sheet } from '../../job/beam/sheet.ts'
import type { TraceHolder } from '../common/traceHolders.ts'
import { EngineNote } from '../ui/EngineNote.tsx'
import { TryAgain } from '../ui/TryAgain.tsx'
import { SeverityMark } from './SeverityMark.tsx'
import {
  announcement,
  countFindings,
  knownTo,
  percent,
  progress,
  STATE_TITLES,
  type StateWord,
  stateSentence,
  traceFacts,
} from './words.ts'

const WANTED = [0.05, 0.02, 0.01, 0.005, 0.002]

interface Props {
  sheet: Sheet | null
  /** Null while nothing is known. */
  findings: readonly Finding[] | null
  state: StateWord
  heldBy: readonly TraceHolder[]
  why: string
  precision: number
  onPrecision: (share: number) => void
  onDangers: () => void
}

/** The sticky head of the column: the state of the trace and the number of dangers. */
export function StateLine({ sheet, findings, state, heldBy, why, precision, onPrecision, onDangers }: Props) {
  const now = knownTo(sheet)
  const isPrecise = sheet?.reached ? sheet.reached.share <= sheet.reached.wanted : null
  const worst = findings ? bySeverity(findings)[0]?.severity : undefined
  const options = WANTED.includes(precision) ? WANTED : [...WANTED, precision].sort((a, b) => b - a)
  return (
    <header className="sheet-state" data-state={state}>
      <div className="sheet-state-top">
        <h2>Beam sheet</h2>
        <span className="sheet-state-word">{STATE_TITLES[state]}</span>
        <span role="status" className="sheet-heard">
          {announcement(sheet, state)}
        </span>
        <label className="sheet-wanted">
          wanted{' '}
          <select
            value={precision}
            title="Wanted ± on the axial intensity, at 95 %"
            onChange={(e) => onPrecision(Number(e.target.value))}
          >
            {options.map((share) => (
              <option key={share} value={share}>
                ± {percent(share)}
              </option>
            ))}
          </select>
        </label>
      </div>
      <div className="sheet-progress" aria-hidden="true">
        <span style={{ transform: `scaleX(${state === 'old' ? 0 : progress(sheet, precision)})` }} />
      </div>
      <p className="sheet-state-why">
        {stateSentence(state, why, isPrecise, heldBy)}
        {now !== null && state !== 'old' && <span className="sheet-now">axis ± {percent(now)} now</span>}
        {state === 'failed' && <TryAgain part="beam" />}
      </p>
      {sheet && (
        <p className="sheet-facts">
          {traceFacts(sheet).map((fact) => (
            <span key={fact.replace(/[\d.\s]/g, '')}>{fact}</span>
          ))}
          <EngineNote engine={sheet.engine} why={sheet.engineWhy} threads={sheet.threads} />
        </p>
      )}
      {findings && (
        <button type="button" className="sheet-count" data-severity={worst ?? 'none'} onClick={onDangers}>
          {worst && <SeverityMark severity={worst} />}
          <b>Dangers:</b> {countFindings(findings)}
          {state !== 'settled' && <span>{state === 'rough' || state === 'old' ? 'rough' : 'unfinished'}</span>}
        </button>
      )}
    </header>
  )
}
