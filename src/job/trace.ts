// The whole way, once: compile, trace in rounds, read after each, then the sun and what each part buys.
import { Dropped, type Pool } from '../engine/cpu/pool.ts'
import { tracePaths } from '../engine/paths.ts'
import { runRounds } from '../engine/runRounds.ts'
import { operatingPoint } from '../heat/operating.ts'
import type { Lamp } from '../lamp/schema.ts'
import { runFaults } from '../run/honest.ts'
import type { Run } from '../run/types.ts'
import { compile } from '../scene/compile.ts'
import { makeReader } from './read.ts'
import { chooseShape } from './shape.ts'
import type { JobOptions, Sheet, SunAtTilt, Variant } from './sheet.ts'
import { traceSun } from './sun.ts'
import { traceVariants } from './variants.ts'

/** Rays whose exits are kept for the readers that propagate them. */
export const EXITS_KEPT = 1 << 19
const PATHS = 360

export interface Control {
  /** True once nobody waits for this trace any more. */
  stopped(): boolean
  /** Resolves at once, or when a pause ends. */
  ready(): Promise<void>
}

export const RUNNING: Control = { stopped: () => false, ready: () => Promise.resolve() }

/**
 * Trace a lamp to its settled sheet. `onSheet` gets every sheet on the way, the rough one first; the promise gives the last, or null
 * when it was stopped. A run that is not honest (its ledger does not close) is an error.
 */
export async function traceLamp(
  pool: Pool,
  lamp: Lamp,
  options: JobOptions,
  onSheet: (sheet: Sheet) => void,
  control: Control = RUNNING,
): Promise<Sheet | null> {
  const began = performance.now()
  let paused = 0
  const scene = compile(lamp, operatingPoint(lamp))
  const shape = chooseShape(scene, lamp)
  const reader = makeReader(lamp, options, pool.threads, tracePaths(scene, shape, options.seed, PATHS))
  const seconds = () => (performance.now() - began - paused) / 1000
  let last: Run | null = null
  let sheet: Sheet | null = null
  let sun: SunAtTilt[] | null = null
  let sunDone: Promise<void> = Promise.resolve()
  let variants: Variant[] = []

  const show = (run: Run, settled: boolean): Sheet => {
    sheet = reader.read(run, { seconds: seconds(), settled, sun, variants })
    onSheet(sheet)
    return sheet
  }

  try {
    if (!(scene.emittedW > 0)) {
      // Nothing shines; the sun still does.
      const run = await runRounds(pool, scene, shape, { ...runOptions(options), maxRays: 16 }, () => true)
      last = run
    } else {
      await runRounds(pool, scene, shape, runOptions(options), async (run, isLast) => {
        const before = performance.now()
        await control.ready()
        paused += performance.now() - before
        if (control.stopped()) return false
        last = run
        const faults = runFaults(run)
        if (faults.length > 0) throw new Error(`The run is not honest: ${faults.join(' ')}`)
        if (run.rays <= 16 * 1024 && options.background) {
          sunDone = traceSun(pool, scene, lamp, options.seed, control).then((reading) => {
            sun = reading
          })
          sunDone.catch(() => {}) // awaited below; a stop may come first
        }
        const now = show(run, isLast)
        return !reachedPrecision(now, options) && !control.stopped()
      })
    }
    if (control.stopped() || !last) return null
    if (!(scene.emittedW > 0) && options.background) sun = await traceSun(pool, scene, lamp, options.seed, control)
    await sunDone
    show(last, true)
    if (options.background && options.variants !== false && scene.emittedW > 0) {
      for await (const list of traceVariants(pool, lamp, options.seed, control)) {
        if (control.stopped()) return null
        variants = list
        show(last, true)
      }
    }
    return sheet
  } catch (error) {
    if (error instanceof Dropped || control.stopped()) return null
    throw error
  }
}

const runOptions = (o: JobOptions) => ({
  seed: o.seed,
  maxRays: o.maxRays,
  plainRandom: o.plainRandom ?? false,
  exitsBelow: EXITS_KEPT,
})

function reachedPrecision(sheet: Sheet, options: JobOptions): boolean {
  const axial = sheet.figures.axialIntensityCd
  if (sheet.rays < 1 << 18 || !axial || options.precision <= 0) return false
  return 1.96 * axial.se <= options.precision * axial.value
}
