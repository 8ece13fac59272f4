// A ray file for the page: traced and put together away from its thread.
import type { Handlers } from '../../engine/workers/calls.ts'
import type { Pool } from '../../engine/workers/pool.ts'
import type { FileChunk, RayFileSums } from '../../files/tm25Write.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { Cancelled } from '../../num/scheduler.ts'
import { type RayFileWords, writeRayFile } from './file.ts'
import { type ExitOptions, traceExits } from './run.ts'

export interface RayFileOrder extends ExitOptions {
  lamp: Lamp
  words: RayFileWords
}

export interface MadeRayFile {
  file: Blob
  sums: RayFileSums
  started: number
}

/** Events: the share of the rays that have been traced. */
export type RayCalls = { file: { args: RayFileOrder; event: number; result: MadeRayFile } }

export const makeRayService = (pool: Pool): Handlers<RayCalls> => ({
  async file({ lamp, words, ...options }, { signal, emit }) {
    const trace = traceExits(pool, lamp, options)
    let file = new Blob()
    const write = async (chunks: AsyncIterable<FileChunk>) => {
      file = await blobOf(chunks)
    }
    const sums = await writeRayFile(trace, words, write, (share) => {
      if (signal.aborted) throw new Cancelled()
      emit(share)
    })
    return { file, sums, started: trace.rays }
  },
})

/** So many bytes become one Blob, which the browser may keep on disk. */
const BLOB_BYTES = 1 << 24

/** Chunks in their order, but for the first, which the last one writes over. */
async function blobOf(chunks: AsyncIterable<FileChunk>): Promise<Blob> {
  let head: BlobPart = ''
  const blobs: Blob[] = []
  let waiting: BlobPart[] = []
  let bytesWaiting = 0
  const gather = () => {
    blobs.push(new Blob(waiting))
    waiting = []
    bytesWaiting = 0
  }
  for await (const { at, bytes } of chunks) {
    if (at === 0) {
      head = bytes
      continue
    }
    waiting.push(bytes)
    bytesWaiting += bytes.length
    if (bytesWaiting >= BLOB_BYTES) gather()
  }
  gather()
  return new Blob([head, ...blobs])
}
