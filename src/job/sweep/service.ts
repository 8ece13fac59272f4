// One worker of a sweep: it traces cells, one after another.
import { type CallReply, type CallRequest, makeClient, serveCalls } from '../../engine/workers/calls.ts'
import type { WorkerPort, WorkerSide } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { type CellOptions, type CellReading, traceCell } from './cell.ts'
import type { CellTracer } from './run.ts'

export type CellCalls = {
  trace: { args: { lamp: Lamp; options: CellOptions }; event: never; result: CellReading | null }
}

export const serveCells = (side: WorkerSide<CallRequest, CallReply>): void =>
  serveCalls<CellCalls>(side, { trace: ({ lamp, options }) => traceCell(lamp, options) })

/** A cell is traced in one go, without answering anything meanwhile: only after so long it counts as hung. */
const SILENT_AFTER_MS = 600_000

export function cellTracer(port: WorkerPort<CallRequest, CallReply>, name: string): CellTracer {
  const client = makeClient<CellCalls>(port, name, SILENT_AFTER_MS)
  return { trace: (lamp, options) => client.call('trace', { lamp, options }), close: client.close }
}
