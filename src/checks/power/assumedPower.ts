// A lamp whose document doesn't describe its cooling or its supply.
import type { Lamp } from '../../lamp/schema.ts'
import { coolingOf, powerOf } from '../../library/typicalPower.ts'
import type { Finding } from '../finding.ts'

export function assumedPower(lamp: Lamp): Finding[] {
  const warnings = [...coolingOf(lamp).assumptions, ...powerOf(lamp).assumptions]
  if (warnings.length === 0 || lamp.boards.length === 0) return []
  return [
    {
      rule: 'power-unsaid',
      severity: 'note',
      title: warnings.length > 1 ? 'Neither cooling nor supply is described.' : warnings[0]!,
      why: `Heat and power are then computed with typical ones: ${warnings.join(' ')}`,
      cure: 'Describe plate, sink, drivers, supply and wires, so that times and temperatures are this lamp’s.',
      place: { kind: 'part', part: 'heat' },
    },
  ]
}
