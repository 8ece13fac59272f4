import { Worker } from 'node:worker_threads'
import { makeClient } from '../../engine/workers/calls.ts'
import { threadPort } from '../../engine/workers/port.ts'
import { FRONT_THREAD, type FrontCalls, type FrontClient } from './frontThread.ts'

/** A worker thread of Node that searches in front of the lamp; its module is bundled beside the program's own. */
export const nodeFrontThread = (): FrontClient =>
  makeClient<FrontCalls>(
    threadPort(new Worker(new URL('./frontWorker.node.mjs', import.meta.url)) as never, FRONT_THREAD),
    FRONT_THREAD,
  )
