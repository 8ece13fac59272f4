// The sun falling in, for the beam sheet: the worst spot at each tilt, the worst tilts found by search among them.
import type { Pool } from '../../engine/workers/pool.ts'
import { upperKWm2 } from '../../hazard/discs.ts'
import { hotSunWm2 } from '../../hazard/solar.ts'
import type { SunAtTilt } from '../../hazard/sun.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Scheduler } from '../../num/scheduler.ts'
import type { Scene } from '../../scene/scene.ts'
import { chooseShape } from './pilot.ts'
import type { JobOptions } from './sheet.ts'
import { searchSuns } from './sunSearch.ts'
import type { SunThread } from './sunThread.ts'

/** The beam's own rounds go on beside it: half of what the danger sheet takes. */
const RAYS = 1 << 13

/**
 * Worst spot at each tilt, over all azimuths, the user's own tilt among them; empty without sun. `rough`: half the rays, and only the directions of the
 * grid. `thread`: reads in place of this one, with the same bits. Throws `Cancelled`.
 */
export async function traceSun(
  pool: Pool,
  scene: Scene,
  lamp: Lamp,
  scheduler: Scheduler,
  { seed, rough = false }: Pick<JobOptions, 'seed'> & { rough?: boolean },
  thread?: SunThread,
): Promise<SunAtTilt[]> {
  const sunWm2 = hotSunWm2(lamp.reading.sunWm2)
  if (!(sunWm2 > 0)) return []
  const lit = { ...lamp, reading: { ...lamp.reading, sunWm2 } }
  const shape = chooseShape(scene, lamp)
  const { points } = await searchSuns(
    pool,
    { lamp: lit, scene, shape },
    {
      seed,
      rays: rough ? RAYS / 2 : RAYS,
      insideOnly: true,
      mapOnly: true,
      thread: thread?.open(),
      ...(rough && { searched: [] }),
    },
    scheduler,
  )
  const byTilt = new Map<number, SunAtTilt>()
  for (const point of points) {
    const known = byTilt.get(point.tiltDeg)
    if (!known || upperKWm2(point) > upperKWm2(known)) byTilt.set(point.tiltDeg, point)
  }
  return [...byTilt.values()]
}
