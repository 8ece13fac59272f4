// A lamp whose document doesn't describe its cooling or its supply.
import type { Lamp } from '../../lamp/schema.ts'
import { coolingOf, powerOf } from '../../library/typicalPower.ts'
import type { Finding } from '../finding.ts'

export function assumedPower(lamp: Lamp): Finding[] {
  const said = [...coolingOf(lamp).said, ...powerOf(lamp).said]
  if (said.length === 0 || lamp.boards.length === 0) return []
  return [
    {
      rule: 'power-unsaid',
      severity: 'note',
      title: said.length > 1 ? 'Neither cooling nor supply is described.' : said[0]!,
      why: `Heat and power are then computed with typical ones: ${said.join(' ')}`,
      cure: 'Describe plate, sink, drivers, supply and wires, so that times and temperatures are this lamp’s.',
      place: { kind: 'part', part: 'heat' },
    },
  ]
}
