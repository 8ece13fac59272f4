// A worker thread of Node that reads first looks.
import { parentPort } from 'node:worker_threads'
import { type FirstLookOrder, handedWith, readFirstLook } from './firstSheet.ts'

parentPort?.on('message', (order: FirstLookOrder) => {
  const answer = readFirstLook(order)
  parentPort?.postMessage(answer, 'shares' in answer ? handedWith(answer.shares) : [])
})
parentPort?.postMessage(null)
