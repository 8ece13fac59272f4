// A tracing worker on Node's worker threads.
import { parentPort } from 'node:worker_threads'
import { handedOver, makeWorkshop, type Order } from './protocol.ts'

const carryOut = makeWorkshop()
parentPort?.on('message', (order: Order) => {
  const answer = carryOut(order)
  if (answer) parentPort?.postMessage(answer, handedOver(answer) as ArrayBuffer[])
})
