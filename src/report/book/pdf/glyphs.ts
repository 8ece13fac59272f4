// Text as the embedded fonts can show it.
import { printable } from '../../../lamp/printable.ts'

/** What the fonts lack, and what stands for it. */
const INSTEAD: Readonly<Record<string, string>> = {
  '⌀': 'Ø',
  '\u2009': '\u00a0',
  '\u202f': '\u00a0',
  '\u2007': '\u00a0',
  '⁻': '−',
  '⁰': '^0',
  '⁴': '^4',
  '⁵': '^5',
  '⁶': '^6',
  '⁷': '^7',
  '⁸': '^8',
  '⁹': '^9',
  '∝': '~',
  '✓': '√',
  '⇒': '→',
}

/**
 * Without control and direction characters; line ends become spaces; a character that the font lacks becomes the nearest one that it has, and
 * “?” where there is none: the attached document has it unchanged.
 */
export function showable(text: string, has: (codePoint: number) => boolean): string {
  const plain = printable(text.replace(/[\n\t]/g, ' '))
  const shown = (c: string) => [...c].every((p) => has(p.codePointAt(0) ?? 0))
  let out = ''
  for (const c of plain.normalize('NFC')) {
    const instead = INSTEAD[c]
    const base = c.normalize('NFKD').replace(/\p{M}/gu, '')
    out += shown(c) ? c : instead !== undefined && shown(instead) ? instead : base !== '' && shown(base) ? base : '?'
  }
  return out
}
