// A fan whose curve drives no air through this sink.
import type { Lamp } from '../../lamp/schema.ts'
import type { Finding } from '../finding.ts'
import type { PowerParts } from '../powerParts.ts'

/** Slower than what rises by itself between warm fins (common practice, no source). */
const IDLE_MS = 0.1

export function fanIdle({ cooling }: Lamp, { sink }: PowerParts): Finding[] {
  if (cooling?.air.kind !== 'fan' || sink.speedMS === null || sink.speedMS >= IDLE_MS) return []
  return [
    {
      rule: 'fan-idle',
      severity: 'warning',
      title: `The fan drives ${sink.speedMS === 0 ? 'no air' : 'hardly any air'} through the sink: it cools as in still air.`,
      why: 'Its curve gives too little pressure, or too little flow, for these channels. The heat is computed with what air does by itself.',
      cure: 'Enter the fan’s curve (flow over pressure) from its data, or take one with more pressure, or fins further apart.',
      place: { kind: 'part', part: 'heat' },
    },
  ]
}
