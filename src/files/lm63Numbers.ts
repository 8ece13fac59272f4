// Reads the numbers of a photometric file in sequence; commas, spaces and line ends separate them (LM-63-2002, "delimiter"). After the
// first error, which is recorded, every number reads as 0, so that the caller needs to check only once.

interface Expected {
  fits(value: number): boolean
  /** Description of valid values: "a whole number from 1 to 3601". */
  expected: string
  /** Meaning of certain invalid values. */
  known?: Readonly<Record<number, string>>
}

export interface Numbers {
  next(field: string | (() => string), want?: Expected): number
  /** Checks that nothing follows the candela values. */
  end(count: number): void
  refuse(why: string): void
  fault(): string | null
}

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/
/** Separators: blanks, commas, line ends, and the end marks of old disk files. */
const PARTS = new Set([' ', ',', '\t', '\n', '\r', '\f', '\v', '\0', '\x1a', '\xa0'])
const MAX_DIGITS = 60

export const truncate = (text: string): string => (text.length > 40 ? `${text.slice(0, 40)}…` : text)

export function readNumbers(text: string, from: number, firstLine: number): Numbers {
  let at = from
  let line = firstLine
  let why: string | null = null
  const refuse = (fault: string) => {
    why ??= fault
    return 0
  }

  /** Moves to the next word; false at the end of the file. */
  function skip(): boolean {
    for (; at < text.length && PARTS.has(text[at]!); at++) {
      if (text[at] === '\n' || (text[at] === '\r' && text[at + 1] !== '\n')) line++
    }
    return at < text.length
  }

  function word(): string {
    const start = at
    while (at < text.length && !PARTS.has(text[at]!)) at++
    return text.slice(start, Math.min(at, start + MAX_DIGITS + 1))
  }

  return {
    next(field, want) {
      if (why !== null) return 0
      const name = () => (typeof field === 'string' ? field : field())
      if (!skip()) return refuse(`The file ends before the ${name()}; expected ${want?.expected ?? 'a number'}.`)
      const here = line
      const token = word()
      const value = token.length <= MAX_DIGITS && NUMBER.test(token) ? Number(token) : Number.NaN
      if (!Number.isFinite(value)) {
        return refuse(
          `line ${here}, ${name()}: "${truncate(token)}" does not fit; expected ${want?.expected ?? 'a number'}.`,
        )
      }
      if (want && !want.fits(value)) {
        const meaning = want.known?.[value]
        return refuse(
          `line ${here}, ${name()}: ${token} does not fit${meaning ? ` (${meaning})` : ''}; expected ${want.expected}.`,
        )
      }
      return value
    },
    end(count) {
      if (why !== null || !skip()) return
      const here = line
      refuse(
        `line ${here}: "${truncate(word())}" stands after the last candela value; expected the end of the file after ${count} of them.`,
      )
    },
    refuse,
    fault: () => why,
  }
}
