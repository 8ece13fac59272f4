// Text on a terminal: columns and wrapping. Numbers are in src/report/numbers.ts, the same for the book.
export { duration, fixed, short, shortUp, significant, whole, withError } from '../report/numbers.ts'

/** Pads columns to their widest cell; `right` lists the right-aligned ones. */
export function columns(rows: readonly (readonly string[])[], right: readonly number[] = []): string[] {
  const widths: number[] = []
  for (const row of rows) for (const [i, cell] of row.entries()) widths[i] = Math.max(widths[i] ?? 0, [...cell].length)
  return rows.map((row) =>
    row
      .map((cell, i) => {
        const space = ' '.repeat(widths[i]! - [...cell].length)
        return right.includes(i) ? space + cell : cell + space
      })
      .join('  ')
      .trimEnd(),
  )
}

/** Wraps text at spaces to lines of at most `width`; later lines start with `indent`. A number stays with its unit. */
export function wrapped(text: string, width: number, indent: string): string {
  const lines: string[] = []
  let line = ''
  for (const word of text.replace(/(\d) (?=\S{1,5}(\s|[.,;:)]|$))/g, '$1\u00a0').split(/[ \n\t]+/)) {
    if (line !== '' && line.length + 1 + word.length > width - indent.length) {
      lines.push(line)
      line = word
    } else line = line === '' ? word : `${line} ${word}`
  }
  lines.push(line)
  return lines.join(`\n${indent}`).replaceAll('\u00a0', ' ')
}
