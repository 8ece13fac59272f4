// The most that a lamp can make of the sun inside, before any sunlight is traced.
import { hotSunWm2 } from '../../hazard/solar.ts'
import { mostConcentration, openingMm2 } from '../../hazard/sunBound.ts'
import type { Lamp } from '../../lamp/schema.ts'

/** kW/m² over the disc that hot spots are read over, from whichever side: a bound (hazard/sunBound.ts). 0 for an open lamp, and where no sun is taken. */
export const mostSunKWm2 = (lamp: Lamp): number =>
  (mostConcentration(openingMm2(lamp), lamp.reading.hotDiscMm) * hotSunWm2(lamp.reading.sunWm2)) / 1000
