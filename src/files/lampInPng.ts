// The lamp's document in a picture of it: an iTXt chunk (PNG, third edition, W3C 2025, section 11.3.3.4) with the keyword "lamp".
import { type ReadLamp, readLampText } from '../lamp/read.ts'
import { inflateAtMost } from './inflate.ts'
import { LAMP_BYTES } from './lampBytes.ts'
import { type PngChunk, readPngChunks, writePng } from './png.ts'

const KEYWORD = 'lamp'

/** The picture with the document in it, in place of one that it had; as it is where it is no sound PNG. */
export function withLampText(png: Uint8Array<ArrayBuffer>, lampText: string): Uint8Array<ArrayBuffer> {
  const read = readPngChunks(png)
  if (!read.ok) return png
  const others = read.chunks.filter((c) => !isLampChunk(c))
  const end = others.findIndex((c) => c.type === 'IEND')
  return writePng(others.toSpliced(end, 0, { type: 'iTXt', data: textData(lampText) }))
}

/** Keyword, zero, not compressed, method 0, no language, no translated keyword; then the text in UTF-8. */
function textData(text: string): Uint8Array {
  const head = new TextEncoder().encode(`${KEYWORD}\0\0\0\0\0`)
  const body = new TextEncoder().encode(text)
  const data = new Uint8Array(head.length + body.length)
  data.set(head)
  data.set(body, head.length)
  return data
}

const isLampChunk = ({ type, data }: PngChunk): boolean =>
  type === 'iTXt' && `${KEYWORD}\0` === String.fromCharCode(...data.subarray(0, KEYWORD.length + 1))

/** The lamp out of a picture that this program saved; in words why there is none. */
export async function lampFromPng(bytes: Uint8Array): Promise<ReadLamp> {
  const read = readPngChunks(bytes)
  if (!read.ok) return { ok: false, why: [read.why] }
  const chunk = read.chunks.findLast(isLampChunk)
  if (!chunk) return { ok: false, why: ['The picture holds no lamp: only pictures that this program saves do.'] }
  const text = await textOf(chunk.data)
  return text === null ? { ok: false, why: ['The lamp in the picture is damaged.'] } : readLampText(text)
}

/** Another program may have compressed the text (flag 1, zlib). Null where it is no text, or far too long. */
async function textOf(data: Uint8Array): Promise<string | null> {
  const [flag, method] = [data[KEYWORD.length + 1], data[KEYWORD.length + 2]]
  const language = data.indexOf(0, KEYWORD.length + 3)
  const translated = language < 0 ? -1 : data.indexOf(0, language + 1)
  if (translated < 0 || method !== 0) return null
  const body = data.slice(translated + 1)
  try {
    const plain = flag === 1 ? await inflateAtMost(body, LAMP_BYTES) : body
    return plain && new TextDecoder('utf-8', { fatal: true }).decode(plain)
  } catch {
    return null
  }
}
