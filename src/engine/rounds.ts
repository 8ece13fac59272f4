// A run in rounds: each batch goes a little further, then the run may be read. The schedule depends on nothing but the numbers of
// rays, so a run's sums are the same bits on one worker or eight.

import { Cancelled } from '../num/scheduler.ts'
import { tallyLayout } from '../run/layout.ts'
import { BATCHES, type Run, type TallyShape } from '../run/types.ts'
import type { Scene } from '../scene/scene.ts'
import { releaseMaps } from './gpu/mapBuffers.ts'
import type { GpuTracer, PartialTally } from './gpu/types.ts'
import { addPartial, type FirstRound, joinExits, runOf } from './partialTallies.ts'
import type { LoadedScene, Pool } from './workers/pool.ts'

export interface RoundsOptions {
  seed: number
  maxRays: number
  plainRandom?: boolean
  /** Rays with an index below this leave an exit record. */
  exitsBelow: number
  /** Another engine that takes whole rounds, once it is ready; null: the pool traces. */
  gpuTracer?: () => GpuTracer | null
  /** Told of each of the pool's larger rounds: what it traces in a millisecond. */
  measurePool?: (raysPerMs: number) => void
  /** Every round may be shown: a device's rounds then end by the clock. Else their sizes depend on nothing but the numbers of rays. */
  watched?: boolean
  /** Where the pool's round ends that begins at `from`, rays of one batch; absent: as `schedule` has it. */
  poolEnd?: (from: number) => number
  /** False: no round begins before the one before it has been judged, for runs that mostly end there. Default true. */
  ahead?: boolean
  /** Reads the first round elsewhere, unless it is the only one: gives its partials back as they were, or null, which drops the run. */
  readElsewhere?: (first: FirstRound) => Promise<PartialTally[] | null>
}

const FIRST = 1024
const STEP = 16384
/** A gpuTracer's rounds double up to this many rays a batch: its work is done in a moment, reading it back isn't. */
const GPU_STEP = 1 << 22

/** Where the next round ends: 1024, 4096, 16384 rays of a batch, then 16384 more each. */
const nextEnd = (end: number): number => (end < STEP ? 4 * end : end + STEP)
const usualEnd = (from: number): number => (from === 0 ? FIRST : nextEnd(from))
const GPU_FIRST = 1 << 16
/** While somebody watches, a gpuTracer's first round takes no longer than this, the others no longer than that. */
const FIRST_ROUND_MS = 4
const ROUND_MS = 60
/** And its first round leaves exit records of this many rays only: enough to draw by, a twentieth of what would come back. */
const FIRST_EXITS = 1 << 15

/** Where a gpuTracer's round ends that begins at `end`. */
export function nextGpuRoundEnd(end: number, gpuTracer: Pick<GpuTracer, 'raysIn'>, watched: boolean): number {
  if (!watched) return end === 0 ? FIRST : end + Math.min(GPU_STEP, Math.max(STEP, end))
  const due = gpuTracer.raysIn(end === 0 ? FIRST_ROUND_MS : ROUND_MS)
  const most = end === 0 ? GPU_FIRST : Math.min(GPU_STEP, Math.max(STEP, end))
  return end + Math.max(FIRST, Math.min(most, 2 ** Math.floor(Math.log2(Math.max(1, due)))))
}

/** Where the rounds end, one batch: a list of cumulative counts. Exported for the tests. */
export function schedule(maxRays: number): number[] {
  const most = Math.max(1, Math.ceil(maxRays / BATCHES))
  const ends = [Math.min(most, FIRST)]
  while (ends.at(-1)! < most) ends.push(Math.min(most, nextEnd(ends.at(-1)!)))
  return ends
}

/** Called after each round; false ends the run there. A promise holds it (pause). */
export type AfterRound = (run: Run, last: boolean) => boolean | Promise<boolean>

