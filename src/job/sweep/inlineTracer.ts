// Traces a cell in this thread. Apart from run.ts: the page's side of a sweep leaves tracing to its workers and doesn't load it.
import { traceCell } from './cell.ts'
import type { CellTracer } from './run.ts'

export const inlineTracer = (): CellTracer => ({ trace: traceCell, again() {}, close() {} })
