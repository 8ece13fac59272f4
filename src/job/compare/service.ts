// One worker of a comparison: one lamp after another, each whole, so that what it says never depends on the others.
import { type CallReply, type CallRequest, type Client, makeClient, serveCalls } from '../../engine/workers/calls.ts'
import type { WorkerPort, WorkerSide } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeRestarting, type Trouble } from '../service/restarting.ts'
import type { CellOptions } from '../sweep/cell.ts'
import { columnDanger, columnHeat, columnParts, traceColumnLight } from './column.ts'
import type { Column, ColumnSoFar, LitColumn } from './result.ts'
import type { ColumnReader } from './run.ts'

type CompareCalls = {
  light: { args: { lamp: Lamp; options: CellOptions }; event: never; result: LitColumn }
  rest: { args: { lamp: Lamp; options: CellOptions; lit: LitColumn }; event: ColumnSoFar; result: Column }
}

export const serveColumns = (side: WorkerSide<CallRequest, CallReply>): void =>
  serveCalls<CompareCalls>(side, {
    light: ({ lamp, options }) => inlineReader.light(lamp, options),
    rest: ({ lamp, options, lit }, { emit }) => inlineReader.rest(lamp, options, lit, emit),
  })

/** In this very thread. */
export const inlineReader: ColumnReader = {
  light: async (lamp, options) => ({ parts: columnParts(lamp), light: await traceColumnLight(lamp, options) }),
  async rest(lamp, { seed }, lit, onPart) {
    const heat = columnHeat(lamp, lit.light)
    onPart({ ...lit, heat })
    return { ...lit, heat, danger: await columnDanger(lamp, seed) }
  },
  close() {},
}

/** A lamp is read in one go, without answering anything meanwhile: only after so long it counts as hung. */
const SILENT_AFTER_MS = 600_000

/** A thread of the command line: when it ends, so does the comparison. */
export function threadReader(port: WorkerPort<CallRequest, CallReply>, name: string): ColumnReader {
  const client = makeClient<CompareCalls>(port, name, SILENT_AFTER_MS)
  return {
    ...callsOf(client),
    close: client.close,
  }
}

/** A worker of the page: when it ends, it is started again and its lamp is read anew. */
export function restartingReader(
  open: () => WorkerPort<CallRequest, CallReply>,
  name: string,
  onTrouble: (trouble: Trouble) => void,
): ColumnReader {
  const client = makeRestarting<CompareCalls>(open, { name, work: 'light', silentAfterMs: SILENT_AFTER_MS, onTrouble })
  return {
    ...callsOf(client),
    close: client.close,
  }
}

const callsOf = ({ call }: Pick<Client<CompareCalls>, 'call'>): Pick<ColumnReader, 'light' | 'rest'> => ({
  light: (lamp, options) => call('light', { lamp, options }),
  rest: (lamp, options, lit, onPart) => call('rest', { lamp, options, lit }, { onEvent: onPart }),
})
