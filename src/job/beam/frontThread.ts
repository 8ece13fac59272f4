// The settled search in front of the lamp by a worker of its own: it hangs on the exit rays alone, of which a run keeps no more than so many, so it
// begins while the rounds go on. Where there is no such thread, the one that orders the rays searches at the end, with the same bits.
import { type CallReply, type CallRequest, type Client, serveCalls } from '../../engine/workers/calls.ts'
import { makeNextTask } from '../../engine/workers/nextTask.ts'
import type { WorkerSide } from '../../engine/workers/port.ts'
import { type Front, type FrontOptions, searchFront } from '../../hazard/front.ts'
import { makeScheduler, type Scheduler, WorkerEnded } from '../../num/scheduler.ts'
import type { RayColumns } from '../../run/exits.ts'
import type { ReaderThread } from './readerThread.ts'

interface FrontRequest {
  rays: RayColumns
  options: FrontOptions
}
export type FrontCalls = { search: { args: FrontRequest; event: never; result: Front } }
export type FrontClient = Pick<Client<FrontCalls>, 'call' | 'alive' | 'close'>
export type FrontThread = ReaderThread<FrontClient>

export const FRONT_THREAD = 'The reader of what is in front'

/** Null where the thread doesn't run, or ends on the way. Rejects with `Cancelled`. */
export async function searchElsewhere(
  thread: FrontThread | undefined,
  request: () => FrontRequest,
  scheduler: Scheduler,
): Promise<Front | null> {
  const client = thread?.open()
  if (!client?.alive()) return null
  try {
    return await client.call('search', request(), { signal: scheduler.signal })
  } catch (error) {
    if (!(error instanceof WorkerEnded)) throw error
    return null
  }
}

/** The worker's side. A search that nobody waits for any more ends at its next slice. */
export function serveFront(side: WorkerSide<CallRequest, CallReply>): void {
  const nextTask = makeNextTask()
  serveCalls<FrontCalls>(side, {
    async search({ rays, options }, { signal }) {
      const scheduler = makeScheduler(signal, { nextTask })
      await scheduler.checkpoint() // it may have been cancelled while it waited behind another
      return scheduler.run(searchFront(rays, options))
    },
  })
}
