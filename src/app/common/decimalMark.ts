// The decimal mark that this page shows, and that the builder's spreadsheet reads: that of the browser's language.
import { type DecimalMark, decimalMarkOf, htmlWithDecimalMark, withDecimalMark } from '../../num/decimalMark.ts'

/** A page has one language as long as it is open; without a page (tests) it is the point. */
export const pageMark: DecimalMark = typeof document === 'undefined' ? '.' : decimalMarkOf(navigator.language)

/** Text that is written to the page without an element: onto a canvas, into a box that changes with every move. */
export const shownText = (text: string): string => withDecimalMark(text, pageMark)

export const shownHtml = (html: string): string => htmlWithDecimalMark(html, pageMark)

/** Colours, which are no words. */
const KEPT = new Set(['stroke', 'fill', 'colour'])

/** Every text in a structure of arrays and plain objects; everything else stays the same object. */
export function shownTexts<T>(value: T, mark: DecimalMark = pageMark): T {
  if (mark === '.') return value
  const visit = (v: unknown): unknown => {
    if (typeof v === 'string') return withDecimalMark(v, mark)
    if (Array.isArray(v)) return v.map(visit)
    if (v === null || typeof v !== 'object' || Object.getPrototypeOf(v) !== Object.prototype) return v
    return Object.fromEntries(Object.entries(v).map(([key, entry]) => [key, KEPT.has(key) ? entry : visit(entry)]))
  }
  return visit(value) as T
}
