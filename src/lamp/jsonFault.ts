// Where a text stops being JSON (RFC 8259), in line and column: what engines say of it differs, and often names neither.
import { printable } from './printable.ts'

type Awaited = 'value' | 'value or ]' | 'name or }' | 'name' | ':' | ', or ]' | ', or }' | 'end'

const WORDS: Record<Awaited, string> = {
  value: 'a value',
  'value or ]': 'a value or ]',
  'name or }': 'a name in double quotes or }',
  name: 'a name in double quotes',
  ':': 'a colon',
  ', or ]': 'a comma or ]',
  ', or }': 'a comma or }',
  end: 'nothing more',
}

const SPACE = /[ \t\n\r]*/y
/** One alternative, so that a long text takes no stack: without the closing quote where it breaks off. */
const STRING = /"[^"\\\p{Cc}]*(?:\\(?:["\\/bfnrt]|u[\da-fA-F]{4})[^"\\\p{Cc}]*)*/uy
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y
const WORD = /true|false|null/y

/** One sentence on the first fault of a text that `JSON.parse` refused, with its line and column, counted from 1. */
export function jsonFault(text: string): string {
  const { at, awaited } = firstFault(text)
  const before = text.slice(0, at).split(/\r\n|\n|\r/)
  const column = [...(before[before.length - 1] ?? '')].length + 1
  const next = text.codePointAt(at)
  return `The file is no JSON: line ${before.length}, column ${column}: expected ${awaited}, ${nextWords(next)}.`
}

function nextWords(code: number | undefined): string {
  if (code === undefined) return 'but the file ends'
  const shown = printable(String.fromCodePoint(code))
  return `not ${shown === '' ? `the character U+${code.toString(16).toUpperCase().padStart(4, '0')}` : shown}`
}

function firstFault(text: string): { at: number; awaited: string } {
  let at = 0
  const take = (token: RegExp): boolean => {
    token.lastIndex = at
    const found = token.exec(text)
    if (found) at += found[0].length
    return found !== null
  }
  /** Null once a whole text in quotes was taken; otherwise what is missing at `at`. */
  const takeString = (): string | null => {
    take(STRING)
    if (text[at] === '"') at++
    else return text[at] === '\\' ? 'a known escape' : 'the rest of a text in double quotes'
    return null
  }
  const open: ('[' | '{')[] = []
  let awaited: Awaited = 'value'
  const afterValue = (): Awaited => (open.length === 0 ? 'end' : open[open.length - 1] === '[' ? ', or ]' : ', or }')
  for (;;) {
    take(SPACE)
    const c = text[at]
    if (c === undefined) return { at, awaited: WORDS[awaited] }
    const closes = (c === ']' && awaited.endsWith(']')) || (c === '}' && awaited.endsWith('}'))
    if (closes) {
      at++
      open.pop()
      awaited = afterValue()
    } else if (awaited === ':' || awaited.startsWith(', ')) {
      if (c !== (awaited === ':' ? ':' : ',')) return { at, awaited: WORDS[awaited] }
      at++
      awaited = awaited === ', or }' ? 'name' : 'value'
    } else if (awaited === 'end') return { at, awaited: WORDS.end }
    else if (c === '"') {
      const missing = takeString()
      if (missing !== null) return { at, awaited: missing }
      awaited = awaited.startsWith('name') ? ':' : afterValue()
    } else if (awaited.startsWith('name')) return { at, awaited: WORDS[awaited] }
    else if (c === '[' || c === '{') {
      at++
      open.push(c)
      awaited = c === '[' ? 'value or ]' : 'name or }'
    } else if (take(NUMBER) || take(WORD)) awaited = afterValue()
    else return { at, awaited: WORDS[awaited] }
  }
}
