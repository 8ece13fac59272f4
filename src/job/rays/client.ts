// The page's side of ray files: workers that start with a file and end with it.
import { makeClient } from '../../engine/workers/calls.ts'
import { browserPort } from '../../engine/workers/port.ts'
import type { MadeRayFile, RayCalls, RayFileOrder } from './service.ts'

const NAME = 'The worker that traces ray files'

/** Rejects with `Cancelled` once the signal is aborted. */
export async function rayFileInWorker(
  order: RayFileOrder,
  signal: AbortSignal,
  onShare: (share: number) => void,
): Promise<MadeRayFile> {
  const client = makeClient<RayCalls>(
    browserPort(new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }), NAME),
    NAME,
  )
  try {
    return await client.call('file', order, { signal, onEvent: onShare })
  } finally {
    client.close()
  }
}
