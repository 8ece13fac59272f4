// What the program says of hot places in the air: of its own light the danger sheet's worst place in front and its foci, of the sun the
// spot of the sun's map. To be replaced by the search over all the air.
import { emptyRun } from '../../src/engine/partialTallies.ts'
import { runRounds } from '../../src/engine/rounds.ts'
import { inlineWorker, makePool } from '../../src/engine/workers/pool.ts'
import { searchFoci } from '../../src/hazard/foci.ts'
import { searchFront } from '../../src/hazard/front.ts'
import { readSunPoints } from '../../src/hazard/sunMap.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import { lampOperatingPoint } from '../../src/job/power/light.ts'
import { frontZMm } from '../../src/lamp/front.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { thresholds } from '../../src/library/thresholds.ts'
import { runToEnd } from '../../src/num/scheduler.ts'
import type { HotSpot } from '../../src/run/figure.ts'
import type { Run } from '../../src/run/types.ts'
import { compile, compileSun } from '../../src/scene/compile.ts'
import type { Scene } from '../../src/scene/scene.ts'
import type { AirPlace, Say } from './compare.ts'
import type { Zone } from './lamps.ts'

/** As the danger sheet does it (src/job/danger/run.ts): so many exit rays are searched, so many rays of sunlight are traced. */
const RAYS = 1 << 19
const SUN_RAYS = 1 << 16

export const sayToday: Say = (lamp, light) =>
  light.light === 'lamp' ? ownLight(lamp) : sunlight(lamp, light.tiltDeg, light.azimuthDeg)

const placeOf = ({ kWm2, se, xMm, yMm, zMm, discMm }: HotSpot, zone: Zone): AirPlace => ({
  kWm2,
  se,
  xMm,
  yMm,
  zMm,
  discMm,
  zone,
})

async function runOf(lamp: Lamp, from: Scene, of: Scene, maxRays: number): Promise<Run> {
  const shape = chooseShape(from, lamp)
  if (!(of.emittedW > 0)) return emptyRun(of, shape, 1)
  const pool = makePool([inlineWorker()], 1)
  try {
    return await runRounds(pool, of, shape, { seed: 1, maxRays, exitsBelow: maxRays }, () => true)
  } finally {
    pool.close()
  }
}

async function ownLight(lamp: Lamp): Promise<AirPlace[]> {
  const scene = compile(lamp, lampOperatingPoint(lamp))
  const run = await runOf(lamp, scene, scene, RAYS)
  const discMm = lamp.reading.hotDiscMm
  const floorKWm2 = 0.5 * Math.min(...thresholds(lamp.danger).map((t) => t.kWm2))
  const front = frontZMm(lamp)
  const { worst } = runToEnd(searchFront(run, front, { discMm, lookRays: 65_536, measureRays: 262_144 }))
  const foci = runToEnd(searchFoci(run, front, { discMm, floorKWm2 }))
  return [...(worst ? [worst] : []), ...foci].map((spot) => placeOf(spot, 'front'))
}

async function sunlight(lamp: Lamp, tiltDeg: number, azimuthDeg: number): Promise<AirPlace[]> {
  const scene = compile(lamp, lampOperatingPoint(lamp))
  const run = await runOf(lamp, scene, compileSun(scene, lamp, tiltDeg, azimuthDeg), SUN_RAYS)
  return readSunPoints({ tiltDeg, run }, lamp, azimuthDeg, [0]).map((spot) => placeOf(spot, 'inside'))
}
