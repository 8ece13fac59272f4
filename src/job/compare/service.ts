// One worker of a comparison: one lamp after another, each whole, so that what it says never depends on the others.
import { type CallReply, type CallRequest, type Client, makeClient, serveCalls } from '../../engine/workers/calls.ts'
import type { WorkerPort, WorkerSide } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { DangerStage } from '../danger/result.ts'
import { makeRestarting, type Trouble } from '../service/restarting.ts'
import type { CellOptions } from '../sweep/cell.ts'
import { columnDanger, columnHeat, columnParts, traceColumnLight } from './column.ts'
import type { ColumnDanger, ColumnHeat, ColumnLight, LitColumn } from './result.ts'
import type { ColumnReader } from './run.ts'

type CompareCalls = {
  light: { args: { lamp: Lamp; options: CellOptions }; event: never; result: LitColumn }
  heat: { args: { lamp: Lamp; ledger: ColumnLight['ledger'] }; event: never; result: ColumnHeat }
  danger: {
    args: { lamp: Lamp; options: { seed: number; rough: boolean } }
    event: { stage: DangerStage; share: number }
    result: ColumnDanger
  }
}

export const serveColumns = (side: WorkerSide<CallRequest, CallReply>): void =>
  serveCalls<CompareCalls>(side, {
    light: ({ lamp, options }) => inlineReader.light(lamp, options),
    heat: ({ lamp, ledger }) => inlineReader.heat(lamp, ledger),
    danger: ({ lamp, options }, { emit }) =>
      inlineReader.danger(lamp, options, (stage, share) => emit({ stage, share })),
  })

/** In this very thread. */
export const inlineReader: ColumnReader = {
  light: async (lamp, options) => ({ parts: columnParts(lamp), light: await traceColumnLight(lamp, options) }),
  heat: async (lamp, ledger) => columnHeat(lamp, ledger),
  danger: columnDanger,
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

const callsOf = ({ call }: Pick<Client<CompareCalls>, 'call'>): Omit<ColumnReader, 'close'> => ({
  light: (lamp, options) => call('light', { lamp, options }),
  heat: (lamp, ledger) => call('heat', { lamp, ledger }),
  danger: (lamp, options, onStage) =>
    call('danger', { lamp, options }, { onEvent: ({ stage, share }) => onStage(stage, share) }),
})
