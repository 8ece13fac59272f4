// Calls to one worker of a sweep. What it does is in serveCells.ts: this side doesn't load the tracing.
import { type CallReply, type CallRequest, makeClient } from '../../engine/workers/calls.ts'
import type { WorkerPort } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeRestarting, type Trouble } from '../service/restarting.ts'
import type { CellOptions, CellReading } from './cell.ts'
import type { CellTracer } from './run.ts'

export type CellCalls = {
  trace: { args: { lamp: Lamp; options: CellOptions }; event: never; result: CellReading | null }
}

/** A cell is traced in one go, without answering anything meanwhile: only after so long it counts as hung. */
const SILENT_AFTER_MS = 600_000

/** A thread of the command line: when it ends, so does the sweep. */
export function cellTracer(port: WorkerPort<CallRequest, CallReply>, name: string): CellTracer {
  const client = makeClient<CellCalls>(port, name, SILENT_AFTER_MS)
  return { trace: (lamp, options) => client.call('trace', { lamp, options }), again() {}, close: client.close }
}

/** A worker of the page: when it ends, it is started again and its cell is traced anew. */
export function restartingTracer(
  open: () => WorkerPort<CallRequest, CallReply>,
  name: string,
  onTrouble: (trouble: Trouble) => void,
): CellTracer {
  const client = makeRestarting<CellCalls>(open, { name, work: 'trace', silentAfterMs: SILENT_AFTER_MS, onTrouble })
  return {
    trace: (lamp, options) => client.call('trace', { lamp, options }),
    again: client.again,
    close: client.close,
  }
}
