// A run whose rays leave their segments in air: what the search for hot places reads, with the maps of the surfaces beside.
import { type Segments, segmentsOfRecords } from '../run/segments.ts'
import { BATCHES, type Run, type TallyShape } from '../run/types.ts'
import type { Scene } from '../scene/scene.ts'
import { emptyRun, type FirstRound, runOf } from './partialTallies.ts'
import type { Pool } from './workers/pool.ts'

export interface RecordedRun {
  /** Without exit rays: they are among the segments. */
  run: Run
  segments: Segments
}

/** The same as its workers gave it: plain data, that another thread can read. What stands for exits are records of segments (run/segments.ts). */
export type RecordedRays = FirstRound

/**
 * The first `rays` rays (rounded up to whole batches) of a run with this seed and their segments: the same rays as the run's own. None of a
 * scene without light. Rejects with `Cancelled` when the pool is cleared.
 */
export async function recordRays(
  pool: Pool,
  scene: Scene,
  shape: TallyShape,
  { seed, rays }: { seed: number; rays: number },
): Promise<RecordedRays> {
  const { emittedLm, emittedW } = scene
  const of = { seed, shape, emittedLm, emittedW, recorded: 0 }
  if (!(emittedW > 0)) return { ...of, rays: 0, partials: [] }
  const each = Math.max(1, Math.ceil(rays / BATCHES))
  const loaded = pool.load(scene, shape, { seed, plainRandom: false, exitsBelow: 0 })
  try {
    const partials = await Promise.all(Array.from({ length: BATCHES }, (_, batch) => loaded.record(batch, 0, each)))
    return { ...of, rays: each * BATCHES, partials }
  } finally {
    loaded.unload()
  }
}

/** Their tallies; an empty run of no rays. */
export function runOfRecorded(recorded: RecordedRays): Run {
  if (recorded.partials.length === 0) return emptyRun(recorded, recorded.shape, recorded.seed)
  const none = new Float32Array(0)
  return runOf({ ...recorded, partials: recorded.partials.map((partial) => ({ ...partial, exits: none })) })
}

/** Their segments as they were recorded, batch by batch, and the watts of a ray that has lost nothing. */
export const recordsOf = ({ partials, emittedW, rays }: RecordedRays): [Float32Array[], number] => [
  partials.map(({ exits }) => exits),
  rays > 0 ? emittedW / rays : 0,
]

/** As `recordRays`, read. */
export async function traceRecorded(...args: Parameters<typeof recordRays>): Promise<RecordedRun> {
  const recorded = await recordRays(...args)
  return { run: runOfRecorded(recorded), segments: segmentsOfRecords(...recordsOf(recorded)) }
}
