// The page's side of filling a face: a worker that starts with the first fill; this thread where there are no workers.
import { type Client, makeClient } from '../../engine/workers/calls.ts'
import { browserPort } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { type FillOptions, type FillResult, fillFace } from '../../layout/fill.ts'
import type { FillCalls } from './service.ts'

const NAME = 'The worker that fills the face'
let client: Client<FillCalls> | null = null

/** Rejects when the worker dies; the next call starts another. */
export async function fillInWorker(lamp: Lamp, options: FillOptions): Promise<FillResult> {
  if (typeof Worker === 'undefined') return fillFace(lamp, options)
  client ??= makeClient<FillCalls>(
    browserPort(new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }), NAME),
    NAME,
  )
  try {
    return await client.call('fill', { lamp, options })
  } catch (error) {
    client?.close()
    client = null
    throw error
  }
}
