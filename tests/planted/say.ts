// What the program says of hot places in the air: of its own light the danger sheet's worst place in front, the foci, the worst place
// beside and the ghost inside; of one sun direction the places of the search in the air. As src/job/danger/run.ts and
// src/job/beam/sunSearch.ts do it, without the rest of the sheet.
import { emptyRun } from '../../src/engine/partialTallies.ts'
import { runRounds } from '../../src/engine/rounds.ts'
import { traceRecorded } from '../../src/engine/segments.ts'
import { inlineWorker, makePool, type Pool } from '../../src/engine/workers/pool.ts'
import { readBeside } from '../../src/hazard/air/beside.ts'
import { searchAir } from '../../src/hazard/air/search.ts'
import { makeZoneOf, searchedBall } from '../../src/hazard/air/zones.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import { searchInFront } from '../../src/job/danger/inFront.ts'
import { brightestLight } from '../../src/job/power/brightest.ts'
import { frontZMm } from '../../src/lamp/front.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { thresholds } from '../../src/library/thresholds.ts'
import { runToEnd } from '../../src/num/scheduler.ts'
import { rayColumns } from '../../src/run/exits.ts'
import type { HotSpot } from '../../src/run/figure.ts'
import { addToColumns, clipToBall, RETURNED_SEGMENT, selectSegments } from '../../src/run/segments.ts'
import { compile, compileSun } from '../../src/scene/compile.ts'
import type { AirPlace, Say } from './compare.ts'
import type { Zone } from './lamps.ts'

const RAYS = 1 << 19
const RECORDED = 1 << 17
const AROUND_MM = 1000
const SUN_FLOOR_KW_M2 = 1.2

/** `share` of the rays that a danger sheet takes. */
export const sayWith =
  (share: number): Say =>
  async (lamp, light) => {
    const pool = makePool([inlineWorker()], 1)
    try {
      return await (light.light === 'lamp'
        ? ownLight(pool, lamp, share)
        : sunlight(pool, lamp, light.tiltDeg, light.azimuthDeg, share))
    } finally {
      pool.close()
    }
  }

const placeOf = ({ kWm2, se, xMm, yMm, zMm, discMm }: HotSpot, zone: Zone): AirPlace => ({
  kWm2,
  se,
  xMm,
  yMm,
  zMm,
  discMm,
  zone,
})

export const say: Say = sayWith(1)

async function ownLight(pool: Pool, lamp: Lamp, share: number): Promise<AirPlace[]> {
  const scene = compile(lamp, brightestLight(lamp))
  const shape = chooseShape(scene, lamp)
  const lit = scene.emittedW > 0
  const rays = { seed: 1, maxRays: share * RAYS, exitsBelow: share * RAYS }
  const run = lit ? await runRounds(pool, scene, shape, rays, () => true) : emptyRun(scene, shape, 1)
  const { segments } = await traceRecorded(pool, scene, shape, { seed: 1, rays: share * RECORDED })
  const stray = selectSegments(segments, (i) => segments.flags[i]! !== 0)
  const { hotDiscMm: discMm, ambientC } = lamp.reading
  const floorKWm2 = 0.5 * Math.min(...thresholds(lamp.danger, ambientC).map((t) => t.kWm2))
  const beam = rayColumns(run, frontZMm(lamp))
  const columns = addToColumns(beam, stray)
  const { front, foci } = runToEnd(searchInFront({ beam, all: columns }, lamp, floorKWm2))
  const { worst } = front
  const beside = runToEnd(readBeside(stray, lamp, { discMm, floorKWm2 }))
  const ball = searchedBall(lamp, 0)
  const returned = selectSegments(stray, (i) => (stray.flags[i]! & RETURNED_SEGMENT) !== 0)
  const options = { discMm, floorKWm2, zoneOf: makeZoneOf(lamp), searchSegments: 40_000, most: 4 }
  const ghosts = runToEnd(searchAir(clipToBall(returned, ball.centre, ball.radiusMm), options))
  return [
    ...[...(worst ? [worst] : []), ...foci].map((spot) => placeOf(spot, 'front')),
    ...(beside.worst ? [beside.worst] : []),
    ...ghosts.filter((p) => p.zone === 'inside'),
  ]
}

async function sunlight(
  pool: Pool,
  lamp: Lamp,
  tiltDeg: number,
  azimuthDeg: number,
  share: number,
): Promise<AirPlace[]> {
  const scene = compile(lamp, brightestLight(lamp))
  const shape = chooseShape(scene, lamp)
  // The truths are of an even disc.
  const sun = compileSun(scene, lamp, tiltDeg, azimuthDeg, 0)
  const { segments } = await traceRecorded(pool, sun, shape, { seed: 1, rays: share * RECORDED })
  const ball = searchedBall(lamp, AROUND_MM)
  const options = { discMm: lamp.reading.hotDiscMm, floorKWm2: SUN_FLOOR_KW_M2, zoneOf: makeZoneOf(lamp), most: 4 }
  return runToEnd(searchAir(clipToBall(segments, ball.centre, ball.radiusMm), options))
}
