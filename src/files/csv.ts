// Comma-separated values, RFC 4180 (2005): rows end in CR LF; a cell with a comma, a quote or a line break is quoted, and quotes in it are
// doubled. Numbers use a decimal point, whatever the locale.
// Own code, because only writing is needed: a package would bring a parser that nothing here uses.

export type CsvCell = string | number | null

export const csvText = (rows: readonly (readonly CsvCell[])[]): string =>
  rows.map((row) => `${row.map(cellText).join(',')}\r\n`).join('')

function cellText(cell: CsvCell): string {
  if (cell === null) return ''
  if (typeof cell === 'number') return Number.isFinite(cell) ? String(cell) : ''
  return /[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell
}
