import { browserPort } from '../../engine/workers/port.ts'
import { makeRestarting } from '../service/restarting.ts'
import { SUN_THREAD, type SunCalls, type SunClient } from './sunThread.ts'

/** A worker of the browser that reads directions of the sun. Until it has started, and where it ends, they are read by whoever asked. */
export const browserSunThread = (): SunClient =>
  makeRestarting<SunCalls>(
    () => browserPort(new Worker(new URL('./sunWorker.ts', import.meta.url), { type: 'module' }), SUN_THREAD),
    { name: SUN_THREAD, work: 'read' },
  )
