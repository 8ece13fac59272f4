/// <reference lib="webworker" />
import type { WorkerSide } from './port.ts'

/** The worker's own side in a browser's worker. */
export const selfSide = <Request, Reply>(): WorkerSide<Request, Reply> => ({
  onRequest(take) {
    self.onmessage = (event: MessageEvent<Request>) => take(event.data)
  },
  post: (reply, transfer = []) => self.postMessage(reply, { transfer }),
})
