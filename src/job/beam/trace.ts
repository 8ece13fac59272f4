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

/** The sun waits for so many rays of the beam; until then the findings know it by geometry. Unwatched runs trace it last, for their clock's sake. */
const SUN_STARTS_AT = 1 << 18
/** The comparisons wait for so many rays or seconds, not for an axis that may never be known as well as is wanted. */
const VARIANTS_START_AT = 1 << 22
const VARIANTS_START_S = 8

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
  const progress = newProgress(options.precision)
  const publisher = makePublisher(prepared, engines, progress, scheduler, onSheet)
  const setup: TraceSetup = { pool, prepared, engines, options, progress, publisher, scheduler, context }
  const sun = makeSunStep(setup)
  const variants = makeVariantsStep(setup)
  let run: Run | null = null
  try {
    run = await traceBeam(setup, async (now) => {
      run = now
      context.onProgress?.(now.rays)
      if (options.onlyLast) return
      if (now.rays >= SUN_STARTS_AT) sun.start()
      if (now.rays >= VARIANTS_START_AT || progress.seconds >= VARIANTS_START_S)
        await variants.trace(now, () => publisher.publish(now, false))
    })
    if (options.background) {
      // The workers trace the lamps to compare with while this thread reads the sun's light and the settled dangers.
      const whole = run
      const sunTraced = sun.start()
      const publish = async () => options.onlyLast || (await publisher.publish(whole, false))
      const compared = variants.trace(whole, publish)
      await publish()
      const figures = await publisher.readSettled(whole)
      await sunTraced
      if (!variants.done()) await publish()
      await compared
      variants.compareWith(figures, whole)
    }
    return await publisher.publish(run, true)
  } catch (error) {
    if (error instanceof Cancelled || scheduler.signal.aborted) return null
    throw error
  } finally {
    await variants.ended()
    engines.close()
    if (run) recycleRun(run)
  }
}

/** The sun's trace, started once: beside the beam's rounds or after them. */
function makeSunStep({ pool, prepared, options, progress, scheduler, context }: TraceSetup): {
  start(): Promise<SunAtTilt[]> | null
} {
  let started: Promise<SunAtTilt[]> | null = null
  return {
    start() {
      if (started || !options.background) return started
      started = traceSun(pool, prepared.scene, prepared.lamp, scheduler, options, context.sunThread).then((sun) => {
        progress.sun = sun
        return sun
      })
      started.catch(() => {}) // awaited after the beam; a cancellation may come first
      return started
    },
  }
}

/** The effect of each part: the lamp as designed beside the lamps without it. Traced once. */
function makeVariantsStep({ pool, prepared, options, progress, publisher, scheduler }: TraceSetup) {
  const wanted = options.background && options.variants !== false && prepared.scene.emittedW > 0
  let traced: Promise<void> | null = null
  let done = !wanted
  let publishing: Promise<unknown> = Promise.resolve()
  const compareWith = (figures: Sheet['figures'], { rays }: Run) => {
    if (progress.variants.length > 0)
      progress.variants = [{ name: 'as designed', figures, rays }, ...progress.variants.slice(1)]
  }
  async function traceAll(run: Run, publish: () => Promise<unknown>): Promise<void> {
    for await (const list of traceVariants(pool, prepared.lamp, scheduler, options)) {
      await scheduler.checkpoint()
      progress.variants = [{ name: 'as designed', figures: publisher.last()?.figures ?? {}, rays: run.rays }, ...list]
      // Not waited for: the next one is traced meanwhile.
      publishing = publish()
      publishing.catch(() => {}) // awaited below; a cancellation may come first
    }
    await publishing
    done = true
  }
  return {
    /** `run`: of the lamp as designed, so far; `publish`: called when there is one more. Once it has resolved the run may grow. */
    trace(run: Run, publish: () => Promise<unknown>): Promise<void> {
      if (!wanted) return Promise.resolve()
      traced ??= traceAll(run, publish)
      traced.catch(() => {}) // awaited later; a cancellation may come first
      return traced
    },
    done: () => done,
    /** Nothing of them is read or traced any more, whether or not they came to their end. */
    ended: () => Promise.allSettled([traced, publishing]),
    /** The lamp as designed with the figures of a later sheet. */
    compareWith,
  }
}
