import { Worker } from 'node:worker_threads'
import { handedWith, type ReadingHand } from './firstSheet.ts'

/** A worker thread of Node; its module is bundled beside the program's own. */
export function nodeReadingHand(): ReadingHand {
  const worker = new Worker(new URL('./firstSheetWorker.node.mjs', import.meta.url))
  return {
    post: (order) => worker.postMessage(order, handedWith(order.first.shares)),
    onAnswer: (take) => void worker.on('message', take),
    onBroken: (take) => void worker.on('error', (error) => take(error.message)),
    close: () => void worker.terminate(),
  }
}
