// Connectors in leads that end on a hot plate.
import type { Lamp } from '../../lamp/schema.ts'
import type { WireRun } from '../../power/schedule.ts'
import { type Finding, partOf } from '../finding.ts'
import { leftOnReason, type PowerParts } from '../powerParts.ts'
import { celsius, counted, degreesC } from '../words.ts'

/** Usual housings of polyamide with usual contacts (makers’ sheets, from memory). */
const HOUSING_C = 105

const topC = (w: WireRun): number => Math.max(w.airC, w.leftOnC ?? w.airC)

export function connectorsHot(lamp: Lamp, { wiring, modes }: PowerParts): Finding[] {
  if (!lamp.power) return []
  const hot = wiring.filter((w) => w.part === 'board' && w.connectors > 0 && topC(w) > HOUSING_C)
  const worst = hot.reduce<WireRun | null>((a, b) => (a && topC(a) >= topC(b) ? a : b), null)
  if (!worst) return []
  const left = worst.leftOnC === null ? '' : `, left on past its limit to ${celsius(worst.leftOnC)}`
  return [
    {
      rule: 'connectors-hot',
      severity: 'warning',
      title: `${counted(hot.length, 'run')} to a board with connectors, and the plate gets to ${celsius(worst.airC)}${left}: usual housings bear ${degreesC(HOUSING_C)}.`,
      why: `A warm contact’s spring softens, its resistance rises, and it warms more. Every connector of a lead that ends on the plate is taken to sit there; the limit is that of usual polyamide housings (memory), a connector’s own data come first. ${leftOnReason(modes)}`.trimEnd(),
      cure: 'Solder at the board, move the connectors away from the plate, or choose ones for this temperature.',
      place: { kind: 'part', part: 'heat' },
      parts: [partOf({ kind: 'contacts' }), ...hot.map((w) => partOf({ kind: 'wire', id: w.id }))],
    },
  ]
}
