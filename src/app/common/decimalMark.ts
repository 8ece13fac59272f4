// The decimal mark that this page shows, and that the builder's spreadsheet reads: that of the browser's language.
import {
  type DecimalMark,
  decimalMarkOf,
  htmlWithDecimalMark,
  NO_WORDS,
  type OwnWords,
  ownWords,
  withDecimalMark,
} from '../../num/decimalMark.ts'

/** A page has one language as long as it is open; without a page (tests) it is the point. */
export const pageMark: DecimalMark = typeof document === 'undefined' ? '.' : decimalMarkOf(navigator.language)

/** Documents, and single names. */
type Named = readonly (object | string)[]
let named: () => Named = () => []
let last: { named: Named; words: OwnWords } = { named: [], words: NO_WORDS }

/**
 * From here on, every name in these documents keeps its points wherever it is shown. The function
 * must be cheap and give the same objects as long as nothing has changed.
 */
export function keepWordsOf(documents: () => Named): void {
  named = documents
}

/** Of the documents as they are now. */
export function ownWordsNow(): OwnWords {
  const now = named()
  if (now.length !== last.named.length || now.some((d, i) => d !== last.named[i]))
    last = { named: now, words: ownWords(now.flatMap((d) => wordsIn(d))) }
  return last.words
}

/** An edit keeps most objects of a document: their texts were collected before. */
const wordsOf = new WeakMap<object, readonly string[]>()

/** Texts with a number with a point, but for notes: those are sentences. */
function wordsIn(value: unknown): readonly string[] {
  if (typeof value === 'string') return value.length < 4000 && /\d\.\d/.test(value) ? [value] : []
  if (value === null || typeof value !== 'object' || ArrayBuffer.isView(value)) return []
  const found = wordsOf.get(value) ?? Object.entries(value).flatMap(([key, v]) => (key === 'note' ? [] : wordsIn(v)))
  wordsOf.set(value, found)
  return found
}

/** Text that is written to the page without an element: onto a canvas, into a box that changes with every move. */
export const shownText = (text: string): string => withDecimalMark(text, pageMark, ownWordsNow)

export const shownHtml = (html: string): string => htmlWithDecimalMark(html, pageMark, ownWordsNow)

/** Colours, which are no words. */
const KEPT = new Set(['stroke', 'fill', 'colour'])

/** Every text in a structure of arrays and plain objects; everything else stays the same object. */
export function shownTexts<T>(value: T, mark: DecimalMark = pageMark): T {
  if (mark === '.') return value
  const visit = (v: unknown): unknown => {
    if (typeof v === 'string') return withDecimalMark(v, mark, ownWordsNow)
    if (Array.isArray(v)) return v.map(visit)
    if (v === null || typeof v !== 'object' || Object.getPrototypeOf(v) !== Object.prototype) return v
    return Object.fromEntries(Object.entries(v).map(([key, entry]) => [key, KEPT.has(key) ? entry : visit(entry)]))
  }
  return visit(value) as T
}
