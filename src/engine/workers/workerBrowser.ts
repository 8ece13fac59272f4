import type { TraceWorker } from './pool.ts'
import { transferList, type WorkerReply } from './protocol.ts'

/** A worker of the browser. */
export function browserTraceWorker(): TraceWorker {
  const worker = new Worker(new URL('./traceWorker.ts', import.meta.url), { type: 'module' })
  return {
    post: (order) => worker.postMessage(order, transferList(order)),
    onAnswer(take) {
      worker.onmessage = (event: MessageEvent<WorkerReply>) => take(event.data)
    },
    close: () => worker.terminate(),
  }
}
