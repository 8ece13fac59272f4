// What the program says of hot places in the air: of its own light the danger sheet's worst place in front and its foci, of the sun the
// spot of the sun's map. To be replaced by the search over all the air.
import { emptyRun } from '../../src/engine/partialTallies.ts'
import { runRounds } from '../../src/engine/rounds.ts'
import { inlineWorker, makePool } from '../../src/engine/workers/pool.ts'
import { readSunPoints } from '../../src/hazard/sunMap.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import { dangerInNode } from '../../src/job/danger/node.ts'
import { lampOperatingPoint } from '../../src/job/power/light.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { compile, compileSun } from '../../src/scene/compile.ts'
import type { AirPlace, Say } from './compare.ts'

const RAYS = 1_000_000
const SUN_RAYS = 1 << 16

export const sayToday: Say = (lamp, light) =>
  light.light === 'lamp' ? ownLight(lamp) : sunlight(lamp, light.tiltDeg, light.azimuthDeg)

async function ownLight(lamp: Lamp): Promise<AirPlace[]> {
  const { front, foci } = await dangerInNode(lamp, { threads: 0, seed: 1, maxRays: RAYS, tiltsDeg: [], sunRays: 16 })
  const spots = front.worst ? [front.worst, ...foci] : foci
  return spots.map(({ kWm2, se, xMm, yMm, zMm, discMm }) => ({ kWm2, se, xMm, yMm, zMm, discMm, zone: 'front' }))
}

async function sunlight(lamp: Lamp, tiltDeg: number, azimuthDeg: number): Promise<AirPlace[]> {
  const scene = compile(lamp, lampOperatingPoint(lamp))
  const sun = compileSun(scene, lamp, tiltDeg, azimuthDeg)
  const pool = makePool([inlineWorker()], 1)
  try {
    const shape = chooseShape(scene, lamp)
    const options = { seed: 1, maxRays: SUN_RAYS, exitsBelow: SUN_RAYS }
    const run = sun.emittedW > 0 ? await runRounds(pool, sun, shape, options, () => true) : emptyRun(sun, shape, 1)
    return readSunPoints({ tiltDeg, run }, lamp, azimuthDeg, [0]).map((p) => ({ ...p, zone: 'inside' }))
  } finally {
    pool.close()
  }
}
