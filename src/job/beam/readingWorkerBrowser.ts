import { makeClient } from '../../engine/workers/calls.ts'
import { browserPort } from '../../engine/workers/port.ts'
import type { FirstSheetClient } from './firstSheet.ts'

const NAME = 'The reader of first sheets'

/** A worker of the browser that reads first sheets. */
export const browserReadingWorker = (): FirstSheetClient =>
  makeClient(browserPort(new Worker(new URL('./firstSheetWorker.ts', import.meta.url), { type: 'module' }), NAME), NAME)
