// The whole way, once: compile, trace in rounds, read after each, then the sun and what each part buys.

import type { Aim } from '../../engine/backward/estimator.ts'
import { makeGpuBackward } from '../../engine/gpuBackward.ts'
import { makeGpuForward } from '../../engine/gpuForward.ts'
import { emptyRun, type FirstRound, recycleRun, releasePartials } from '../../engine/partialTallies.ts'
import { tracePaths } from '../../engine/paths.ts'
import {
  type BackwardEstimate,
  backwardUnsupported,
  combine,
  makeBackwardEstimates,
  TRUSTED,
} from '../../engine/progressive.ts'
import { runRounds } from '../../engine/rounds.ts'
import { Cancelled, type Pool } from '../../engine/workers/pool.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { mean, standardError, T95 } from '../../num/stats.ts'
import { runTimeSliced } from '../../num/timeSlicing.ts'
import { tallyLayout } from '../../run/layout.ts'
import type { Run } from '../../run/types.ts'
import { findRunFaults } from '../../run/validate.ts'
import { compile } from '../../scene/compile.ts'
import { lampOperatingPoint } from '../power/light.ts'
import { type AimEstimate, makeAimEstimates } from './backwardEstimates.ts'
import type { FirstSheetReaders } from './firstSheet.ts'
import { chooseShape } from './pilot.ts'
import { makeReader, readOrder } from './read.ts'
import { type JobOptions, NoDevice, type Paths, type Sheet, type SunAtTilt, type Variant } from './sheet.ts'
import { traceSun } from './sun.ts'
import { type Control, EXITS_KEPT, RUNNING } from './types.ts'
import { traceVariants } from './variants.ts'

