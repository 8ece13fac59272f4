// A run in rounds: each batch goes a little further, then the readers may look. The schedule depends on nothing but the numbers of
// rays, so a run's sums are the same bits on one worker or eight.
import { tallyLayout } from '../run/layout.ts'
import { BATCHES, EXIT_STRIDE, type Run, type TallyShape } from '../run/types.ts'
import type { Scene } from '../scene/scene.ts'
import { Dropped, type Loaded, type Pool } from './cpu/pool.ts'
import type { Guest, Share } from './gpu/gpuEngine.ts'

export interface RoundsOptions {
  seed: number
  maxRays: number
  plainRandom?: boolean
  /** Rays with an index below this leave an exit record. */
  exitsBelow: number
  /** Another engine that takes whole rounds, once it is ready; null: the pool traces. */
  guest?: () => Guest | null
  /** Told of each of the pool's larger rounds: what it traces in a millisecond. */
  poolDid?: (raysPerMs: number) => void
  /** Somebody looks at every round: a guest's end when a look is due, by the clock. Else their sizes depend on nothing but the numbers of rays. */
  watched?: boolean
}

const FIRST = 1024
const STEP = 16384
/** A guest's rounds double up to this many rays a batch: its work is done in a moment, reading it back isn't. */
const GUEST_STEP = 1 << 22

/** Where the next round ends: 1024, 4096, 16384 rays of a batch, then 16384 more each. */
const nextEnd = (end: number): number => (end < STEP ? 4 * end : end + STEP)
const GUEST_FIRST = 1 << 16
/** While somebody watches, a guest's first round takes no longer than this, the others no longer than that. */
const FIRST_LOOK_MS = 4
const LOOK_MS = 60
/** And its first round leaves exit records of this many rays only: enough to draw by, a twentieth of what would come back. */
const FIRST_EXITS = 1 << 15

/** Where a guest's round ends that begins at `end`. */
export function nextGuestEnd(end: number, guest: Pick<Guest, 'raysIn'>, watched: boolean): number {
  if (!watched) return end === 0 ? FIRST : end + Math.min(GUEST_STEP, Math.max(STEP, end))
  const due = guest.raysIn(end === 0 ? FIRST_LOOK_MS : LOOK_MS)
  const most = end === 0 ? GUEST_FIRST : Math.min(GUEST_STEP, Math.max(STEP, end))
  return end + Math.max(FIRST, Math.min(most, 2 ** Math.floor(Math.log2(Math.max(1, due)))))
}

/** Where the rounds end, one batch: a list of cumulative counts. Exported for the tests. */
export function schedule(maxRays: number): number[] {
  const most = Math.max(1, Math.ceil(maxRays / BATCHES))
  const ends = [Math.min(most, FIRST)]
  while (ends.at(-1)! < most) ends.push(Math.min(most, nextEnd(ends.at(-1)!)))
  return ends
}

/** Tallies (batches, then halves) of runs that nobody reads any more: zeroing a set is cheaper than the garbage of a new one at every edit. */
const spare: Float64Array[][] = []
const SPARE_MOST = 3
const HALVES = 2

/** Nobody reads this run any more. */
export function recycle(run: Run): void {
  if (spare.length < SPARE_MOST && run.halves) spare.push([...run.tallies, ...run.halves])
}

/** Of whatever was in them, unless they are new. */
function tallySet(size: number): Float64Array[] {
  const at = spare.findIndex((set) => set[0]!.length === size)
  if (at < 0) return Array.from({ length: BATCHES + HALVES }, () => new Float64Array(size))
  return spare.splice(at, 1)[0]!
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
  const loaded = pool.load(scene, shape, {
    seed: options.seed,
    plainRandom: options.plainRandom ?? false,
    exitsBelow: options.exitsBelow,
  })
  const most = Math.max(1, Math.ceil(options.maxRays / BATCHES))
  const watched = options.watched ?? false
  const helper = options.guest ?? (() => null)
  let run = newRun(scene, shape, options.seed)
  /** One guest fails at most: after that the pool goes on alone. */
  let failed = false

  /** The round that begins at `from`, on its way; exit records there are of the rays below `recorded`. */
  function begin(from: number, recorded: number): Round {
    const guest = failed ? null : helper()
    const end = guest ? nextGuestEnd(from, guest, watched) : from === 0 ? FIRST : nextEnd(from)
    const to = Math.min(most, end)
    const few = guest !== null && watched && from === 0
    const below = few ? Math.min(FIRST_EXITS, options.exitsBelow) : options.exitsBelow
    const shares = guest ? guest.trace(from, to, below) : all((batch) => loaded.trace(batch, from, to))
    const gap = Math.min(from, Math.ceil(options.exitsBelow / BATCHES))
    const late = recorded < gap * BATCHES ? lateExits(loaded, guest, recorded / BATCHES, gap) : Promise.resolve([])
    const traced = Promise.all([shares, late])
    traced.catch(() => {}) // a dropped run leaves its last round unread
    return { from, to, guest, traced, begun: performance.now(), recorded: Math.min(below, to * BATCHES) }
  }

  let recorded = 0
  let round = begin(0, 0)
  try {
    for (;;) {
      const traced = await round.traced.catch((error: unknown) => {
        if (!round.guest || error instanceof Dropped) throw error
        return null
      })
      if (!traced) {
        // The guest failed on the way. Nothing of its round is counted; the pool goes on from where it began, in rounds of its own.
        failed = true
        round = begin(round.from, recorded)
        continue
      }
      const [results, late] = traced
      const reached = round.to
      const stretch = reached - round.from
      if (!round.guest && stretch >= STEP) options.poolDid?.((stretch * BATCHES) / (performance.now() - round.begun))
      recorded = round.recorded
      const last = reached === most
      // The next round goes on while this one is read; but the first sheet after an edit has the machine to itself.
      const ahead = !last && reached > FIRST
      if (ahead) round = begin(reached, recorded)
      const before = exits.length
      for (const [batch, rows] of late.entries()) if (rows.length > 0) exits.push({ batch, rows })
      if (run.rays === 0) putShares(run, results, windowLm)
      for (const [batch, result] of results.entries()) {
        if (run.rays > 0) addShare(run, batch, result, windowLm)
        if (!result.cells) loaded.done(result)
        if (result.exits.length > 0) exits.push({ batch, rows: result.exits })
      }
      const rays = reached * BATCHES
      run = { ...run, rays, exits: exits.length > before ? joinExits(exits, recorded) : run.exits }
      if (!(await after(run, last)) || last) break
      if (!ahead) round = begin(reached, recorded)
    }
  } finally {
    loaded.drop()
  }
  return run
}

