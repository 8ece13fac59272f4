import type { Lamp } from '../../lamp/schema.ts'
import type { Finding } from '../finding.ts'

export function noEmitters(lamp: Lamp): Finding[] {
  if (lamp.boards.length > 0) return []
  return [
    {
      rule: 'no-emitters',
      severity: 'severe',
      title: 'There are no boards on the face: the lamp gives no light.',
      why: 'Without emitters nothing can be computed.',
      cure: 'Place boards on the face, by hand or by filling it.',
      place: { kind: 'part', part: 'emitters' },
    },
  ]
}
