// fillFace for the page: in a worker that starts with the first fill, or in this thread where there are no workers.
import { type Remote, wrap } from 'comlink'
import type { Lamp } from '../../lamp/schema.ts'
import { type FillOptions, type FillResult, fillFace } from '../../layout/fill.ts'
import type { FillWorker } from './fillWorker.ts'

let filler: Remote<FillWorker> | null = null

export async function fillInWorker(lamp: Lamp, options: FillOptions): Promise<FillResult> {
  if (typeof Worker === 'undefined') return fillFace(lamp, options)
  filler ??= wrap<FillWorker>(new Worker(new URL('./fillWorker.ts', import.meta.url), { type: 'module' }))
  return filler.fillFace(lamp, options)
}
