// Bare contacts over the touch-safe voltage: strings, and the supply itself.
import type { Lamp } from '../../lamp/schema.ts'
import { type Finding, partOf } from '../finding.ts'
import type { PowerParts } from '../powerParts.ts'
import { upThree } from '../words.ts'

/** Extra-low voltage that may be bare: dry, and where it can get wet. V DC, free of ripple. */
const DRY_V = 60
const WET_V = 30

export function touchVoltage(lamp: Lamp, { worst }: PowerParts): Finding[] {
  if (lamp.boards.length === 0) return []
  const supplyV = worst.fullV
  const stringV = worst.channels.reduce((most, c) => Math.max(most, c.outV.value), 0)
  const highest = Math.max(supplyV, stringV)
  if (highest <= WET_V) return []
  const over = highest > DRY_V
  const live = worst.channels.filter((c) => c.outV.value > WET_V).flatMap((c) => c.ids)
  return [
    {
      rule: 'touch-voltage',
      severity: over ? 'severe' : 'warning',
      title: `Up to ${upThree(highest)} V DC on bare contacts (strings ${upThree(stringV)} V, full supply ${upThree(supplyV)} V): over ${over ? `the ${DRY_V} V that are safe to touch dry` : `the ${WET_V} V that are safe to touch wet`}.`,
      why: `Extra-low voltage needs no cover up to 60 V DC in the dry and 30 V where it can get wet: IEC 60598-1, 8.2.3 (second-hand); IEC 60364-4-41, 414.4.5, and IEC 61140 (memory). Strings cold, the supply full, whatever charge was entered. A step-up driver gives more than its string’s voltage when the string opens; that isn’t computed. Local codes come first.`,
      cure: `Insulate every contact, connector and pad that a finger can reach${over ? ', or use shorter strings or fewer cells in series' : ' or rain can'}; work on it only when it is off.`,
      place: { kind: 'part', part: 'heat' },
      parts: [
        ...(supplyV > WET_V ? [partOf({ kind: 'supply' })] : []),
        ...live.map((id) => partOf({ kind: 'board', id })),
      ],
    },
  ]
}
