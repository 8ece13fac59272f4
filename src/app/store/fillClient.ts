// fillFace for the page: in a worker of its own, which starts with the first fill; in this thread where there are no workers.
import { type Remote, wrap } from 'comlink'
import type { Lamp } from '../../lamp/schema.ts'
import { type FillOptions, type FillResult, fillFace } from '../../layout/fill.ts'
import type { Filler } from './fillWorker.ts'

let filler: Remote<Filler> | null = null

export async function fillAside(lamp: Lamp, options: FillOptions): Promise<FillResult> {
  if (typeof Worker === 'undefined') return fillFace(lamp, options)
  filler ??= wrap<Filler>(new Worker(new URL('./fillWorker.ts', import.meta.url), { type: 'module' }))
  return filler.fillFace(lamp, options)
}
