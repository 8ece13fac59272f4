// An outline from a drawing, DXF or SVG, by its content.
import { readDxfChains } from './dxfOutline.ts'
import { chooseOutline, type Outline } from './outlineLoops.ts'
import { readSvgChains, type XmlElement } from './svgOutline.ts'

export const OUTLINE_MOST_CHARS = 20_000_000

export type ReadOutline = { ok: true; outline: Outline } | { ok: false; why: string }

/** `parseXml`: the platform's parser; null for what is no XML. */
export async function readOutline(text: string, parseXml: (text: string) => XmlElement | null): Promise<ReadOutline> {
  if (text.length > OUTLINE_MOST_CHARS)
    return { ok: false, why: `The drawing has ${text.length} characters; at most ${OUTLINE_MOST_CHARS}.` }
  if (/^\s*</.test(text)) {
    const root = parseXml(text)
    return root
      ? chooseOutline(await readSvgChains(root))
      : { ok: false, why: 'The SVG is broken: its XML can’t be read.' }
  }
  return chooseOutline(readDxfChains(text))
}
