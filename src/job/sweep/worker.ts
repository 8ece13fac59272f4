/// <reference lib="webworker" />
// A browser's worker that traces the cells of a sweep.
import { type CellOrder, carryOutCell } from './protocol.ts'

self.onmessage = async (event: MessageEvent<CellOrder>) => self.postMessage(await carryOutCell(event.data))
