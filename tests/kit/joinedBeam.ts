// The beam of a lamp as a settled sheet says it, forward and backward joined, in this thread and without the danger of it.
import { type Beam, readLight } from '../../src/beam/beam.ts'
import { readTarget } from '../../src/beam/target.ts'
import { makeBackwardEstimates } from '../../src/engine/progressive.ts'
import { inlineWorker, makePool } from '../../src/engine/workers/pool.ts'
import type { AimEstimate } from '../../src/job/beam/aims.ts'
import { makeAimEstimates } from '../../src/job/beam/backwardEstimates.ts'
import { joinBackward } from '../../src/job/beam/joinBackward.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { BATCHES } from '../../src/run/types.ts'
import { sceneOf, traceScene } from './traceHere.ts'

export async function joinedBeam(lamp: Lamp, { rays, seed }: { rays: number; seed: number }): Promise<Beam> {
  const scene = sceneOf(lamp)
  const shape = chooseShape(scene, lamp)
  const run = traceScene(scene, shape, { rays, seed })
  const forward = { run, rays: run.rays, beam: readLight(run, lamp), target: readTarget(run, lamp) }
  const pool = makePool([inlineWorker(queueMicrotask)])
  const estimates = makeBackwardEstimates(pool, scene, shape, { seed, plainRandom: false, exitsBelow: 0 })
  const onAxis = { kind: 'cone', thetaRad: 0, phiRad: 0, halfRad: shape.axialConeHalfRad } as const
  const axis = estimates ? await estimates.at(onAxis).upTo(rays / BATCHES / 16) : null
  const beside = estimates && makeAimEstimates(estimates, shape, lamp)
  let aims: AimEstimate[] = []
  // As often as a trace does at its end.
  for (let time = 0; beside && time < 4; time++) {
    beside.request(forward, axis)
    aims = await beside.take()
  }
  estimates?.close()
  pool.close()
  return joinBackward(forward, axis, aims).beam
}
