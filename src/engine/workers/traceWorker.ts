/// <reference lib="webworker" />
// A tracing worker in the browser.
import { makeTaskRunner, transferList, type WorkerRequest } from './protocol.ts'

const carryOut = makeTaskRunner()
self.onmessage = (event: MessageEvent<WorkerRequest>) => {
  const answer = carryOut(event.data)
  if (answer) self.postMessage(answer, { transfer: transferList(answer) })
}
