import { Worker } from 'node:worker_threads'
import { makeClient } from '../../engine/workers/calls.ts'
import { threadPort } from '../../engine/workers/port.ts'
import type { FirstSheetClient } from './firstSheet.ts'

const NAME = 'The reader of first sheets'

/** A worker thread of Node that reads first sheets; its module is bundled beside the program's own. */
export const nodeReadingWorker = (): FirstSheetClient =>
  makeClient(threadPort(new Worker(new URL('./firstSheetWorker.node.mjs', import.meta.url)) as never, NAME), NAME)
