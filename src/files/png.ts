// Chunks of a PNG file (Portable Network Graphics, third edition, W3C 2025): found, checked, and one put in.
// Own code, because packages for PNG decode its picture, and here one text goes in or comes out.

export interface PngChunk {
  type: string
  data: Uint8Array
}

/** Section 5.2. */
const SIGNATURE = [137, 80, 78, 71, 13, 10, 26, 10] as const

export const isPng = (bytes: Uint8Array): boolean => SIGNATURE.every((b, i) => bytes[i] === b)

export type ReadChunks = { ok: true; chunks: PngChunk[] } | { ok: false; why: string }

/** All chunks in their order; a reason where one is cut off or its check sum (section 5.3) is not that of its contents. */
export function readPngChunks(bytes: Uint8Array): ReadChunks {
  if (!isPng(bytes)) return { ok: false, why: 'It is no PNG picture.' }
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const chunks: PngChunk[] = []
  for (let at: number = SIGNATURE.length; at < bytes.length; ) {
    const length = at + 12 <= bytes.length ? view.getUint32(at) : Number.POSITIVE_INFINITY
    if (at + 12 + length > bytes.length) return { ok: false, why: 'The picture is cut off.' }
    const type = String.fromCharCode(...bytes.subarray(at + 4, at + 8))
    if (view.getUint32(at + 8 + length) !== crc32(bytes.subarray(at + 4, at + 8 + length)))
      return { ok: false, why: `The picture is damaged: the check sum of its ${type} chunk is wrong.` }
    chunks.push({ type, data: bytes.subarray(at + 8, at + 8 + length) })
    if (type === 'IEND') return { ok: true, chunks }
    at += 12 + length
  }
  return { ok: false, why: 'The picture is cut off.' }
}

/** The bytes of a file with these chunks. */
export function writePng(chunks: readonly PngChunk[]): Uint8Array<ArrayBuffer> {
  const size = chunks.reduce((sum, c) => sum + 12 + c.data.length, SIGNATURE.length as number)
  const bytes = new Uint8Array(size)
  const view = new DataView(bytes.buffer)
  bytes.set(SIGNATURE)
  let at: number = SIGNATURE.length
  for (const { type, data } of chunks) {
    view.setUint32(at, data.length)
    for (let i = 0; i < 4; i++) bytes[at + 4 + i] = type.charCodeAt(i)
    bytes.set(data, at + 8)
    view.setUint32(at + 8 + data.length, crc32(bytes.subarray(at + 4, at + 8 + data.length)))
    at += 12 + data.length
  }
  return bytes
}

/** ISO 3309, as annex D of the specification has it: polynomial 0xEDB88320, begun and ended with all bits turned. */
export function crc32(bytes: Uint8Array): number {
  let crc = 0xffffffff
  for (const byte of bytes) crc = (TABLE[(crc ^ byte) & 0xff] ?? 0) ^ (crc >>> 8)
  return (crc ^ 0xffffffff) >>> 0
}

const TABLE = Uint32Array.from({ length: 256 }, (_, i) => {
  let c = i
  for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1
  return c
})
