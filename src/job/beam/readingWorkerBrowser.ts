import { browserPort } from '../../engine/workers/port.ts'
import { makeRestarting } from '../service/restarting.ts'
import type { FirstSheetCalls, FirstSheetClient } from './firstSheet.ts'

const NAME = 'The reader of first sheets'

/** A worker of the browser that reads first sheets. Where it ends, its sheet is traced anew; until it has been started again, others read. */
export const browserReadingWorker = (): FirstSheetClient =>
  makeRestarting<FirstSheetCalls>(
    () => browserPort(new Worker(new URL('./firstSheetWorker.ts', import.meta.url), { type: 'module' }), NAME),
    { name: NAME, work: 'read' },
  )
