// The effect of each part: the same lamp without it, traced by the same rules.
import { readBeam } from '../../beam/beam.ts'
import { makeGpuForward } from '../../engine/gpuForward.ts'
import { recycleRun } from '../../engine/partialTallies.ts'
import { runRounds } from '../../engine/rounds.ts'
import type { Pool } from '../../engine/workers/pool.ts'
import type { Lamp, OpticType } from '../../lamp/schema.ts'
import { lensesLeftOut, withoutLenses } from '../../library/lensSystem.ts'
import type { Scheduler } from '../../num/scheduler.ts'
import { compile } from '../../scene/compile.ts'
import { lampOperatingPoint } from '../power/light.ts'
import { chooseShape } from './pilot.ts'
import type { JobOptions, Variant } from './sheet.ts'

const RAYS = 1 << 20

/** The lamps to compare with; a part that isn't there can't be taken away. */
function variantsOf(lamp: Lamp): { name: Variant['name']; lamp: Lamp }[] {
  const out: { name: Variant['name']; lamp: Lamp }[] = []
  const lensless = withoutLenses(lamp)
  if (lensless) out.push({ name: 'without lens', lamp: lensless })
  if (lamp.tunnel) out.push({ name: 'without tunnel', lamp: { ...lamp, tunnel: null } })
  if (lamp.opticTypes.some((o) => o.kind !== 'bare')) out.push({ name: 'bare emitters', lamp: withBareEmitters(lamp) })
  return out
}

function withBareEmitters(lamp: Lamp): Lamp {
  const opticTypes = lamp.opticTypes.map((o): OpticType => ({ kind: 'bare', id: o.id, name: o.name }))
  return { ...lamp, opticTypes }
}

/** Yields the list so far after each. Throws `Cancelled`. */
export async function* traceVariants(
  pool: Pool,
  lamp: Lamp,
  scheduler: Scheduler,
  { seed, graphics, graphicsFirst }: Pick<JobOptions, 'seed' | 'graphics' | 'graphicsFirst'>,
): AsyncGenerator<Variant[]> {
  const list: Variant[] = []
  const light = lampOperatingPoint(lamp)
  for (const variant of variantsOf(lamp)) {
    // As warm as the lamp itself: what is compared is the way of the same light.
    const scene = compile(variant.lamp, light)
    const shape = chooseShape(scene, variant.lamp)
    const rounds = { seed, maxRays: RAYS, exitsBelow: 0, plainRandom: false }
    const gpuForward = makeGpuForward(graphics, scene, shape, rounds, true)
    if (graphicsFirst) await gpuForward.ready
    const run = await runRounds(pool, scene, shape, { ...rounds, gpuTracer: gpuForward.tracer }, async () => {
      await scheduler.checkpoint()
      return true
    }).finally(gpuForward.close)
    const leftOut = variant.name === 'without lens' ? lensesLeftOut(lamp) : null
    list.push({
      ...{ name: variant.name, figures: readBeam(run, variant.lamp).figures, rays: run.rays },
      ...(leftOut ? { leftOut } : {}),
    })
    recycleRun(run)
    yield [...list]
  }
}
