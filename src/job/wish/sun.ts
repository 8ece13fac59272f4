// The sun that falls into a lamp backwards: by the bound where that is safe, else traced from every side.
import type { Finding } from '../../checks/finding.ts'
import { plasticLimits } from '../../checks/plastic.ts'
import { sunInside } from '../../checks/sheet/sunInside.ts'
import { inlineWorker, makePool } from '../../engine/workers/pool.ts'
import { hotSunWm2 } from '../../hazard/solar.ts'
import { solveOperatingPoint } from '../../heat/operating.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeScheduler } from '../../num/scheduler.ts'
import { compile } from '../../scene/compile.ts'
import { mostSunKWm2 } from '../beam/mostSun.ts'
import { traceSun } from '../beam/sun.ts'

/** kW/m² on the disc that hot spots are read over, of the sun as the findings take it. */
const sunKWm2 = ({ reading }: Lamp): number => hotSunWm2(reading.sunWm2) / 1000

/** Severe from here on. */
const limitKWm2 = ({ reading }: Lamp): number => plasticLimits(reading.ambientC).ignitesKWm2

/** The widest round lens, mm, that can't make the sun strong enough to light plastic: π/4 D² · E = E_ignites · π/4 d² over a disc of d. */
export const sunSafeLensMm = (lamp: Lamp): number => lamp.reading.hotDiscMm * Math.sqrt(limitKWm2(lamp) / sunKWm2(lamp))

/** What the beam sheet says of the sun inside; not of the sun thrown out again, which the danger sheet does. */
export async function sunFindings(lamp: Lamp, seed: number): Promise<Finding[]> {
  if (mostSunKWm2(lamp) < limitKWm2(lamp)) return sunInside(lamp, { sun: [] })
  const pool = makePool([inlineWorker(queueMicrotask)])
  const scene = compile(lamp, solveOperatingPoint(lamp))
  const sun = await traceSun(pool, scene, lamp, makeScheduler(), { seed, rough: true })
  pool.close()
  return sunInside(lamp, { sun })
}
