// A tracing worker on Node's worker threads.
import { parentPort } from 'node:worker_threads'
import { makeTaskRunner, transferList, type WorkerRequest } from './protocol.ts'

const carryOut = makeTaskRunner()
parentPort?.on('message', (order: WorkerRequest) => {
  const answer = carryOut(order)
  if (answer) parentPort?.postMessage(answer, transferList(answer) as ArrayBuffer[])
})
