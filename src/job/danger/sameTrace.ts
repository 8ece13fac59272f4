// Whether a danger sheet can be judged again from the same trace.
import type { Lamp } from '../../lamp/schema.ts'
import { withoutMaking } from '../../lamp/withoutMaking.ts'
import { thresholds } from '../../library/thresholds.ts'

const lowestKWm2 = (lamp: Lamp): number => Math.min(...thresholds(lamp.danger).map((t) => t.kWm2))

/** The light and the heat are the same, and no focus that was too weak to be searched for counts now. */
export function sameTrace(now: Lamp, before: Lamp): boolean {
  const light = (lamp: Lamp) => JSON.stringify({ ...withoutMaking(lamp), danger: null, name: null, powerUp: null })
  return light(now) === light(before) && lowestKWm2(now) >= lowestKWm2(before)
}
