import type { TraceWorker } from './pool.ts'
import { browserPort } from './port.ts'

/** A tracing worker in the browser. */
export const browserTraceWorker = (): TraceWorker =>
  browserPort(new Worker(new URL('./traceWorker.ts', import.meta.url), { type: 'module' }), 'A tracing worker')
