/// <reference lib="webworker" />
// A tracing worker in the browser.
import { handedOver, makeWorkshop, type Order } from './protocol.ts'

const carryOut = makeWorkshop()
self.onmessage = (event: MessageEvent<Order>) => {
  const answer = carryOut(event.data)
  if (answer) self.postMessage(answer, { transfer: handedOver(answer) })
}
