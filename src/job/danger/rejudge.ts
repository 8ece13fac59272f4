// A danger sheet judged again without a new trace, when only what the light is compared with has changed: thresholds, distances, things in the
// way, the place in the sun.
import { checkDanger } from '../../checks/danger.ts'
import { lightInFront, readHarmAt, readThings } from '../../hazard/inTheWay.ts'
import { onFrontKWm2 } from '../../hazard/onParts.ts'
import { readSunDay, USUAL_SUN } from '../../hazard/sunDay.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { thresholds } from '../../library/thresholds.ts'
import type { DangerReading } from './result.ts'
import { clearOf } from './run.ts'

/** `lamp` must give the same trace as the one of the reading (`sameTrace`). */
export function rejudge(reading: DangerReading, lamp: Lamp): DangerReading {
  const table = thresholds(lamp.danger, reading.ambientC)
  const { front, small, sunMap, sunWm2, ambientC } = reading
  const distancesMm = [...new Set([...reading.harm.map((h) => h.distanceMm), ...(lamp.danger?.askedMm ?? [])])]
  const light = lightInFront(front, { small, onLensKWm2: onFrontKWm2(reading.parts) })
  const again = {
    ...reading,
    lamp: lamp.name,
    clear: clearOf(reading, lamp),
    harm: distancesMm.sort((a, b) => a - b).map((d) => readHarmAt(front, d, table, ambientC, light)),
    things: readThings(front, lamp, table, light),
    sunDay: sunMap.length > 0 ? readSunDay(lamp, sunMap, sunWm2, lamp.danger?.sun ?? USUAL_SUN) : null,
  }
  return { ...again, findings: checkDanger(lamp, again) }
}
