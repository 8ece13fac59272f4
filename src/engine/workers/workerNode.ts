import { Worker } from 'node:worker_threads'
import type { TraceWorker } from './pool.ts'
import { threadPort } from './port.ts'

/** A tracing worker thread of Node; its module is bundled beside the program's own. */
export const nodeTraceWorker = (): TraceWorker =>
  threadPort(new Worker(new URL('./traceWorker.node.mjs', import.meta.url)) as never, 'A tracing worker')
