import { type FirstLookAnswer, handedWith, type ReadingHand } from './firstSheet.ts'

/** A worker of the browser. */
export function browserReadingHand(): ReadingHand {
  const worker = new Worker(new URL('./firstSheetWorker.ts', import.meta.url), { type: 'module' })
  return {
    post: (order) => worker.postMessage(order, handedWith(order.first.shares)),
    onAnswer(take) {
      worker.onmessage = (event: MessageEvent<FirstLookAnswer | null>) => take(event.data)
    },
    onBroken(take) {
      worker.onerror = (event) => take(`A reading worker stopped: ${event.message || 'it could not start'}.`)
    },
    close: () => worker.terminate(),
  }
}
