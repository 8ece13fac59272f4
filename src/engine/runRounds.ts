// A run in rounds: each batch goes a little further, then the readers may look. The schedule depends on nothing but the numbers of
// rays, so a run's sums are the same bits on one worker or eight.
import { tallyLayout } from '../run/layout.ts'
import { BATCHES, EXIT_STRIDE, type Run, type TallyShape } from '../run/types.ts'
import type { Scene } from '../scene/scene.ts'
import type { Loaded, Pool } from './cpu/pool.ts'
import type { Guest, Share } from './gpu/gpuEngine.ts'

export interface RoundsOptions {
  seed: number
  maxRays: number
  plainRandom?: boolean
  /** Rays with an index below this leave an exit record. */
  exitsBelow: number
  /** Another engine that takes whole rounds, once it is ready; null: the pool traces. */
  guest?: () => Guest | null
}

const FIRST = 1024
const STEP = 16384
/** A guest's rounds double up to this many rays a batch: its work is done in a moment, reading it back isn't. */
const GUEST_STEP = 1 << 22

/** Where the next round ends: 1024, 4096, 16384 rays of a batch, then 16384 more each. */
const nextEnd = (end: number): number => (end < STEP ? 4 * end : end + STEP)
const nextGuestEnd = (end: number): number => end + Math.min(GUEST_STEP, Math.max(STEP, end))

/** Where the rounds end, one batch: a list of cumulative counts. Exported for the tests. */
export function schedule(maxRays: number): number[] {
  const most = Math.max(1, Math.ceil(maxRays / BATCHES))
  const ends = [Math.min(most, FIRST)]
  while (ends.at(-1)! < most) ends.push(Math.min(most, nextEnd(ends.at(-1)!)))
  return ends
}

/** Sets of tallies of runs that nobody reads any more: zeroing one is cheaper than the garbage of a new one at every edit. */
const spare: Float64Array[][] = []
const SPARE_MOST = 3

/** Nobody reads this run any more. */
export function recycle(run: Run): void {
  if (spare.length < SPARE_MOST) spare.push(run.tallies)
}

function tallySet(size: number): Float64Array[] {
  const at = spare.findIndex((set) => set[0]!.length === size)
  if (at < 0) return Array.from({ length: BATCHES }, () => new Float64Array(size))
  const set = spare.splice(at, 1)[0]!
  for (const tally of set) tally.fill(0)
  return set
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
  const { size, windowLm } = tallyLayout(shape)
  const exits: { batch: number; rows: Float32Array }[] = []
  const loaded = pool.load(scene, shape, {
    seed: options.seed,
    plainRandom: options.plainRandom ?? false,
    exitsBelow: options.exitsBelow,
  })
  const most = Math.max(1, Math.ceil(options.maxRays / BATCHES))
  const guest = options.guest ?? (() => null)
  let run = emptyRun(scene, shape, options.seed)
  const { tallies } = run
  let end = Math.min(most, FIRST)
  let pending = order(loaded, guest(), 0, end)
  try {
    for (;;) {
      const results = await Promise.all(pending)
      const reached = end
      const last = reached === most
      if (!last) {
        const helper = guest()
        end = Math.min(most, helper ? nextGuestEnd(reached) : nextEnd(reached))
        pending = order(loaded, helper, reached, end)
        for (const p of pending) p.catch(() => {}) // a dropped run leaves its last round unread
      }
      for (const [batch, result] of results.entries()) {
        const sum = tallies[batch]!
        const { sums, maps } = result
        for (let i = 0; i < windowLm; i++) sum[i]! += sums[i]!
        for (let i = windowLm; i < size; i++) sum[i]! += maps[i - windowLm]!
        loaded.done(result)
        if (result.exits.length > 0) exits.push({ batch, rows: result.exits })
      }
      const more = results.some((r) => r.exits.length > 0)
      run = {
        ...run,
        rays: reached * BATCHES,
        exits: more ? joinExits(exits, Math.min(reached * BATCHES, options.exitsBelow)) : run.exits,
      }
      if (!(await after(run, last)) || last) break
    }
  } finally {
    loaded.drop()
  }
  return run
}

/** A round of every batch: by the guest, and by the pool where there is none or it fails on the way (a lost device loses no ray). */
function order(loaded: Loaded, guest: Guest | null, from: number, to: number): Promise<Share>[] {
  const shares = guest?.trace(from, to)
  return Array.from({ length: BATCHES }, (_, batch) =>
    shares
      ? shares.then(
          (all) => all[batch]!,
          () => loaded.trace(batch, from, to),
        )
      : loaded.trace(batch, from, to),
  )
}

/** A run of no rays: of a lamp in which nothing shines. */
export function emptyRun(scene: Scene, shape: TallyShape, seed: number): Run {
  const { emittedLm, emittedW } = scene
  const exits = { count: 0, fromRays: 0, data: new Float32Array(0), batch: new Uint8Array(0) }
  return { seed, rays: 0, shape, emittedLm, emittedW, tallies: tallySet(tallyLayout(shape).size), exits }
}

function joinExits(parts: { batch: number; rows: Float32Array }[], fromRays: number): Run['exits'] {
  const length = parts.reduce((sum, p) => sum + p.rows.length, 0)
  const data = new Float32Array(length)
  const batch = new Uint8Array(length / EXIT_STRIDE)
  let at = 0
  for (const part of parts) {
    data.set(part.rows, at)
    batch.fill(part.batch, at / EXIT_STRIDE, (at + part.rows.length) / EXIT_STRIDE)
    at += part.rows.length
  }
  return { count: length / EXIT_STRIDE, fromRays, data, batch }
}
