// One worker of a sweep: it traces cells, one after another.
import { type CallReply, type CallRequest, serveCalls } from '../../engine/workers/calls.ts'
import type { WorkerSide } from '../../engine/workers/port.ts'
import { traceCell } from './cell.ts'
import type { CellCalls } from './service.ts'

export const serveCells = (side: WorkerSide<CallRequest, CallReply>): void =>
  serveCalls<CellCalls>(side, { trace: ({ lamp, options }) => traceCell(lamp, options) })
