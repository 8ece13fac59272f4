import { deflateSync } from 'node:zlib'
import { writePng } from '../../src/files/png.ts'

/** A PNG picture of one grey pixel. */
export function pixel(): Uint8Array<ArrayBuffer> {
  const head = new Uint8Array([0, 0, 0, 1, 0, 0, 0, 1, 8, 0, 0, 0, 0])
  return writePng([
    { type: 'IHDR', data: head },
    { type: 'IDAT', data: new Uint8Array(deflateSync(new Uint8Array([0, 128]))) },
    { type: 'IEND', data: new Uint8Array(0) },
  ])
}
