// A run in rounds: each batch goes a little further, then the readers may look. The schedule depends on nothing but the numbers of
// rays, so a run's sums are the same bits on one worker or eight.
import { tallyLayout } from '../run/layout.ts'
import { BATCHES, EXIT_STRIDE, type Run, type TallyShape } from '../run/types.ts'
import type { Scene } from '../scene/scene.ts'
import type { Loaded, Pool } from './cpu/pool.ts'

export interface RoundsOptions {
  seed: number
  maxRays: number
  plainRandom?: boolean
  /** Rays with an index below this leave an exit record. */
  exitsBelow: number
}

/** Rays of a batch after round r: 1024, 4096, 16384, then 16384 more each. */
function raysAfter(round: number): number {
  return round < 2 ? 1024 << (2 * round) : 16384 * (round - 1)
}

/** Where the rounds end, one batch: a list of cumulative counts. Exported for the tests. */
export function schedule(maxRays: number): number[] {
  const most = Math.max(1, Math.ceil(maxRays / BATCHES))
  const ends: number[] = []
  for (let round = 0; ; round++) {
    const end = Math.min(most, raysAfter(round))
    ends.push(end)
    if (end === most) return ends
  }
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
  const ends = schedule(options.maxRays)
  let run = emptyRun(scene, shape, options.seed)
  const { tallies } = run
  let pending = order(loaded, 0, ends[0]!)
  try {
    for (const [round, end] of ends.entries()) {
      const results = await Promise.all(pending)
      const last = round === ends.length - 1
      if (!last) {
        pending = order(loaded, end, ends[round + 1]!)
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
        rays: end * BATCHES,
        exits: more ? joinExits(exits, Math.min(end * BATCHES, options.exitsBelow)) : run.exits,
      }
      if (!(await after(run, last))) break
    }
  } finally {
    loaded.drop()
  }
  return run
}

function order(loaded: Loaded, from: number, to: number) {
  return Array.from({ length: BATCHES }, (_, batch) => loaded.trace(batch, from, to))
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
