/// <reference lib="webworker" />
// A tracing worker in the browser.
import { makeWorkshop, type Order } from './protocol.ts'

const carryOut = makeWorkshop()
self.onmessage = (event: MessageEvent<Order>) => {
  const answer = carryOut(event.data)
  if (answer) self.postMessage(answer, { transfer: [answer.tally.buffer, answer.exits.buffer] })
}
