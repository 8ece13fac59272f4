// The worker that reads a run over built lamps: hundreds of resamples of every figure would hold up the page. It keeps what it was sent: the readings of
// thousands of lamps, sent whole each time, would too.
import { type CallReply, type CallRequest, type Handlers, serveCalls } from '../../engine/workers/calls.ts'
import type { WorkerSide } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { type Spread, spreadOf } from './result.ts'
import type { BuiltReading } from './run.ts'

export type SpreadCalls = {
  /** More readings of a run, the first of them in place `from`; how many of them it has now. */
  take: { args: { run: number; from: number; readings: readonly BuiltReading[] }; event: never; result: number }
  /** Of the first `count`; null where it has fewer, as after a restart. */
  spread: { args: { lamp: Lamp; run: number; count: number }; event: never; result: Spread | null }
}

export function makeSpreadService(): Handlers<SpreadCalls> {
  let held: { run: number; readings: BuiltReading[] } = { run: 0, readings: [] }
  return {
    async take({ run, from, readings }) {
      if (run !== held.run) held = { run, readings: [] }
      if (from === held.readings.length) held.readings.push(...readings)
      return held.readings.length
    },
    spread: async ({ lamp, run, count }) =>
      run === held.run && count <= held.readings.length ? spreadOf(lamp, held.readings.slice(0, count)) : null,
  }
}

export const serveSpreads = (side: WorkerSide<CallRequest, CallReply>): void =>
  serveCalls<SpreadCalls>(side, makeSpreadService())

/** Readings sent at a time: about a millisecond of the page's thread. */
const AT_ONCE = 64

type Call = <K extends keyof SpreadCalls>(name: K, args: SpreadCalls[K]['args']) => Promise<SpreadCalls[K]['result']>

/** The page's side: sends what the worker hasn't, then asks. A list that begins with the same reading is the same run, grown. */
export function makeSpreadReader(call: Call): (lamp: Lamp, readings: readonly BuiltReading[]) => Promise<Spread> {
  let known: { run: number; first: BuiltReading | undefined; sent: number } = { run: 0, first: undefined, sent: 0 }
  return async (lamp, readings) => {
    const [first] = readings
    if (first !== known.first || readings.length < known.sent) known = { run: known.run + 1, first, sent: 0 }
    const of = known
    for (;;) {
      while (of.sent < readings.length) {
        const part = readings.slice(of.sent, of.sent + AT_ONCE)
        of.sent = await call('take', { run: of.run, from: of.sent, readings: part })
      }
      const spread = await call('spread', { lamp, run: of.run, count: readings.length })
      if (spread) return spread
      of.sent = 0
    }
  }
}
