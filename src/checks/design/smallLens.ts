import type { Lamp } from '../../lamp/schema.ts'
import type { Finding } from '../finding.ts'
import { mm, percent } from '../words.ts'

export function smallLens(lamp: Lamp): Finding[] {
  const { lens, tunnel } = lamp
  if (!lens || !tunnel || lens.diameterMm >= tunnel.outMm) return []
  const missed = 1 - (lens.diameterMm / tunnel.outMm) ** 2
  return [
    {
      rule: 'lens-smaller-than-mouth',
      severity: 'warning',
      title: `The lens of ${mm(lens.diameterMm)} is smaller than the tunnel’s mouth of ${mm(tunnel.outMm)}: up to ${percent(missed)} of the mouth lies outside it.`,
      why: 'Light from the rim of the mouth misses the lens: it is lost, dazzles to the side, or heats the lens holder.',
      cure: `Take a lens of at least ${mm(tunnel.outMm)}, or narrow the tunnel’s mouth to ${mm(lens.diameterMm)}.`,
      place: { kind: 'part', part: 'lens' },
    },
  ]
}
