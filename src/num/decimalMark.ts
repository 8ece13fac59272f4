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
const QUOTED = '“[^”]*”'
const KEPT = [
  String.raw`\b(?:sections?|clauses?|tables?|figures?|chapters?|annex|equations?|eqs?\.|version) [A-Z]?\d+(?:\.\d+)+`,
  String.raw`(?:https?|arxiv|doi):\S*`,
  String.raw`10\.\d{4,}\/\S+`,
  String.raw`[a-z_][\w-]*\d\.\d[\w.-]*(?<!\b[mr]\d+\.\d+)`,
  String.raw`\d+\.\d+\.[\w.]*\w`,
]
const NUMBER = new RegExp(String.raw`(${KEPT.join('|')})|(\d)\.(?=\d)`, 'gi')

/** Words that somebody chose, and that keep the points that they were written with. */
export interface OwnWords {
  /** Finds them and what stands in quotes; what it finds is a piece of its own in `split`. */
  readonly pieces: RegExp
}

/** A name that reads as a quantity: a mode “1.5 A” must not keep the point of every current of 1.5 A. */
const QUANTITY = /^[−+-]?[\d., ]*\d(?:\s?(?:°C?|%|[a-zµΩ]{1,4}[²³]?(?:\/[a-z]+[²³]?)?))?$/iu

const escaped = (text: string): string => text.replace(/[\\^$.*+?()[\]{}|/]/g, '\\$&')

const inHtml = (name: string): string =>
  name.replace(/[&<>"']/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' })[c] ?? c)

/** A lamp may have thousands of boards, B1.1 to B40.50: as names of files have it, `KEPT` keeps them. */
const isKeptAnyway = (name: string): boolean => /^(?![mr]\d)[a-z_][\w-]*\d\.\d[\w.-]*$/i.test(name)

/** Of names without a number with a point there is nothing to keep. As text and as the text of a page have them. */
export function ownWords(names: Iterable<string>): OwnWords {
  const all = new Set([...names].filter((n) => /\d\.\d/.test(n) && !isKeptAnyway(n)).flatMap((n) => [n, inHtml(n)]))
  const longestFirst = [...all].sort((a, b) => b.length - a.length)
  const patterns = longestFirst.map((n) =>
    QUANTITY.test(n)
      ? `^${escaped(n)}(?=$|:)`
      : String.raw`(?<![\p{L}\p{N}]|[.,]\d*)${escaped(n)}(?![\p{L}\p{N}]|[.,]\d)`,
  )
  return { pieces: new RegExp(`(${[QUOTED, ...patterns].join('|')})`, 'giu') }
}

export const NO_WORDS: OwnWords = ownWords([])

/** The text with this mark in its numbers; a list of such numbers is then parted by semicolons. Done twice it is the same. */
export function withDecimalMark(text: string, mark: DecimalMark, own: () => OwnWords = () => NO_WORDS): string {
  if (mark === '.' || !text.includes('.')) return text
  let isChanged = false
  const turned = (piece: string): string =>
    piece.replace(NUMBER, (_, verbatim: string | undefined, digit: string) => {
      if (verbatim !== undefined) return verbatim
      isChanged = true
      return `${digit},`
    })
  // Every other piece is one that is kept.
  const pieces = text.split(own().pieces).map((piece, i) => (i % 2 === 1 ? piece : turned(piece)))
  if (!isChanged) return text
  return pieces.map((piece, i) => (i % 2 === 1 ? piece : piece.replace(/(\d), (?=[−+-]?\d)/g, '$1; '))).join('')
}

/** The same in the text of a page; tags, styles and the text of elements with translate="no" are left as they are. */
export const htmlWithDecimalMark = (html: string, mark: DecimalMark, own?: () => OwnWords): string =>
  mark === '.'
    ? html
    : html.replace(
        /(<style[\s>].*?<\/style>|<script[\s>].*?<\/script>|<[^>]* translate="no"[^>]*>[^<]*|<[^>]*>)|[^<]+/gs,
        (text, tag: string | undefined) => (tag === undefined ? withDecimalMark(text, mark, own) : text),
      )