const PATHS = 360
/** The sun waits so long for the beam; until then the findings know it by geometry. Unwatched runs trace it last, for their clock's sake. */
const SUN_STARTS_AT = 1 << 18
/** Backward rays of a batch at most; a million in all know the axis far better than was ever asked. */
const LOOK_MOST = 1 << 16
/** The first sheet's rays: the far end is asked beside the axis only after it. */
const FIRST_SHEET = 1 << 14
/** No run settles on fewer rays: the axis is soon known from the far end, the rest of the sheet isn't. */
const SETTLES_FROM = 1 << 20
/** A sheet is read again when the run has grown by so much. */
const READ_AGAIN = 1.25

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
  onProgress: (rays: number) => void = () => {},
  looks?: FirstSheetReaders,
): Promise<Sheet | null> {
  const began = performance.now()
  let paused = 0
  const point = lampOperatingPoint(lamp)
  const scene = compile(lamp, point)
  const shape = chooseShape(scene, lamp)
  let traced: Paths | null = null
  const paths = () => {
    traced ??= tracePaths(scene, shape, options.seed, PATHS)
    return traced
  }
  const order = readOrder(lamp, point.fluxLm, options.seed, pool.threads)
  const reader = makeReader(lamp, order, paths)
  let tracedFor = 0
  let last: Run | null = null
  let sheet: Sheet | null = null
  let sun: SunAtTilt[] | null = null
  let sunDone: Promise<void> | null = null
  let variants: Variant[] = []
  let back: BackwardEstimate | null = null
  let views: AimEstimate[] = []
  let readAt = 0
  const rounds = { ...kernelOptions(options), maxRays: options.maxRays, watched: !options.onlyLast }
  const gpuForward = makeGpuForward(scene.emittedW > 0 ? options.graphics : undefined, scene, shape, rounds)
  const gpuBackward = makeGpuBackward(scene.emittedW > 0 ? options.graphics : undefined, scene, shape, options.seed)
  /** Where the device is no help to the run it is none to the far end. */
  const backwardTracer = () => (gpuForward.tracer() ? gpuBackward.tracer() : null)

  const standing = () => {
    const { engine, engineWhy } = gpuForward.engineUse()
    const apart = engine === 'gpu' && gpuBackward.fault() && backwardUnsupported(scene).length === 0
    return apart
      ? { engine, engineWhy: `${engineWhy}; the processor looks from the far end: ${gpuBackward.fault()}` }
      : { engine, engineWhy }
  }

  const breathe = async () => {
    await control.ready()
    if (control.stopped()) throw new Cancelled()
  }
  /** After a pause, which isn't counted as tracing. */
  const goesOn = async () => {
    const before = performance.now()
    await control.ready()
    paused += performance.now() - before
    return !control.stopped()
  }
  const show = async (run: Run, settled: boolean): Promise<Sheet> => {
    const faults = findRunFaults(run, settled)
    if (faults.length > 0) throw new Error(`The run is not honest: ${faults.join(' ')}`)
    sheet = await runTimeSliced(
      reader.read(run, { seconds: tracedFor, settled, sun, variants, back, views, ...standing() }),
      breathe,
    )
    onSheet(sheet)
    return sheet
  }
  const startSun = () => {
    if (sunDone || !options.background) return
    sunDone = traceSun(pool, scene, lamp, options.seed, control, options).then((reading) => {
      sun = reading
    })
    sunDone.catch(() => {}) // awaited below; a stop may come first
  }

  try {
    if (!(scene.emittedW > 0)) last = emptyRun(scene, shape, options.seed)
    else {
      const axis: Aim = { kind: 'cone', thetaRad: 0, phiRad: 0, halfRad: shape.axialConeHalfRad }
      const far = makeBackwardEstimates(pool, scene, shape, kernelOptions(options), backwardTracer)
      const look = far?.at(axis)
      const others = far && makeAimEstimates(far, shape, lamp)
      /** Beside the axis, by what this reading says; seen when the next round is in. */
      const askBeside = async (run: Run) => others?.order(await runTimeSliced(reader.forward(run), breathe))
      // On the command line the first asking waits too: the same order gives the same sheet.
      if (options.graphicsFirst || options.graphicsOnly) await Promise.all([gpuForward.ready, gpuBackward.ready])
      if (options.graphicsOnly && !gpuForward.tracer()) throw new NoDevice(gpuForward.engineUse().engineWhy)
      let ahead = look?.upTo(far!.firstRays())
      ahead?.catch(() => {}) // awaited below; a stop may come first
      const lookAhead = (run: Run) => {
        if (!look || (back && fineEnough(back, options))) return
        ahead = look.upTo(Math.min(LOOK_MOST, Math.max(far!.firstRays(), run.rays / 16)))
        ahead.catch(() => {})
      }
      /** Whoever reads the first look has its buffers meanwhile; they come back for the rounds that follow. */
      const readAside = async (first: FirstRound) => {
        tracedFor = (performance.now() - began - paused) / 1000
        if (!(await goesOn())) return null
        if (ahead) back = await ahead
        if (!(await looks!.free())) return first.partials
        if (control.stopped()) return null
        const standingNow = { seconds: tracedFor, settled: false, sun: null, variants: [], back, ...standing() }
        const reading = looks!.read({ lamp, first, order, standing: standingNow, paths: paths() })
        readAt = first.rays
        reader.hasRead(first.rays)
        const partials = reading.then((read) => {
          sheet = read.sheet
          onSheet(sheet)
          if (!control.stopped()) return read.partials
          releasePartials(read.partials)
          return null
        })
        control.onHanded?.()
        return control.gone ? Promise.race([partials, control.gone]) : partials
      }
      const running = runRounds(
        pool,
        scene,
        shape,
        {
          ...rounds,
          gpuTracer: gpuForward.tracer,
          measurePool: gpuForward.measurePool,
          readElsewhere: looks && readAside,
        },
        async (run, isLast) => {
          tracedFor = (performance.now() - began - paused) / 1000
          if (!(await goesOn())) return false
          last = run
          onProgress(run.rays)
          if (ahead) back = await ahead
          if (others) views = await others.take()
          const isFirst = readAt === 0
          if (!isFirst) lookAhead(run)
          if (!options.onlyLast && run.rays >= SUN_STARTS_AT) startSun()
          const enough = reachedPrecision(run, back, options)
          const readElsewhere = run.rays === readAt
          if (!options.onlyLast && (isLast || enough || readElsewhere || run.rays >= READ_AGAIN * readAt)) {
            readAt = run.rays
            if (!readElsewhere) await show(run, false)
            // The hand that drags has moved on by now: its next edit comes before anything else is asked of this one.
            if (!(await goesOn())) return false
            if (run.rays > FIRST_SHEET && !enough && !isLast) await askBeside(run)
          }
          if (isFirst) lookAhead(run)
          return !enough && !control.stopped()
        },
      )
      paths() // while the workers trace the first round
      await running
      if (last && others && !control.stopped()) {
        // Twice: what the first few rays of an aim have shown decides where more are worth it.
        for (let time = 0; time < 2; time++) {
          await askBeside(last)
          views = await others.take()
        }
      }
      far?.drop()
    }
    if (control.stopped() || !last) return null
    if (!options.onlyLast || !options.background) await show(last, true)
    startSun()
    if (sunDone) {
      await sunDone
      await show(last, true)
    }
    if (options.background && options.variants !== false && scene.emittedW > 0) {
      for await (const list of traceVariants(pool, lamp, options.seed, control, options)) {
        if (control.stopped()) return null
        const real: Variant = { name: 'as designed', figures: sheet!.figures, rays: last.rays }
        variants = [real, ...list]
        if (!options.onlyLast) await show(last, true)
      }
    }
    if (options.onlyLast && variants.length > 0) await show(last, true)
    return sheet
  } catch (error) {
    if (error instanceof Cancelled || control.stopped()) return null
    throw error
  } finally {
    gpuForward.close()
    gpuBackward.close()
    if (last) recycleRun(last)
  }
}

const kernelOptions = (o: JobOptions) => ({
  seed: o.seed,
  plainRandom: o.plainRandom ?? false,
  exitsBelow: EXITS_KEPT,
})

/** The axis needs no more backward rays: it is known to half of what was asked for, or to a thousandth. */
const fineEnough = ({ value, se, effective }: BackwardEstimate, o: JobOptions) =>
  effective >= TRUSTED && se <= Math.max(o.precision / (2 * T95), 1e-3) * value

/** The axial intensity, from both ends where both speak, is known as well as was asked for. */
function reachedPrecision(run: Run, back: BackwardEstimate | null, options: JobOptions): boolean {
  if (run.rays < SETTLES_FROM || options.precision <= 0) return false
  const { axialLm, emitted } = tallyLayout(run.shape)
  const perSr = run.emittedLm / (4 * Math.PI * Math.sin(run.shape.axialConeHalfRad / 2) ** 2)
  const batches = run.tallies.map((tally) => (perSr * tally[axialLm]!) / tally[emitted + 1]!)
  const forward = { value: mean(batches), se: standardError(batches) }
  const { value, se } = back ? combine(forward, back) : forward
  return value > 0 && T95 * se <= options.precision * value
}
