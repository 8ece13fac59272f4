import type { Hand } from './pool.ts'
import { type Answer, handedOver } from './protocol.ts'

/** A worker of the browser. */
export function browserHand(): Hand {
  const worker = new Worker(new URL('./traceWorker.ts', import.meta.url), { type: 'module' })
  return {
    post: (order) => worker.postMessage(order, handedOver(order)),
    onAnswer(take) {
      worker.onmessage = (event: MessageEvent<Answer>) => take(event.data)
    },
    close: () => worker.terminate(),
  }
}
