// The page's side of solids: a worker that starts with the first call.
import { type Client, makeClient } from '../../engine/workers/calls.ts'
import { browserPort } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { PartName } from '../../solids/parts.ts'
import type { SolidCalls } from './service.ts'

const NAME = 'The worker that makes solids'
let client: Client<SolidCalls> | null = null

/** Rejects when the worker dies; the next call starts another. */
export async function solidsInWorker<M extends keyof SolidCalls & string>(
  method: M,
  args: { lamp: Lamp; name: PartName },
  signal?: AbortSignal,
): Promise<SolidCalls[M]['result']> {
  client ??= makeClient<SolidCalls>(
    browserPort(new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }), NAME),
    NAME,
  )
  try {
    return await client.call(method, args, { signal })
  } catch (error) {
    if (!client?.alive()) {
      client?.close()
      client = null
    }
    throw error
  }
}
