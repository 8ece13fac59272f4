// The straight stretches of a number of rays in air, traced by the pool: what the search for hot places reads.
import { type Pieces, piecesOfRecords } from '../run/pieces.ts'
import { BATCHES, type TallyShape } from '../run/types.ts'
import type { Scene } from '../scene/scene.ts'
import type { Pool } from './workers/pool.ts'

/**
 * Stretches of the first `rays` rays (rounded up to whole batches) of a run with this seed: the same rays as the run's own. No stretches
 * of a scene without light. `shape`: any of the scene's; nothing is counted.
 */
export async function tracePieces(
  pool: Pool,
  scene: Scene,
  shape: TallyShape,
  { seed, rays }: { seed: number; rays: number },
): Promise<Pieces> {
  if (!(scene.emittedW > 0)) return piecesOfRecords([], 0)
  const each = Math.max(1, Math.ceil(rays / BATCHES))
  const loaded = pool.load(scene, shape, { seed, plainRandom: false, exitsBelow: 0 })
  try {
    const records = await Promise.all(Array.from({ length: BATCHES }, (_, batch) => loaded.record(batch, 0, each)))
    return piecesOfRecords(records, scene.emittedW / (each * BATCHES))
  } finally {
    loaded.unload()
  }
}
