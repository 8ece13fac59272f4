import type { Severity } from '../../checks/finding.ts'

/** Our own icons: rays meeting in a point; an open frame with a bar; a drafting leader. Each has its word beside it. */
const MARKS: Record<Severity, string> = {
  severe: 'M1.5 1.5 8 11M8 .5V11M14.5 1.5 8 11M5.6 12.6a2.4 2.4 0 1 0 4.8 0a2.4 2.4 0 1 0-4.8 0Z',
  warning: 'M8 1.2 14.8 8 8 14.8 1.2 8ZM8 5v6',
  note: 'M2 13.5 6.5 5H14M.8 13.5a1.2 1.2 0 1 0 2.4 0a1.2 1.2 0 1 0-2.4 0Z',
}

export function SeverityMark({ severity }: { severity: Severity }) {
  return (
    <svg className="sheet-mark" data-severity={severity} viewBox="0 0 16 16" width="14" height="14" aria-hidden="true">
      <path d={MARKS[severity]} fill="none" stroke="currentColor" strokeWidth="1.6" strokeLinecap="round" />
      {severity === 'severe' && <circle cx="8" cy="12.6" r="2.4" fill="currentColor" />}
    </svg>
  )
}
