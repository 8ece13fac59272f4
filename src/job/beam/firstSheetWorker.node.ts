// A worker thread of Node that reads first looks.
import { parentPort } from 'node:worker_threads'
import { type FirstSheetRequest, partialsTransferList, readFirstSheet } from './firstSheet.ts'

parentPort?.on('message', (order: FirstSheetRequest) => {
  const answer = readFirstSheet(order)
  parentPort?.postMessage(answer, 'partials' in answer ? partialsTransferList(answer.partials) : [])
})
parentPort?.postMessage(null)
