// One worker of a comparison: one lamp after another, each whole, so that what it says never depends on the others.
import { type CallReply, type CallRequest, serveCalls } from '../../engine/workers/calls.ts'
import type { WorkerSide } from '../../engine/workers/port.ts'
import type { CompareCalls } from './calls.ts'
import { columnDanger, columnHeat, columnParts, traceColumnLight } from './column.ts'
import type { ColumnReader } from './run.ts'

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
