import { Worker } from 'node:worker_threads'
import { partialsTransferList, type ReadingWorker } from './firstSheet.ts'

/** A worker thread of Node; its module is bundled beside the program's own. */
export function nodeReadingWorker(): ReadingWorker {
  const worker = new Worker(new URL('./firstSheetWorker.node.mjs', import.meta.url))
  return {
    post: (order) => worker.postMessage(order, partialsTransferList(order.first.partials)),
    onAnswer: (take) => void worker.on('message', take),
    onBroken: (take) => void worker.on('error', (error) => take(error.message)),
    close: () => void worker.terminate(),
  }
}
