import { browserPort } from '../../engine/workers/port.ts'
import { makeRestarting } from '../service/restarting.ts'
import { FRONT_THREAD, type FrontCalls, type FrontClient } from './frontThread.ts'

/** A worker of the browser that searches in front of the lamp. Until it has started, and where it ends, whoever asked searches. */
export const browserFrontThread = (): FrontClient =>
  makeRestarting<FrontCalls>(
    () => browserPort(new Worker(new URL('./frontWorker.ts', import.meta.url), { type: 'module' }), FRONT_THREAD),
    { name: FRONT_THREAD, work: 'search' },
  )
