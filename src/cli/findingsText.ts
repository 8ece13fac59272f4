import { bySeverity, type Finding, type Severity } from '../checks/finding.ts'
import { wrapped } from './format.ts'
import { stripControls } from './io.ts'

const WORD: Record<Severity, string> = { severe: 'SEVERE', warning: 'Warning', note: 'Note' }
const WIDTH = 96
const INDENT = ' '.repeat(11)

/** Worst first. */
export function findingsText(findings: readonly Finding[]): string {
  if (findings.length === 0) return '  Nothing found.'
  return bySeverity(findings)
    .map((f) => {
      const cell = (text: string) => wrapped(stripControls(text), WIDTH, INDENT)
      return `  ${WORD[f.severity].padEnd(7)}  ${cell(f.title)}\n${INDENT}${cell(f.why)}\n${INDENT}${cell(`Do: ${f.cure}`)}`
    })
    .join('\n')
}
