import { Worker } from 'node:worker_threads'
import type { TraceWorker } from './pool.ts'
import { transferList } from './protocol.ts'

/** A worker thread of Node; its module is bundled beside the program's own. */
export function nodeTraceWorker(): TraceWorker {
  const worker = new Worker(new URL('./traceWorker.node.mjs', import.meta.url))
  return {
    post: (order) => worker.postMessage(order, transferList(order) as ArrayBuffer[]),
    onAnswer(take) {
      worker.on('message', take)
      worker.on('error', (error) => {
        throw error
      })
    },
    close: () => void worker.terminate(),
  }
}
