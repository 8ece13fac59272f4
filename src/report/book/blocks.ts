// Short ways to write blocks.

import type { Finding } from '../../checks/finding.ts'
import { bySeverity } from '../../checks/finding.ts'
import { remarkWords } from '../wiringTable.ts'
import type { Block, Table } from './model.ts'

export const heading = (text: string): Block => ({ kind: 'heading', text })
export const paragraph = (text: string, quiet = false): Block => ({ kind: 'paragraph', text, quiet })
export const list = (items: readonly string[]): Block => ({ kind: 'list', items })
export const table = (rows: readonly (readonly string[])[], how: Omit<Table, 'kind' | 'rows'> = {}): Table => ({
  kind: 'table',
  rows,
  ...how,
})
export const values = (rows: readonly (readonly [string, string])[]): Block => ({ kind: 'values', rows })

/** Paragraphs of the sentences that are there. */
export const paragraphs = (sentences: readonly string[]): Block[] =>
  sentences.filter((s) => s !== '').map((s) => paragraph(s))

/** Worst first, each with why and what to do. */
export const findingBlocks = (findings: readonly Finding[]): Block[] =>
  findings.length === 0
    ? [paragraph('Nothing found.')]
    : bySeverity(findings).map((f) => ({
        kind: 'note',
        severity: f.severity,
        title: remarkWords(f),
        lines: [f.why, `Do: ${f.cure}`],
      }))
