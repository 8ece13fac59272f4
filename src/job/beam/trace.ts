// From a lamp to its settled sheet, step by step: prepare (compile and pilot), engines, the beam's rounds with the backward estimates beside
// them, the sun, the variants. Every step publishes a sheet of what is known by then.
import { recycleRun } from '../../engine/partialTallies.ts'
import type { Pool } from '../../engine/workers/pool.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { Cancelled, makeScheduler } from '../../num/scheduler.ts'
import type { Run } from '../../run/types.ts'
import { type TraceSetup, traceBeam } from './beamRun.ts'
import { openEngines } from './engines.ts'
import { searchElsewhere } from './frontThread.ts'
import { settledSearch } from './hazards.ts'
import { prepareTrace } from './prepare.ts'
import { makePublisher, newProgress } from './publish.ts'
import type { JobOptions, Sheet, SunAtTilt, TraceFirst } from './sheet.ts'
import { traceSun } from './sun.ts'
import { EXITS_KEPT, type TraceContext } from './types.ts'
import { traceVariants } from './variants.ts'

/** The sun waits for so many rays of the beam; until then the findings know it by geometry. Unwatched runs trace it last, for their clock's sake. */
const SUN_STARTS_AT = 1 << 18
/** What comes first waits for the first sheet alone. */
const AFTER_FIRST_SHEET = 1 << 14
/** What waits for the beam waits for so many rays or seconds, not for an axis that may never be known as well as is wanted. */
const WAITS_UNTIL = 1 << 22
const WAITS_UNTIL_S = 8

/** Whether sun or comparisons may begin, after so many rays and seconds of the beam. What they find is the same whenever they do. */
export function mayBegin(
  what: 'sun' | 'comparisons',
  first: TraceFirst | undefined,
  rays: number,
  seconds: number,
): boolean {
  if (rays >= WAITS_UNTIL || seconds >= WAITS_UNTIL_S) return true
  if (first === what) return rays > AFTER_FIRST_SHEET
  return what === 'sun' && first !== 'beam' && rays >= SUN_STARTS_AT
}

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
  const publisher = makePublisher(prepared, engines, progress, scheduler, onSheet, context.readsAll)
  const setup: TraceSetup = { pool, prepared, engines, options, progress, publisher, scheduler, context }
  const sun = makeSunStep(setup)
  const variants = makeVariantsStep(setup)
  const front = makeFrontStep(setup)
  let run: Run | null = null
  try {
    run = await traceBeam(setup, async (now) => {
      run = now
      context.onProgress?.(now.rays)
      // It takes a while to start, and the first sheet comes first.
      if (options.background && now.rays > AFTER_FIRST_SHEET) context.frontThread?.open()
      if (options.onlyLast) return
      if (now.exits.fromRays >= EXITS_KEPT) front.start(now)
      const may = (what: 'sun' | 'comparisons') => mayBegin(what, options.first, now.rays, progress.seconds)
      if (may('sun')) sun.start()
      if (may('comparisons')) await variants.trace(() => publisher.publishKnown(now))
    })
    if (options.background) {
      // The workers trace the lamps to compare with while this thread reads the sun's light and the settled dangers.
      const whole = run
      const publish = async () => options.onlyLast || (await publisher.publishKnown(whole))
      const hasSun = sun.ended()
      const sunTraced = sun.start()
      const compared = variants.trace(publish)
      await publish()
      const steps = [
        front.start(whole).then(() => publisher.readSettled(whole)),
        hasSun || sunTraced?.then(publish),
        compared,
      ]
      await Promise.allSettled(steps)
      await Promise.all(steps)
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
  ended(): boolean
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
    ended: () => progress.sun !== null,
  }
}

/** The search in front for the settled sheet, where there is a thread for it: started once, when the run has all the exit rays that it will have. */
function makeFrontStep({ prepared, options, publisher, scheduler, context }: TraceSetup) {
  let started: Promise<void> | null = null
  return {
    start(run: Run): Promise<void> {
      if (started || !options.background) return started ?? Promise.resolve()
      const request = () => settledSearch(run, prepared.lamp)
      started = searchElsewhere(context.frontThread, request, scheduler).then((found) => {
        if (found) publisher.takeSettledFront(found, run)
      })
      started.catch(() => {}) // awaited after the beam; a cancellation may come first
      return started
    },
  }
}

/** The effect of each part: the lamps without it. Traced once. */
function makeVariantsStep({ pool, prepared, options, progress, scheduler }: TraceSetup) {
  const wanted = options.background && options.variants !== false && prepared.scene.emittedW > 0
  let traced: Promise<void> | null = null
  let publishing: Promise<unknown> = Promise.resolve()
  async function traceAll(publish: () => Promise<unknown>): Promise<void> {
    for await (const list of traceVariants(pool, prepared.lamp, scheduler, options)) {
      await scheduler.checkpoint()
      progress.variants = list
      // Not waited for: the next one is traced meanwhile.
      publishing = publish()
      publishing.catch(() => {}) // awaited below; a cancellation may come first
    }
    await publishing
  }
  return {
    /** `publish`: called when there is one more. Once it has resolved the run may grow. */
    trace(publish: () => Promise<unknown>): Promise<void> {
      if (!wanted) return Promise.resolve()
      traced ??= traceAll(publish)
      traced.catch(() => {}) // awaited later; a cancellation may come first
      return traced
    },
    /** Nothing of them is read or traced any more, whether or not they came to their end. */
    ended: () => Promise.allSettled([traced, publishing]),
  }
}
