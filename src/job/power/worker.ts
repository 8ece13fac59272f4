/// <reference lib="webworker" />
// A browser's worker that runs heat and power; of orders that come while it works, the newest counts.
import { carryOutPower, type PowerOrder } from './order.ts'

let newest = 0

/** Lets the orders that have come meanwhile be heard. */
const breathe = () => new Promise<void>((next) => setTimeout(next, 0))

self.onmessage = async (event: MessageEvent<PowerOrder>) => {
  const { turn } = event.data
  newest = turn
  const answer = await carryOutPower(event.data, () => turn !== newest, breathe)
  if (answer && turn === newest) self.postMessage(answer)
}
