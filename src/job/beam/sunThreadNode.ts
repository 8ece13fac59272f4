import { Worker } from 'node:worker_threads'
import { makeClient } from '../../engine/workers/calls.ts'
import { threadPort } from '../../engine/workers/port.ts'
import { SUN_THREAD, type SunCalls, type SunClient } from './sunThread.ts'

/** A worker thread of Node that reads directions of the sun; its module is bundled beside the program's own. */
export const nodeSunThread = (): SunClient =>
  makeClient<SunCalls>(
    threadPort(new Worker(new URL('./sunWorker.node.mjs', import.meta.url)) as never, SUN_THREAD),
    SUN_THREAD,
  )
