// A run whose rays leave their segments in air: what the search for hot places reads, with the maps of the surfaces beside.
import { type Segments, segmentsOfRecords } from '../run/segments.ts'
import { BATCHES, type Run, type TallyShape } from '../run/types.ts'
import type { Scene } from '../scene/scene.ts'
import { emptyRun, runOf } from './partialTallies.ts'
import type { Pool } from './workers/pool.ts'

export interface RecordedRun {
  /** Without exit rays: they are among the segments. */
  run: Run
  segments: Segments
}

/**
 * The first `rays` rays (rounded up to whole batches) of a run with this seed and their segments: the same rays as the run's own. An empty
 * run of a scene without light. Rejects with `Cancelled` when the pool is cleared.
 */
export async function traceRecorded(
  pool: Pool,
  scene: Scene,
  shape: TallyShape,
  { seed, rays }: { seed: number; rays: number },
): Promise<RecordedRun> {
  if (!(scene.emittedW > 0)) return { run: emptyRun(scene, shape, seed), segments: segmentsOfRecords([], 0) }
  const each = Math.max(1, Math.ceil(rays / BATCHES))
  const traced = each * BATCHES
  const loaded = pool.load(scene, shape, { seed, plainRandom: false, exitsBelow: 0 })
  try {
    const replies = await Promise.all(Array.from({ length: BATCHES }, (_, batch) => loaded.record(batch, 0, each)))
    const partials = replies.map((reply) => ({ ...reply, exits: new Float32Array(0) }))
    const { emittedLm, emittedW } = scene
    const segments = segmentsOfRecords(
      replies.map((reply) => reply.exits),
      emittedW / traced,
    )
    return { run: runOf({ seed, shape, emittedLm, emittedW, rays: traced, recorded: 0, partials }), segments }
  } finally {
    loaded.unload()
  }
}
