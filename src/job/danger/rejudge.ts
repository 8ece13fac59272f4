// A danger sheet told again without a new trace, when only what is asked of the light has changed: thresholds, distances, things in the
// way, the place in the sun.
import { checkDanger } from '../../checks/danger.ts'
import { readHarmAt, readThing, USUAL_THINGS } from '../../hazard/inTheWay.ts'
import { readSunDay, USUAL_SUN } from '../../hazard/sunDay.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { thresholds } from '../../library/thresholds.ts'
import { clearOf } from './danger.ts'
import type { DangerReading } from './result.ts'

export function told(reading: DangerReading, lamp: Lamp): DangerReading {
  const table = thresholds(lamp.danger)
  const { front, worstKWm2, sunMap, sunWm2, ambientC } = reading
  const asked = [...new Set([...reading.harm.map((h) => h.distanceMm), ...(lamp.danger?.askedMm ?? [])])]
  const again = {
    ...reading,
    lamp: lamp.name,
    clear: clearOf(front, worstKWm2, lamp),
    harm: asked.sort((a, b) => a - b).map((d) => readHarmAt(front, d, table, ambientC)),
    things: [...USUAL_THINGS, ...(lamp.danger?.things ?? [])].map((t) => readThing(front, t, table, ambientC)),
    sunDay: sunMap.length > 0 ? readSunDay(lamp, sunMap, sunWm2, lamp.danger?.sun ?? USUAL_SUN) : null,
  }
  return { ...again, findings: checkDanger(lamp, again) }
}
