// Comma-separated values, RFC 4180 (2005): rows end in CR LF; a cell with a comma, a quote or a line break is quoted, and quotes in it are
// doubled. Numbers use a decimal point; where a spreadsheet reads the comma as one, they use it, and semicolons separate the cells.
// Own code: papaparse, which reads readings (src/readings), writes neither null as an empty cell nor a number with its reader's decimal mark.

import type { DecimalMark } from '../num/decimalMark.ts'

export type CsvCell = string | number | null

export function csvText(rows: readonly (readonly CsvCell[])[], decimal: DecimalMark = '.'): string {
  const separator = decimal === ',' ? ';' : ','
  return rows.map((row) => `${row.map((cell) => cellText(cell, decimal, separator)).join(separator)}\r\n`).join('')
}

function cellText(cell: CsvCell, decimal: DecimalMark, separator: string): string {
  if (cell === null) return ''
  if (typeof cell === 'number') return Number.isFinite(cell) ? String(cell).replace('.', decimal) : ''
  return cell.includes(separator) || /["\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell
}
