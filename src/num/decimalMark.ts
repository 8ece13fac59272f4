// Numbers in a sentence with the decimal mark of its reader. Whatever is computed, kept in a file or written for a terminal has points; a page
// turns the whole of its text once, where it is shown.
// Own code, because formatters of numbers (Intl) write single numbers, and sentences come with theirs inside.

export type DecimalMark = '.' | ','

/** The mark of a language (BCP 47), by the browser's own table; other scripts' marks, and what is no language ("C" of a bare system), count as points. */
export function decimalMarkOf(language: string): DecimalMark {
  let known: string[]
  try {
    known = Intl.NumberFormat.supportedLocalesOf(language)
  } catch {
    return '.'
  }
  const parts = new Intl.NumberFormat(known[0] ?? 'en').formatToParts(1.5)
  return parts.some(({ type, value }) => type === 'decimal' && value === ',') ? ',' : '.'
}

/** What looks like a number and is none: words in quotes, numbers of sections and tables, addresses, names of files, versions. */
const KEPT = [
  '“[^”]*”',
  String.raw`\b(?:sections?|clauses?|tables?|figures?|chapters?|annex|equations?|eqs?\.|version) [A-Z]?\d+(?:\.\d+)+`,
  String.raw`(?:https?|arxiv|doi):\S*`,
  String.raw`10\.\d{4,}\/\S+`,
  String.raw`[a-z_][\w-]*\d\.\d[\w.-]*(?<!\b[mr]\d+\.\d+)`,
  String.raw`\d+\.\d+\.[\w.]*\w`,
]
const NUMBER = new RegExp(String.raw`(${KEPT.join('|')})|(\d)\.(?=\d)`, 'gi')

/** The text with this mark in its numbers; a list of such numbers is then parted by semicolons. Done twice it is the same. */
export function withDecimalMark(text: string, mark: DecimalMark): string {
  if (mark === '.' || !text.includes('.')) return text
  let isChanged = false
  const turned = text.replace(NUMBER, (_, verbatim: string | undefined, digit: string) => {
    if (verbatim !== undefined) return verbatim
    isChanged = true
    return `${digit},`
  })
  return isChanged ? turned.replace(/(\d), (?=[−+-]?\d)/g, '$1; ') : text
}

/** The same in the text of a page, its tags and styles left as they are. */
export const htmlWithDecimalMark = (html: string, mark: DecimalMark): string =>
  mark === '.'
    ? html
    : html.replace(
        /(<style[\s>].*?<\/style>|<script[\s>].*?<\/script>|<[^>]*>)|[^<]+/gs,
        (text, tag: string | undefined) => (tag === undefined ? withDecimalMark(text, mark) : text),
      )
