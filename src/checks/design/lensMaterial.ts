// What isn't known of a lens's own material: rules then take the weakest material known here, and say so.
import type { Lamp } from '../../lamp/schema.ts'
import { materialOf, unknownOf } from '../../library/lensMaterial.ts'
import type { Finding } from '../finding.ts'

export function lensMaterial({ lens }: Lamp): Finding[] {
  if (!lens || lens.kind === 'ideal') return []
  const unknown = unknownOf(lens)
  if (unknown.length === 0) return []
  const { label, sources, ignites } = materialOf(lens)
  const last = unknown.length > 1 ? `${unknown.slice(0, -1).join(', ')} and ${unknown.at(-1)}` : unknown[0]
  return [
    {
      rule: 'lens-material-unknown',
      severity: 'note',
      title: `Of “${label}”, which the lens is made of, it isn’t known ${last}.`,
      why: `${sources.temperature}${ignites ? ` ${ignites.source}.` : ''}`,
      cure: 'Take it from the data sheet of the material, or stay well below what is taken.',
      place: { kind: 'part', part: 'lens' },
    },
  ]
}
