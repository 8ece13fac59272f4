// The page's side of ray files: a worker for each file, which ends with it.
import { makeClient } from '../../engine/workers/calls.ts'
import { browserPort } from '../../engine/workers/port.ts'
import type { LoadedRays } from './emitterRays.ts'
import type { ReadRayCalls } from './readService.ts'

const NAME = 'The worker that reads ray files'

/** Rejects when the worker dies, and with `Cancelled` when the signal is aborted. */
export async function loadRaysInWorker(
  file: File,
  onShare: (share: number) => void,
  signal: AbortSignal,
): Promise<LoadedRays> {
  const client = makeClient<ReadRayCalls>(
    browserPort(new Worker(new URL('./readWorker.ts', import.meta.url), { type: 'module' }), NAME),
    NAME,
  )
  try {
    return await client.call('load', { file }, { signal, onEvent: onShare })
  } finally {
    client.close()
  }
}
