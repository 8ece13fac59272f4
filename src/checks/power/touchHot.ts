// Metal that burns who touches it, by the length of the contact.
import { passesAt } from '../../heat/limits.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { burningContact, CONTACT_SOURCE, CONTACTS, contactWords, touchBurnsFromC } from '../../library/contactBurns.ts'
import { ratedSinkOf } from '../../library/typicalPower.ts'
import type { Finding } from '../finding.ts'
import { most, namesByMost, type PowerParts } from '../powerParts.ts'
import { seconds } from '../words.ts'

const upperC = (c: number): string => String(Math.ceil(c))

/** Under this temperature only a contact of hours burns: worth knowing, no more. */
const MINUTES_FROM_C = 48

export function touchHot(lamp: Lamp, { modes }: PowerParts): Finding[] {
  const tops = modes.map((m) => {
    const topC = most(m.curves.plateMaxC)
    return { name: m.name, curves: m.curves, topC, contact: burningContact('metal', topC) }
  })
  const topC = tops.reduce((top, m) => Math.max(top, m.topC), 0)
  const contact = burningContact('metal', topC)
  if (!contact) return []
  const worst = tops.filter((m) => m.contact === contact)
  const fromC = touchBurnsFromC('metal', CONTACTS.indexOf(contact))
  const from = worst.flatMap((m) => {
    const atS = passesAt(m.curves, fromC)
    return atS === null ? [] : [`in “${m.name}” ${atS === 0 ? 'at once' : `after ${seconds(atS)}`}`]
  })
  return [
    {
      rule: 'touch-hot',
      severity: topC >= 65 ? 'severe' : topC >= MINUTES_FROM_C ? 'warning' : 'note',
      title: `Plate and sink get to ${upperC(topC)} °C in ${namesByMost(worst, (m) => m.topC, upperC)}: a touch of ${contact.words} burns.`,
      why: `${from.length > 0 ? `That burns from ${fromC} °C on: ${from.join(', ')}. ` : ''}Burn thresholds for bare metal: ${contactWords('metal')} (${CONTACT_SOURCE}). The plate’s hottest place is taken for all of it${baseWords(lamp, modes)}; the metal stays hot long after the light is off.`,
      cure: 'Keep hands off by a handle, a guard or a distance; mark it hot; step down before it gets there.',
      place: { kind: 'part', part: 'face' },
    },
  ]
}

/** Of a sink by its data sheet only the base's temperature is known. */
function baseWords(lamp: Lamp, modes: PowerParts['modes']): string {
  const tops = modes.flatMap((m) => (m.curves.sinkC && ratedSinkOf(lamp) ? [most(m.curves.sinkC)] : []))
  return tops.length > 0 ? `, the base of the sink gets to ${Math.ceil(Math.max(...tops))} °C` : ''
}
