// Fins that are wider than the face.
import type { Lamp } from '../../lamp/schema.ts'
import type { Finding } from '../finding.ts'
import type { PowerParts } from '../powerParts.ts'
import { counted } from '../words.ts'

export function finsTooWide(lamp: Lamp, { sink }: PowerParts): Finding[] {
  const stated = lamp.cooling?.sink
  if (!stated || !('count' in stated) || sink.leftOutFins === 0) return []
  const kind = stated.kind === 'pins' ? 'pin' : 'fin'
  return [
    {
      rule: 'fins-past-face',
      severity: 'warning',
      title: `${counted(sink.leftOutFins, kind)} of ${stated.count} find no room on the face and are left out.`,
      why: 'Count, spacing and thickness together are wider than the plate. The heat is computed without them.',
      cure: 'Fewer or closer ones, or a wider plate.',
      place: { kind: 'part', part: 'heat' },
    },
  ]
}
