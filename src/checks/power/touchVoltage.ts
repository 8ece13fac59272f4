// Bare contacts over the touch-safe voltage: strings, and the supply itself.
import type { Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { makeSource, supplyRangeV } from '../../power/supply.ts'
import type { Finding } from '../finding.ts'
import type { PowerParts } from '../powerParts.ts'
import { upThree } from '../words.ts'

/** Extra-low voltage that may be bare: dry, and where it can get wet. V DC, free of ripple. */
const DRY_V = 60
const WET_V = 30

export function touchVoltage(lamp: Lamp, { modes }: PowerParts): Finding[] {
  if (lamp.boards.length === 0) return []
  const [supplyV] = supplyRangeV(makeSource(powerOf(lamp).value.supply))
  const stringV = modes.flatMap((m) => m.channels.map((c) => c.outV)).reduce((a, b) => Math.max(a, b), 0)
  const highest = Math.max(supplyV, stringV)
  if (highest <= WET_V) return []
  const over = highest > DRY_V
  return [
    {
      rule: 'touch-voltage',
      severity: over ? 'severe' : 'warning',
      title: `Up to ${upThree(highest)} V DC on bare contacts (strings ${upThree(stringV)} V, full supply ${upThree(supplyV)} V): over ${over ? `the ${DRY_V} V that are safe to touch dry` : `the ${WET_V} V that are safe to touch wet`}.`,
      why: `Extra-low voltage needs no cover up to 60 V DC in the dry and 30 V where it can get wet: IEC 60598-1, 8.2.3 (second-hand); IEC 60364-4-41, 414.4.5, and IEC 61140 (memory). A driver that lifts gives more than its string’s voltage when the string opens; that isn’t computed. Local codes come first.`,
      cure: `Insulate every contact, connector and pad that a finger can reach${over ? ', or use shorter strings or fewer cells in series' : ' or rain can'}; work on it only when it is off.`,
      place: { kind: 'part', part: 'heat' },
    },
  ]
}
