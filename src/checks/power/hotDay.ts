// A mode that stays under its limit in the air of the document and would not on a hot day.
import { boardTypeOf } from '../../lamp/place.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Finding } from '../finding.ts'
import { most, namesByFirst, type PowerParts } from '../powerParts.ts'
import { apart, celsiusDown, degreesC } from '../words.ts'

/** Air in the shade on a hot day, °C (our choice; rooms and cars get hotter). */
const HOT_DAY_C = 40
/** In air that is as warm already: what the model may be off by (our choice). */
const LEAST_K = 5

export function hotDay(lamp: Lamp, { modes }: PowerParts): Finding[] {
  const { ambientC } = lamp.reading
  if (!lamp.cooling || lamp.boards.length === 0) return []
  const emitters = new Set(lamp.boards.map((b) => boardTypeOf(lamp, b).emitter))
  const limitC = Math.min(...lamp.emitterTypes.filter((e) => emitters.has(e.id)).map((e) => e.maxJunctionC))
  const near = modes.flatMap((m) => {
    const marginK = limitC - most(m.curves.junctionMaxC)
    const isClose = m.limit.kind !== 'junction' && ambientC + marginK < Math.max(HOT_DAY_C, ambientC + LEAST_K)
    return isClose && m.limit.atS > 0 ? [{ name: m.name, atS: marginK }] : []
  })
  if (near.length === 0) return []
  const marginK = Math.max(0, Math.min(...near.map((m) => m.atS)))
  return [
    {
      rule: 'hot-day',
      severity: 'warning',
      title: `${namesByFirst(near, (m) => m.atS).replace('first in', 'least in')} ${near.length > 1 ? 'stay' : 'stays'} ${apart(Math.floor(marginK))} under the emitters’ limit of ${degreesC(limitC)} in air of ${degreesC(ambientC)}: in air of ${celsiusDown(ambientC + marginK)} it is reached.`,
      why: `What a lamp is hotter than the air hardly changes with it. A hot day has ${degreesC(HOT_DAY_C)} (our choice), a closed room or a car more; sun on the sink, dust between the fins and a worse joint come on top.`,
      cure: 'Enter the warmest air in which it is used; a step-down by the junctions or the plate, more sink or air, or less current.',
      place: { kind: 'part', part: 'heat' },
    },
  ]
}
