// A lamp or a sheet with severe findings is written too, but never silently: one line on stderr, wherever stdout goes.
import type { Finding } from '../checks/finding.ts'
import { stripControls } from './io.ts'

export function severeLine(findings: readonly Pick<Finding, 'severity' | 'title'>[], how = ''): string {
  const severe = findings.filter((f) => f.severity === 'severe')
  const [first] = severe
  if (!first) return ''
  const count = severe.length === 1 ? 'One severe finding' : `${severe.length} severe findings, the first`
  return `${count}: ${stripControls(first.title)}${how}\n`
}
