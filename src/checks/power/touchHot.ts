// Metal that burns who touches it, by the length of the contact.
import { passesAt } from '../../heat/limits.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { burningContact, CONTACT_SOURCE, CONTACTS, contactWords, touchBurnsFromC } from '../../library/contactBurns.ts'
import { ratedSinkOf } from '../../library/typicalPower.ts'
import type { Finding } from '../finding.ts'
import { leftOnReason, namesByMost, type PowerParts, topsOf } from '../powerParts.ts'
import { celsius, degreesC, seconds } from '../words.ts'

const upperC = (c: number): string => String(Math.ceil(c))

/** Under this temperature only a contact of hours burns: worth knowing, no more. */
const MINUTES_FROM_C = 48
/** Surfaces that can burn stay below it in normal use: IEC 60598-1 (memory), as for lit walls in src/library/thresholds.ts. */
const TIMBER_C = 90

export function touchHot(lamp: Lamp, { modes }: PowerParts): Finding[] {
  const tops = modes.map((m) => {
    const { top: topC, atLimit, leftOn } = topsOf(m, (c) => c.plateMaxC)
    return { ...m, topC, atLimit, onC: leftOn, contact: burningContact('metal', topC) }
  })
  const topC = tops.reduce((top, m) => Math.max(top, m.topC), 0)
  const contact = burningContact('metal', topC)
  if (!contact) return []
  const worst = tops.filter((m) => m.contact === contact)
  const fromC = touchBurnsFromC('metal', CONTACTS.indexOf(contact))
  const from = worst.flatMap((m) => {
    // The longer run holds the shorter one.
    const atS = passesAt((m.leftOn ?? m).curves, fromC)
    return atS === null ? [] : [`in “${m.name}” ${atS === 0 ? 'at once' : `after ${seconds(atS)}`}`]
  })
  return [
    {
      rule: 'touch-hot',
      severity: topC >= 65 ? 'severe' : topC >= MINUTES_FROM_C ? 'warning' : 'note',
      title: `Plate and sink get to ${placeWords(worst)}: a touch of ${contact.words} burns.`,
      why: `${leftOnReason(worst)}${from.length > 0 ? `That burns from ${degreesC(fromC)} on: ${from.join(', ')}. ` : ''}Burn thresholds for bare metal: ${contactWords('metal')} (${CONTACT_SOURCE}). The plate’s hottest place is taken for all of it${baseWords(lamp, modes)}; the metal stays hot long after the light is off.${topC > TIMBER_C ? ` Over ${degreesC(TIMBER_C)} it must not touch what burns: timber, cloth, grass (IEC 60598-1, lit or touched surfaces that can burn: memory).` : ''}`,
      cure: `Keep hands off by a handle, a guard or a distance; mark it hot; step down before it gets there.${topC > TIMBER_C ? ' Keep it clear of everything that burns.' : ''}`,
      place: { kind: 'part', part: 'face' },
    },
  ]
}

interface Top {
  name: string
  topC: number
  atLimit: number
  onC: number | null
}

/** Up to the emitters' limit, and left on. */
function placeWords(worst: readonly Top[]): string {
  const left = worst.filter((m) => m.onC !== null)
  if (left.length === 0)
    return `${celsius(Math.max(...worst.map((m) => m.topC)))} in ${namesByMost(worst, (m) => m.topC, upperC)}`
  const first = `${celsius(Math.max(...worst.map((m) => m.atLimit)))} in ${namesByMost(worst, (m) => m.atLimit, upperC)}`
  const onC = Math.max(...left.map((m) => m.onC ?? 0))
  return `${first}, left on past its limit to ${celsius(onC)}${left.length < worst.length ? ` in ${namesByMost(left, (m) => m.onC ?? 0, upperC)}` : ''}`
}

/** Of a sink by its data sheet only the base's temperature is known. */
function baseWords(lamp: Lamp, modes: PowerParts['modes']): string {
  const tops = modes.flatMap((m) => (m.curves.sinkC && ratedSinkOf(lamp) ? [topsOf(m, (c) => c.sinkC).top] : []))
  return tops.length > 0 ? `, the base of the sink gets to ${celsius(Math.max(...tops))}` : ''
}
