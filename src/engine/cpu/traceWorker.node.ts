// A tracing worker on Node's worker threads.
import { parentPort } from 'node:worker_threads'
import { makeWorkshop, type Order } from './protocol.ts'

const carryOut = makeWorkshop()
parentPort?.on('message', (order: Order) => {
  const answer = carryOut(order)
  if (answer) parentPort?.postMessage(answer, [answer.tally.buffer as ArrayBuffer, answer.exits.buffer as ArrayBuffer])
})