/** The run's first round: written over whatever a run before has left in the tallies. The same sums, in the same order, as if they were added to zeros. */
function putShares(run: Run, shares: readonly Share[], mapsAt: number): void {
  const sparse = shares.some((share) => share.cells)
  for (const tally of [...run.tallies, ...run.halves!]) tally.fill(0, 0, sparse ? tally.length : mapsAt)
  if (sparse) {
    for (const [batch, share] of shares.entries()) addShare(run, batch, share, mapsAt)
    return
  }
  for (const [batch, { sums, maps }] of shares.entries()) {
    run.tallies[batch]!.set(sums)
    run.tallies[batch]!.set(maps, mapsAt)
  }
  for (const [parity, half] of run.halves!.entries()) {
    const own = shares.filter((_, batch) => batch % 2 === parity)
    for (const { sums } of own) for (let i = 0; i < mapsAt; i++) half[i]! += sums[i]!
    addUp(
      half,
      mapsAt,
      own.map((share) => share.maps),
    )
  }
}

/** Eight at a time: the sums pass through the memory once. */
function addUp(into: Float64Array, from: number, maps: readonly Float32Array[]): void {
  const [a, b, c, d, e, f, g, h] = maps as [Maps, Maps, Maps, Maps, Maps, Maps, Maps, Maps]
  for (let n = 0; n < a.length; n++) into[from + n] = a[n]! + b[n]! + c[n]! + d[n]! + e[n]! + f[n]! + g[n]! + h[n]!
}
type Maps = Float32Array

/** Into the batch and into its half of the batches. */
function addShare(run: Run, batch: number, share: Share, mapsAt: number): void {
  const { sums, maps, cells } = share
  const own = run.tallies[batch]!
  const half = run.halves![batch % 2]!
  for (let i = 0; i < mapsAt; i++) {
    own[i]! += sums[i]!
    half[i]! += sums[i]!
  }
  for (let n = 0; n < maps.length; n++) {
    const at = mapsAt + (cells ? cells[n]! : n)
    own[at]! += maps[n]!
    half[at]! += maps[n]!
  }
}

interface Round {
  from: number
  to: number
  /** Who traces it; null: the pool. */
  guest: Guest | null
  traced: Promise<[Share[], Float32Array[]]>
  begun: number
  /** Once it is done, the rays with an index below this have left their exit records. */
  recorded: number
}

const all = <T>(one: (batch: number) => Promise<T>): Promise<T[]> =>
  Promise.all(Array.from({ length: BATCHES }, (_, batch) => one(batch)))

/** Exit records that a first round left out, of rays that are counted already. */
function lateExits(loaded: Loaded, guest: Guest | null, from: number, to: number): Promise<Float32Array[]> {
  if (guest) return guest.exits(from, to)
  return all(async (batch) => {
    const answer = await loaded.trace(batch, from, to)
    if (!answer.cells) loaded.done(answer)
    return answer.exits
  })
}

/** A run of no rays: of a lamp in which nothing shines. */
export function emptyRun(scene: Scene, shape: TallyShape, seed: number): Run {
  const run = newRun(scene, shape, seed)
  for (const tally of [...run.tallies, ...run.halves!]) tally.fill(0)
  return run
}

/** What stands in its tallies is nothing yet: the first round is put there. */
function newRun(scene: Scene, shape: TallyShape, seed: number): Run {
  const { emittedLm, emittedW } = scene
  const exits = { count: 0, fromRays: 0, data: new Float32Array(0), batch: new Uint8Array(0) }
  const set = tallySet(tallyLayout(shape).size)
  const halves: Run['halves'] = [set[BATCHES]!, set[BATCHES + 1]!]
  return { seed, rays: 0, shape, emittedLm, emittedW, tallies: set.slice(0, BATCHES), halves, exits }
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
