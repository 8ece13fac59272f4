// The rounds of a beam, with the backward estimates beside them, and a sheet whenever there is one worth reading.
import { emptyRun, type FirstRound, releasePartials } from '../../engine/partialTallies.ts'
import { runRounds } from '../../engine/rounds.ts'
import type { Pool } from '../../engine/workers/pool.ts'
import { type Scheduler, whenAborted } from '../../num/scheduler.ts'
import type { Run } from '../../run/types.ts'
import { type BackwardSession, openBackwardSession } from './backwardSession.ts'
import { kernelOptions, type TraceEngines } from './engines.ts'
import type { FirstSheetReaders } from './firstSheet.ts'
import type { PreparedTrace } from './prepare.ts'
import type { Publisher, TraceProgress } from './publish.ts'
import { isPreciseEnough, readReached } from './settling.ts'
import type { JobOptions } from './sheet.ts'
import type { TraceContext } from './types.ts'

/** The first sheet's rays: aims beside the axis are requested only after it. */
const FIRST_SHEET = 1 << 14
/** Aims are chosen so many times once the rounds have ended. */
const AIMED_AT_END = 7
/** Aims are chosen, and a sheet may be read again, when the run has grown by so much: aims at numbers of rays alone, sheets as time allows. */
const READ_AGAIN = 1.25

/** All that the steps of one trace share. */
export interface TraceSetup {
  pool: Pool
  prepared: PreparedTrace
  engines: TraceEngines
  options: JobOptions
  progress: TraceProgress
  publisher: Publisher
  scheduler: Scheduler
  context: TraceContext
}

/** Called with every round; what it awaits holds the rounds, and isn't counted as time of tracing. */
type OnRound = (run: Run) => Promise<void> | void

/** The whole run of a lamp; of no rays where nothing shines. Throws `Cancelled`. */
export async function traceBeam(setup: TraceSetup, onRound: OnRound): Promise<Run> {
  const { pool, prepared, engines, options, progress } = setup
  const { scene, shape } = prepared
  if (!(scene.emittedW > 0)) return emptyRun(scene, shape, options.seed)
  await engines.settle()
  const backward = openBackwardSession(pool, prepared, engines, options)
  try {
    const running = runBeamRounds(setup, backward, onRound)
    prepared.paths() // while the workers trace the first round
    const run = await running
    await setup.scheduler.checkpoint()
    // Again: what the first few rays of an aim have shown decides where more are worth it, and a peak off the axis is found step by step.
    for (let time = 0; time < AIMED_AT_END; time++) {
      backward.requestAims(await setup.publisher.readForward(run))
      progress.aims = await backward.aims()
    }
    return run
  } finally {
    backward.close()
  }
}

/** Rounds until the axis is known well enough, or rays or time are used up. */
function runBeamRounds(setup: TraceSetup, backward: BackwardSession, onRound: OnRound): Promise<Run> {
  const { pool, prepared, engines, options, progress, publisher, scheduler } = setup
  const { firstSheetReaders } = setup.context
  let began = performance.now()
  const pausedBefore = scheduler.pausedMs()
  /** Rays that a sheet was last due at; 0 before the first. */
  let dueAt = 0
  const tick = async () => {
    await scheduler.checkpoint()
    progress.seconds = (performance.now() - began - (scheduler.pausedMs() - pausedBefore)) / 1000
    progress.axis = await backward.axis()
  }

  /** Whoever reads the first sheet has its buffers meanwhile; they come back for the rounds that follow. */
  async function readElsewhere(readers: FirstSheetReaders, first: FirstRound) {
    await tick()
    if (!(await readers.free())) return first.partials
    if (scheduler.signal.aborted) return null
    dueAt = first.rays
    return handOn(setup, readers, first)
  }

  async function afterRound(run: Run, isLast: boolean): Promise<boolean> {
    await tick()
    const held = performance.now()
    await onRound(run)
    began += performance.now() - held
    progress.aims = await backward.aims()
    const isFirst = dueAt === 0
    if (!isFirst) backward.continueAxis(run)
    const reached = readReached(run, progress.axis, options.precision)
    const enough = isPreciseEnough(run, reached) || progress.seconds >= (options.maxSeconds ?? Infinity)
    const isOver = enough || isLast
    // The last one is read once its aims have come.
    const handedOn = run.rays === dueAt
    if (!options.onlyLast && !isOver && (handedOn || run.rays >= READ_AGAIN * dueAt)) {
      dueAt = run.rays
      if (!handedOn) await publisher.publishInTime(run)
      // The pointer has moved on by now: the next edit comes before more work on this one.
      await scheduler.checkpoint()
      if (run.rays > FIRST_SHEET) backward.requestAims(await publisher.readForward(run))
    }
    if (isFirst) backward.continueAxis(run)
    return !enough
  }

  return runRounds(
    pool,
    prepared.scene,
    prepared.shape,
    {
      ...kernelOptions(options),
      maxRays: options.maxRays,
      watched: !options.onlyLast,
      gpuTracer: engines.forward.tracer,
      measurePool: engines.forward.measurePool,
      ...(firstSheetReaders && { readElsewhere: (first: FirstRound) => readElsewhere(firstSheetReaders, first) }),
    },
    afterRound,
  )
}

/** The first round's buffers go to a reader; null once nobody waits for the run any more. */
function handOn(
  { pool, prepared, publisher, scheduler, context }: TraceSetup,
  readers: FirstSheetReaders,
  first: FirstRound,
): Promise<FirstRound['partials'] | null> {
  const { lamp, header, paths } = prepared
  const state = { ...publisher.state(false), aims: [] }
  publisher.leaveFirst(first.rays)
  const partials = readers.read({ lamp, first, header, state, paths: paths() }).then((read) => {
    publisher.publishRead(read.sheet, read.front)
    if (!scheduler.signal.aborted) return read.partials
    releasePartials(pool, read.partials)
    return null
  })
  context.onHandedOver?.()
  return Promise.race([partials, whenAborted(scheduler.signal).then(() => null)])
}
