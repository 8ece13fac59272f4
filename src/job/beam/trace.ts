// From a lamp to its settled sheet, step by step: prepare (compile and pilot), engines, the beam's rounds with the backward estimates beside
// them, the sun, the variants. Every step publishes a sheet of what is known by then.
import { recycleRun } from '../../engine/partialTallies.ts'
import type { Pool } from '../../engine/workers/pool.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { Cancelled, makeScheduler } from '../../num/scheduler.ts'
import type { Run } from '../../run/types.ts'
import { type TraceSetup, traceBeam } from './beamRun.ts'
import { openEngines } from './engines.ts'
import { prepareTrace } from './prepare.ts'
import { makePublisher, newProgress } from './publish.ts'
import type { JobOptions, Sheet, SunAtTilt } from './sheet.ts'
import { traceSun } from './sun.ts'
import type { TraceContext } from './types.ts'
import { traceVariants } from './variants.ts'

/** The sun waits so long for the beam; until then the findings know it by geometry. Unwatched runs trace it last, for their clock's sake. */
const SUN_STARTS_AT = 1 << 18

/**
 * Trace a lamp to its settled sheet. `onSheet` gets every sheet on the way, the rough one first; the promise gives the last, or null when it was
 * cancelled. Rejects when a run is invalid (its ledger does not close) and with `NoDevice`.
 */
export async function traceLamp(
  pool: Pool,
  lamp: Lamp,
  options: JobOptions,
  onSheet: (sheet: Sheet) => void,
  context: TraceContext = {},
): Promise<Sheet | null> {
  const { scheduler = makeScheduler() } = context
  const prepared = prepareTrace(lamp, options, pool.threads)
  const engines = openEngines(prepared, options)
  const progress = newProgress()
  const publisher = makePublisher(prepared, engines, progress, scheduler, onSheet)
  const setup: TraceSetup = { pool, prepared, engines, options, progress, publisher, scheduler, context }
  const sun = makeSunStep(setup)
  let run: Run | null = null
  try {
    run = await traceBeam(setup, (now) => {
      run = now
      context.onProgress?.(now.rays)
      if (!options.onlyLast && now.rays >= SUN_STARTS_AT) sun.start()
    })
    if (!options.onlyLast || !options.background) await publisher.publish(run, true)
    if (options.background) {
      progress.sun = await sun.start()
      await publisher.publish(run, true)
      if (options.variants !== false && prepared.scene.emittedW > 0) await addVariants(setup, run)
    }
    return publisher.last()
  } catch (error) {
    if (error instanceof Cancelled || scheduler.signal.aborted) return null
    throw error
  } finally {
    engines.close()
    if (run) recycleRun(run)
  }
}

/** The sun's trace, started once: beside the beam's rounds or after them. */
function makeSunStep({ pool, prepared, options, progress, scheduler }: TraceSetup): {
  start(): Promise<SunAtTilt[]> | null
} {
  let started: Promise<SunAtTilt[]> | null = null
  return {
    start() {
      if (started || !options.background) return started
      started = traceSun(pool, prepared.scene, prepared.lamp, scheduler, options).then((sun) => {
        progress.sun = sun
        return sun
      })
      started.catch(() => {}) // awaited after the beam; a cancellation may come first
      return started
    },
  }
}

/** The effect of each part: the lamp as designed beside the lamps without it. */
async function addVariants({ pool, prepared, options, progress, publisher, scheduler }: TraceSetup, run: Run) {
  for await (const list of traceVariants(pool, prepared.lamp, scheduler, options)) {
    await scheduler.checkpoint()
    progress.variants = [{ name: 'as designed', figures: publisher.last()!.figures, rays: run.rays }, ...list]
    if (!options.onlyLast) await publisher.publish(run, true)
  }
  if (options.onlyLast && progress.variants.length > 0) await publisher.publish(run, true)
}
