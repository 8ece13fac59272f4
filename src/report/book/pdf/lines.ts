// Text into lines that fit.
import type { Measure } from './place.ts'

/** Broken at spaces, and within a word only where the word alone is too wide. At least one line. */
export function breakLines(text: string, width: number, size: number, bold: boolean, measure: Measure): string[] {
  const lines: string[] = []
  let line = ''
  for (const word of joined(text)
    .split(/[ \n\t]+/)
    .flatMap((w) => fitting(w, width, size, bold, measure))) {
    const longer = line === '' ? word : `${line} ${word}`
    if (line !== '' && measure(longer, size, bold) > width) {
      lines.push(line)
      line = word
    } else line = longer
  }
  return [...lines, line]
}

/** A number stays with its unit. */
export const joined = (text: string): string => text.replace(/(\d) (?=\S{1,5}(\s|[.,;:)]|$))/g, '$1\u00a0')

/** The word, or pieces of it. */
function fitting(word: string, width: number, size: number, bold: boolean, measure: Measure): string[] {
  if (measure(word, size, bold) <= width) return [word]
  const pieces: string[] = []
  let piece = ''
  for (const c of word) {
    if (piece !== '' && measure(piece + c, size, bold) > width) {
      pieces.push(piece)
      piece = c
    } else piece += c
  }
  return [...pieces, piece]
}

/** One line, ending in “…” where it does not fit. */
export function shortened(text: string, width: number, size: number, bold: boolean, measure: Measure): string {
  if (measure(text, size, bold) <= width) return text
  const chars = [...text]
  while (chars.length > 0 && measure(`${chars.join('')}…`, size, bold) > width) chars.pop()
  return `${chars.join('')}…`
}