export async function runRounds(
  pool: Pool,
  scene: Scene,
  shape: TallyShape,
  options: RoundsOptions,
  after: AfterRound,
): Promise<Run> {
  const { windowLm } = tallyLayout(shape)
  const exits: { batch: number; rows: Float32Array }[] = []
  /** Replies whose one buffer holds exit records too: they are given back with the run's end. */
  const held: PartialTally[] = []
  const loaded = pool.load(scene, shape, {
    seed: options.seed,
    plainRandom: options.plainRandom ?? false,
    exitsBelow: options.exitsBelow,
  })
  const most = Math.max(1, Math.ceil(options.maxRays / BATCHES))
  const watched = options.watched ?? false
  const gpuNow = options.gpuTracer ?? (() => null)
  const { poolEnd = usualEnd } = options
  const { emittedLm, emittedW } = scene
  let run: Run | null = null
  /** One gpuTracer fails at most: after that the pool goes on alone. */
  let failed = false

  /** The round that begins at `from`, on its way; exit records there are of the rays below `recorded`. */
  function begin(from: number, recorded: number): Round {
    const gpuTracer = failed ? null : gpuNow()
    const end = gpuTracer ? nextGpuRoundEnd(from, gpuTracer, watched) : poolEnd(from)
    const to = Math.min(most, end)
    const few = gpuTracer !== null && watched && from === 0
    const below = few ? Math.min(FIRST_EXITS, options.exitsBelow) : options.exitsBelow
    const partials = gpuTracer ? gpuTracer.trace(from, to, below) : all((batch) => loaded.trace(batch, from, to))
    const gap = Math.min(from, Math.ceil(options.exitsBelow / BATCHES))
    const late =
      recorded < gap * BATCHES ? lateExits(pool, loaded, gpuTracer, recorded / BATCHES, gap) : Promise.resolve([])
    const traced = Promise.all([partials, late])
    traced.catch(() => {}) // a dropped run leaves its last round unread
    return { from, to, gpuTracer, traced, begun: performance.now(), recorded: Math.min(below, to * BATCHES) }
  }

  /** Exit records stay as they came: one array of them all is made when more have come. The rest has been added up. */
  function keep(partials: readonly PartialTally[], fromGpu: boolean): void {
    for (const [batch, partial] of partials.entries()) {
      if (partial.exits.length > 0) exits.push({ batch, rows: partial.exits })
      if (fromGpu) releaseMaps(partial.maps)
      else if (partial.cells) held.push(partial)
      else pool.recycle(partial)
    }
  }

  function grown(
    run: Run,
    { to, gpuTracer }: Round,
    results: readonly PartialTally[],
    late: readonly Float32Array[],
  ): Run {
    const before = exits.length
    for (const [batch, rows] of late.entries()) if (rows.length > 0) exits.push({ batch, rows })
    for (const [batch, partial] of results.entries()) addPartial(run, batch, partial, windowLm)
    keep(results, gpuTracer !== null)
    return { ...run, rays: to * BATCHES, exits: exits.length > before ? joinExits(exits, recorded) : run.exits }
  }

  let recorded = 0
  let round = begin(0, 0)
  try {
    for (;;) {
      const traced = await round.traced.catch((error: unknown) => {
        if (!round.gpuTracer || error instanceof Cancelled) throw error
        return null
      })
      if (!traced) {
        // The gpuTracer failed on the way. Nothing of its round is counted; the pool goes on from where it began, in rounds of its own.
        failed = true
        round = begin(round.from, recorded)
        continue
      }
      const [results, late] = traced
      const reached = round.to
      const chunk = reached - round.from
      if (!round.gpuTracer && chunk >= STEP)
        options.measurePool?.((chunk * BATCHES) / (performance.now() - round.begun))
      recorded = round.recorded
      const last = reached === most
      const done = round
      const aside = run || last ? undefined : options.readElsewhere
      // The next round goes on while this one is read; but the first sheet after an edit has the machine to itself, and the edit after it too.
      const ahead = !last && !aside && reached > FIRST && options.ahead !== false
      if (ahead) round = begin(reached, recorded)
      if (run) run = grown(run, done, results, late)
      else {
        const rays = reached * BATCHES
        const first = { seed: options.seed, shape, emittedLm, emittedW, rays, recorded, partials: results }
        const partials: PartialTally[] | null = aside ? await aside(first) : results
        if (!partials) throw new Cancelled()
        run = runOf({ ...first, partials })
        keep(partials, done.gpuTracer !== null)
      }
      if (!(await after(run, last)) || last) break
      if (!ahead) round = begin(reached, recorded)
    }
  } finally {
    loaded.unload()
    for (const partial of held) pool.recycle(partial)
  }
  return run
}

interface Round {
  from: number
  to: number
  /** Who traces it; null: the pool. */
  gpuTracer: GpuTracer | null
  traced: Promise<[PartialTally[], Float32Array[]]>
  begun: number
  /** Once it is done, the rays with an index below this have left their exit records. */
  recorded: number
}

const all = <T>(one: (batch: number) => Promise<T>): Promise<T[]> =>
  Promise.all(Array.from({ length: BATCHES }, (_, batch) => one(batch)))

/** Exit records that a first round left out, of rays that are counted already. */
function lateExits(
  pool: Pool,
  loaded: LoadedScene,
  gpuTracer: GpuTracer | null,
  from: number,
  to: number,
): Promise<Float32Array[]> {
  if (gpuTracer) return gpuTracer.exits(from, to)
  return all(async (batch) => {
    const answer = await loaded.trace(batch, from, to)
    if (!answer.cells) pool.recycle(answer)
    return answer.exits
  })
}
