// The danger sheet in its own thread: a rough reading from few rays first, then the whole; one that only rejudges the same trace at once.
import type { Handlers } from '../../engine/workers/calls.ts'
import { makeNextTask } from '../../engine/workers/nextTask.ts'
import type { Pool } from '../../engine/workers/pool.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeScheduler } from '../../num/scheduler.ts'
import { rejudge } from './rejudge.ts'
import type { DangerReading, DangerStage } from './result.ts'
import { type DangerOptions, ROUGH_DANGER, traceDanger, WHOLE_DANGER } from './run.ts'
import { sameTrace } from './sameTrace.ts'

type DangerEvent = { kind: 'stage'; stage: DangerStage; share: number } | { kind: 'rough'; reading: DangerReading }
/** Null when the call was cancelled. */
export type DangerCalls = { read: { args: Lamp; event: DangerEvent; result: DangerReading | null } }

const SEED = 1
const ROUGH: DangerOptions = { ...ROUGH_DANGER, seed: SEED }
const WHOLE: DangerOptions = { ...WHOLE_DANGER, seed: SEED }

export function makeDangerService(pool: Pool): Handlers<DangerCalls> {
  const nextTask = makeNextTask()
  let last: { lamp: Lamp; reading: DangerReading } | null = null
  return {
    async read(lamp, { signal, emit }) {
      pool.clear()
      if (last && sameTrace(lamp, last.lamp)) return rejudge(last.reading, lamp)
      const scheduler = makeScheduler(signal, { nextTask })
      const readWith = (options: DangerOptions) =>
        traceDanger(pool, lamp, options, scheduler, (stage, share) => emit({ kind: 'stage', stage, share }))
      const rough = await readWith(ROUGH)
      if (!rough || signal.aborted) return null
      emit({ kind: 'rough', reading: rough })
      const reading = await readWith(WHOLE)
      if (!reading || signal.aborted) return null
      last = { lamp, reading }
      return reading
    },
  }
}
