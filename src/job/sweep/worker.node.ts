// A worker thread of Node that traces the cells of a sweep.
import { parentPort } from 'node:worker_threads'
import { type CellOrder, carryOutCell } from './protocol.ts'

parentPort?.on('message', async (order: CellOrder) => parentPort?.postMessage(await carryOutCell(order)))
