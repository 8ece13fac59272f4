import { parentPort } from 'node:worker_threads'
import type { WorkerSide } from './port.ts'

/** The worker's own side in a worker thread of Node. */
export const threadSide = <Request, Reply>(): WorkerSide<Request, Reply> => ({
  onRequest: (take) => void parentPort?.on('message', take),
  post: (reply, transfer = []) => parentPort?.postMessage(reply, transfer as ArrayBuffer[]),
})
