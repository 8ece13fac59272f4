// Writes a ray file of IES TM-25 (2013) as it is being traced: each ray's place, direction, W, wavelength and lm. The header's sums are known only
// when the last ray has come, so the header is handed out twice, the second time to be written over the first.
import { EXIT_STRIDE } from '../run/types.ts'
import {
  AT,
  BLOCK_BYTES,
  DATE_BYTES,
  FLAGS,
  MAGIC,
  putUtf32,
  type RayFileFlags,
  type RayFileTexts,
  TEXT_CHARS,
  TEXTS,
  VERSION_2013,
} from './tm25.ts'

/** Bytes and where in the file they go. */
export interface FileChunk {
  at: number
  bytes: Uint8Array<ArrayBuffer>
}

export interface RayFileFacts {
  /** ISO 8601 with the hour: 2026-11-30T12:00:00Z. */
  date: string
  texts: RayFileTexts
  /** What a radiant weight of 1 is worth, W: the emitters' watts over the rays that were started. */
  wattsPerWeight: number
}

export interface RayFileSums {
  rays: number
  radiantW: number
  luminousLm: number
  /** Shortest and longest wavelength among them. */
  fromNm: number
  toNm: number
}

const HEAD_BYTES = Math.ceil(AT.tablesFrom / BLOCK_BYTES) * BLOCK_BYTES
const RAY_COLUMNS = 9
const WRITTEN: RayFileFlags = {
  position: true,
  direction: true,
  radiantW: true,
  wavelengthNm: true,
  luminousLm: true,
  stokes: false,
  tristimulus: false,
  spectrum: false,
}

/**
 * A ray file from exit records (run/types.ts), block by block; a block of n rays takes 36 n bytes more. The last chunk is the header, complete.
 * `onEnd` hears the sums. Lumens of a ray are its watts times 683.002 V(λ) lm/W.
 */
export async function* rayFileChunks(
  facts: RayFileFacts,
  blocks: AsyncIterable<Float32Array> | Iterable<Float32Array>,
  onEnd: (sums: RayFileSums) => void = () => {},
): AsyncGenerator<FileChunk, void> {
  const sums = { rays: 0, radiantW: 0, luminousLm: 0, fromNm: Number.POSITIVE_INFINITY, toNm: 0 }
  yield { at: 0, bytes: headBytes(facts, sums) }
  for await (const rows of blocks) {
    if (rows.length === 0) continue
    const at = HEAD_BYTES + sums.rays * RAY_COLUMNS * 4
    yield { at, bytes: rayBytes(rows, facts.wattsPerWeight, sums) }
  }
  onEnd(sums)
  yield { at: 0, bytes: headBytes(facts, sums) }
}

/** From x y z dx dy dz, radiant weight, luminous weight, nm, in that order, to W, nm, lm behind the first six. */
function rayBytes(rows: Float32Array, wattsPerWeight: number, sums: RayFileSums): Uint8Array<ArrayBuffer> {
  const out = new Float32Array(rows.length)
  for (let at = 0; at < rows.length; at += EXIT_STRIDE) {
    for (let i = 0; i < 6; i++) out[at + i] = rows[at + i]!
    out[at + 6] = rows[at + 6]! * wattsPerWeight
    out[at + 7] = rows[at + 8]!
    out[at + 8] = rows[at + 7]! * wattsPerWeight
    sums.radiantW += out[at + 6]!
    sums.luminousLm += out[at + 8]!
    sums.fromNm = Math.min(sums.fromNm, out[at + 7]!)
    sums.toNm = Math.max(sums.toNm, out[at + 7]!)
  }
  sums.rays += rows.length / EXIT_STRIDE
  return littleEndian(out)
}

/** The bytes of single-precision numbers as the file wants them. */
function littleEndian(values: Float32Array<ArrayBuffer>): Uint8Array<ArrayBuffer> {
  if (HOST_IS_LITTLE) return new Uint8Array(values.buffer)
  const view = new DataView(new ArrayBuffer(values.byteLength))
  for (const [i, value] of values.entries()) view.setFloat32(4 * i, value, true)
  return new Uint8Array(view.buffer)
}
export const HOST_IS_LITTLE = new Uint8Array(new Uint32Array([1]).buffer)[0] === 1

function headBytes({ date, texts }: RayFileFacts, sums: RayFileSums): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(HEAD_BYTES)
  const view = new DataView(bytes.buffer)
  bytes.set(latin(MAGIC))
  view.setInt32(AT.version, VERSION_2013, true)
  // 0: a simulation; rays start at 0, unknown: the last surface they left.
  view.setFloat32(AT.luminousLm, sums.luminousLm, true)
  view.setFloat32(AT.radiantW, sums.radiantW, true)
  view.setBigUint64(AT.rays, BigInt(sums.rays), true)
  bytes.set(latin(date).subarray(0, DATE_BYTES), AT.date)
  // 2: a wavelength with each ray.
  view.setInt32(AT.spectral, 2, true)
  view.setFloat32(AT.singleNm, Number.NaN, true)
  view.setFloat32(AT.fromNm, sums.rays > 0 ? sums.fromNm : Number.NaN, true)
  view.setFloat32(AT.toNm, sums.rays > 0 ? sums.toNm : Number.NaN, true)
  for (const [i, flag] of FLAGS.entries()) view.setInt32(AT.flags + 4 * i, WRITTEN[flag] ? 1 : 0, true)
  for (const [i, name] of TEXTS.entries()) putUtf32(view, AT.texts + 4 * TEXT_CHARS * i, TEXT_CHARS, texts[name])
  return bytes
}

const latin = (text: string): Uint8Array => Uint8Array.from(text, (c) => c.charCodeAt(0) & 0x7f)
