// The page's side of a run over built lamps: workers of the sweep trace them, one more reads what has come.
import type { CallReply, CallRequest } from '../../engine/workers/calls.ts'
import { browserPort } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeNewest } from '../../num/scheduler.ts'
import { makeRestarting, type Trouble } from '../service/restarting.ts'
import { browserTracer, workerCount } from '../sweep/client.ts'
import type { CellTracer } from '../sweep/run.ts'
import type { Spread } from './result.ts'
import { type BuiltReading, runTolerances, type ToleranceSettings } from './run.ts'
import { makeSpreadReader, type SpreadCalls } from './service.ts'

export interface ToleranceClient {
  /** Traces the lamps of `indices`; whatever was being traced before is cancelled. True when all have come, false when it was cancelled. */
  run(
    lamp: Lamp,
    settings: ToleranceSettings,
    indices: readonly number[],
    onReading: (reading: BuiltReading) => void,
  ): Promise<boolean>
  spread(lamp: Lamp, readings: readonly BuiltReading[]): Promise<Spread>
  stop(): void
  /** Starts workers at once, also those that are started no more by themselves. */
  again(): void
  dispose(): void
}

export function openToleranceClient(onTrouble: (trouble: Trouble) => void = () => {}): ToleranceClient {
  let tracers: CellTracer[] = []
  const reader = makeRestarting<SpreadCalls>(openReader, { name: READER, work: 'spread', onTrouble })
  const newest = makeNewest()
  return {
    async run(lamp, settings, indices, onReading) {
      const signal = newest.start()
      if (tracers.length === 0) tracers = Array.from({ length: workerCount() }, () => browserTracer(onTrouble))
      await runTolerances(tracers, lamp, settings, indices, onReading, signal)
      return !signal.aborted
    },
    spread: makeSpreadReader(reader.call),
    stop: newest.cancel,
    again() {
      for (const tracer of tracers) tracer.again()
      reader.again()
    },
    dispose() {
      newest.cancel()
      for (const tracer of tracers) tracer.close()
      tracers = []
      reader.close()
    },
  }
}

const READER = 'The reader of the tolerances'
const openReader = () =>
  browserPort<CallRequest, CallReply>(new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }), READER)
