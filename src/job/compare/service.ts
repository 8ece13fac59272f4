// One worker of a comparison: one lamp after another, each whole, so that what it says never depends on the others.
import { type CallReply, type CallRequest, makeClient, serveCalls } from '../../engine/workers/calls.ts'
import type { WorkerPort, WorkerSide } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeRestarting, type Trouble } from '../service/restarting.ts'
import type { CellOptions } from '../sweep/cell.ts'
import { columnDanger, columnHeat, columnParts, traceColumnLight } from './column.ts'
import type { Column, ColumnSoFar } from './result.ts'
import type { ColumnReader } from './run.ts'

type CompareCalls = {
  read: { args: { lamp: Lamp; options: CellOptions }; event: ColumnSoFar; result: Column }
}

export const serveColumns = (side: WorkerSide<CallRequest, CallReply>): void =>
  serveCalls<CompareCalls>(side, { read: ({ lamp, options }, { emit }) => readColumn(lamp, options, emit) })

export async function readColumn(
  lamp: Lamp,
  options: CellOptions,
  onPart: (part: ColumnSoFar) => void,
): Promise<Column> {
  const parts = columnParts(lamp)
  const { light, ledger } = await traceColumnLight(lamp, options)
  onPart({ light, parts })
  const heat = columnHeat(lamp, ledger)
  onPart({ light, parts, heat })
  return { light, parts, heat, danger: await columnDanger(lamp, options.seed) }
}

/** A lamp is read in one go, without answering anything meanwhile: only after so long it counts as hung. */
const SILENT_AFTER_MS = 600_000

/** A thread of the command line: when it ends, so does the comparison. */
export function threadReader(port: WorkerPort<CallRequest, CallReply>, name: string): ColumnReader {
  const client = makeClient<CompareCalls>(port, name, SILENT_AFTER_MS)
  return {
    read: (lamp, options, onPart) => client.call('read', { lamp, options }, { onEvent: onPart }),
    close: client.close,
  }
}

/** A worker of the page: when it ends, it is started again and its lamp is read anew. */
export function restartingReader(
  open: () => WorkerPort<CallRequest, CallReply>,
  name: string,
  onTrouble: (trouble: Trouble) => void,
): ColumnReader {
  const client = makeRestarting<CompareCalls>(open, { name, work: 'read', silentAfterMs: SILENT_AFTER_MS, onTrouble })
  return {
    read: (lamp, options, onPart) => client.call('read', { lamp, options }, { onEvent: onPart }),
    close: client.close,
  }
}
