// The worker that reads a run over built lamps: hundreds of resamples of every figure would hold up the page.
import { type CallReply, type CallRequest, serveCalls } from '../../engine/workers/calls.ts'
import type { WorkerSide } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { type Spread, spreadOf } from './result.ts'
import type { BuiltReading } from './run.ts'

export type SpreadCalls = {
  spread: { args: { lamp: Lamp; readings: readonly BuiltReading[] }; event: never; result: Spread }
}

export const serveSpreads = (side: WorkerSide<CallRequest, CallReply>): void =>
  serveCalls<SpreadCalls>(side, { spread: async ({ lamp, readings }) => spreadOf(lamp, readings) })
