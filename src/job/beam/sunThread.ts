// Directions of the sun read by a worker of its own, so that the thread that orders the rays is free to read the rest of the sheet. It keeps nothing
// from one reading to the next: what a reading takes of those before comes with it.
import { type CallReply, type CallRequest, type Client, serveCalls } from '../../engine/workers/calls.ts'
import { makeNextTask } from '../../engine/workers/nextTask.ts'
import type { WorkerSide } from '../../engine/workers/port.ts'
import { makeScheduler } from '../../num/scheduler.ts'
import { makeSegmentsRoom } from '../../run/segments.ts'
import { makeReaderThread, type ReaderThread } from './readerThread.ts'
import { readSunDirection, type SunRead, type SunReadRequest } from './sunReading.ts'

/** The recorded rays are transferred, and don't come back. */
export type SunCalls = { read: { args: SunReadRequest; event: never; result: SunRead } }
export type SunClient = Pick<Client<SunCalls>, 'call' | 'alive' | 'close'>

export const SUN_THREAD = 'The reader of the sun'

/** A lamp out of the sun needs none. */
export type SunThread = ReaderThread<SunClient>

export const makeSunThread = makeReaderThread<SunClient>

/** The worker's side. A reading that nobody waits for any more ends at its next slice. */
export function serveSun(side: WorkerSide<CallRequest, CallReply>): void {
  const nextTask = makeNextTask()
  const room = makeSegmentsRoom()
  serveCalls<SunCalls>(side, {
    async read(request, { signal }) {
      const scheduler = makeScheduler(signal, { nextTask })
      await scheduler.checkpoint() // it may have been cancelled while it waited behind another
      return readSunDirection(request, scheduler, room)
    },
  })
}
