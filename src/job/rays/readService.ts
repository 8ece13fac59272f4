// Ray files read away from the page's thread: ten million rays take seconds.
import type { Handlers } from '../../engine/workers/calls.ts'
import { type LoadedRays, loadEmitterRays } from './emitterRays.ts'

/** What is read of the user's file. */
interface Readable {
  name: string
  size: number
  slice(from: number, to: number): { arrayBuffer(): Promise<ArrayBuffer> }
}

export type ReadRayCalls = {
  /** Events: the share of the file that has been read. */
  load: { args: { file: Readable }; event: number; result: LoadedRays }
}

/** Of a file at once: no more of it is in memory. */
const PIECE = 1 << 22
/** An event for each step of so much: a page has no use for more. */
const EVENT_SHARE = 0.01

export function makeReadRayService(): Handlers<ReadRayCalls> {
  return {
    async load({ file }, { signal, emit }) {
      let heard = 0
      async function* pieces() {
        for (let at = 0; at < file.size; at += PIECE)
          yield new Uint8Array(await file.slice(at, Math.min(file.size, at + PIECE)).arrayBuffer())
      }
      try {
        return await loadEmitterRays(
          { name: file.name, chunks: pieces(), size: file.size },
          (share) => {
            if (share < 1 && share - heard < EVENT_SHARE) return
            heard = share
            emit(share)
          },
          signal,
        )
      } catch (error) {
        // What a browser says when the file has gone or has changed meanwhile.
        if (error instanceof DOMException) return { ok: false, why: 'The file could not be read from the disk.' }
        throw error
      }
    },
  }
}
