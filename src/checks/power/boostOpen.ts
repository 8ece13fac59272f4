// A driver that lifts, and its string opens: the output rises to whatever its own limit is.
import type { Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { type Finding, partOf } from '../finding.ts'
import type { PowerParts } from '../powerParts.ts'
import { counted, upThree } from '../words.ts'

export function boostOpen(lamp: Lamp, { worst }: PowerParts): Finding[] {
  if (!lamp.power) return []
  return powerOf(lamp).value.drivers.flatMap((driver): Finding[] => {
    const own = worst.channels.filter((c) => c.driverId === driver.id)
    const ids = own.flatMap((c) => c.ids)
    if ((driver.kind !== 'boost' && driver.kind !== 'buck-boost') || ids.length === 0) return []
    const stringV = Math.max(...own.map((c) => c.outV.value))
    return [
      {
        rule: 'boost-opens',
        severity: 'warning',
        title: `“${driver.name}” steps up: when the string of one of ${counted(ids.length, 'channel')} opens, its output rises over the ${upThree(stringV)} V of the string to its own limit, which the document doesn’t name.`,
        why: 'A converter that holds a current raises its voltage until the current flows or its protection acts (how such converters work; no other source). A broken joint, a plug pulled off or a dead emitter opens the string: the contacts may then carry more than is safe to touch (60 V DC dry, 30 V wet), and the arc that it draws heats them.',
        cure: 'A driver whose data sheet names an open-circuit voltage under the limit of touch, insulation and connectors made for it, and plugs that nobody pulls under load.',
        place: { kind: 'part', part: 'heat' },
        parts: [partOf({ kind: 'driver', id: driver.id }), ...ids.map((id) => partOf({ kind: 'board', id }))],
      },
    ]
  })
}
