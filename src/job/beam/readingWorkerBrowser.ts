import { type FirstSheetReply, partialsTransferList, type ReadingWorker } from './firstSheet.ts'

/** A worker of the browser. */
export function browserReadingWorker(): ReadingWorker {
  const worker = new Worker(new URL('./firstSheetWorker.ts', import.meta.url), { type: 'module' })
  return {
    post: (order) => worker.postMessage(order, partialsTransferList(order.first.partials)),
    onAnswer(take) {
      worker.onmessage = (event: MessageEvent<FirstSheetReply | null>) => take(event.data)
    },
    onBroken(take) {
      worker.onerror = (event) => take(`A reading worker stopped: ${event.message || 'it could not start'}.`)
    },
    close: () => worker.terminate(),
  }
}
