// A ray file (IES TM-25) of a lamp from a fresh trace, piece by piece.
import type { RayFileTexts } from '../../files/tm25.ts'
import { type FileChunk, type RayFileSums, rayFileChunks } from '../../files/tm25Write.ts'
import { LampFault } from '../../run/validate.ts'
import type { ExitTrace } from './run.ts'

export interface RayFileWords {
  texts: RayFileTexts
  /** ISO 8601 with the hour: 2026-11-30T12:00:00Z. */
  date: string
}

const NO_LIGHT = 'No light leaves the lamp: there is nothing to write.'

/** Hands its chunks to `write` to the end and gives their sums. Throws `LampFault` where no light leaves. `onShare`: of the rays, 0 to 1. */
export async function writeRayFile(
  trace: ExitTrace,
  words: RayFileWords,
  write: (chunks: AsyncIterable<FileChunk>) => Promise<void>,
  onShare: (share: number) => void,
): Promise<RayFileSums> {
  if (!(trace.emittedW > 0)) throw new LampFault(NO_LIGHT)
  let sums: RayFileSums | null = null
  let done = 0
  async function* watched() {
    for await (const block of trace.blocks) {
      onShare(++done / trace.blockCount)
      yield block
    }
  }
  const onEnd = (all: RayFileSums) => {
    if (all.rays === 0) throw new LampFault(NO_LIGHT)
    sums = all
  }
  await write(rayFileChunks({ ...words, wattsPerWeight: trace.emittedW / trace.rays }, watched(), onEnd))
  if (!sums) throw new Error('the ray file was not read to its end')
  return sums
}
