// The sun falling in backwards, at a row of tilts: a small run each, the same interfaces as the beam's.

import { makeGpuForward } from '../../engine/gpuForward.ts'
import { recycleRun } from '../../engine/partialTallies.ts'
import { runRounds } from '../../engine/rounds.ts'
import type { Pool } from '../../engine/workers/pool.ts'
import { readSun, type SunAtTilt } from '../../hazard/sun.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Scheduler } from '../../num/scheduler.ts'
import { compileSun } from '../../scene/compile.ts'
import type { Scene } from '../../scene/scene.ts'
import { chooseShape } from './pilot.ts'
import type { JobOptions } from './sheet.ts'

const TILTS = [0, 1, 2, 3, 5, 7, 10, 15, 20, 30, 45, 60]
const RAYS = 1 << 17

/** Worst spot inside at each tilt, the user's own tilt among them; empty without sun. Throws `Cancelled`. */
export async function traceSun(
  pool: Pool,
  scene: Scene,
  lamp: Lamp,
  scheduler: Scheduler,
  { seed, graphics, graphicsFirst }: Pick<JobOptions, 'seed' | 'graphics' | 'graphicsFirst'>,
): Promise<SunAtTilt[]> {
  if (!(lamp.reading.sunWm2 > 0)) return []
  const tilts = [...new Set([...TILTS, lamp.reading.sunTiltDeg])].sort((a, b) => a - b)
  const shape = chooseShape(scene, lamp)
  const out: SunAtTilt[] = []
  for (const tiltDeg of tilts) {
    const sun = compileSun(scene, lamp, tiltDeg)
    const rounds = { seed, maxRays: RAYS, exitsBelow: RAYS, plainRandom: false }
    const gpuForward = makeGpuForward(graphics, sun, shape, rounds, true)
    if (graphicsFirst) await gpuForward.ready
    const run = await runRounds(pool, sun, shape, { ...rounds, gpuTracer: gpuForward.tracer }, async () => {
      await scheduler.checkpoint()
      return true
    }).finally(gpuForward.close)
    const spot = readSun({ tiltDeg, run }, lamp)
    if (spot) out.push(spot)
    recycleRun(run)
  }
  return out
}
