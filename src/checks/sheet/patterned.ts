import type { Lamp } from '../../lamp/schema.ts'
import type { Finding } from '../finding.ts'
import type { SheetParts } from '../parts.ts'
import { percent } from '../words.ts'

export function patterned(lamp: Lamp, { patterned: is, figures }: SheetParts): Finding[] {
  if (!is) return []
  const contrast = figures['patternContrast']
  return [
    {
      rule: 'patterned-beam',
      severity: 'warning',
      title: `The beam is patterned: it falls below half or a tenth of its peak and rises again further out${contrast ? ` (contrast ${percent(contrast.value)})` : ''}.`,
      why: 'A lens near its focus throws a picture of the array, and wide gaps between emitters show as dark rings. Beam and field angle are then those of the outermost crossing; half-flux and ninety-flux angles say more.',
      cure: lamp.lens
        ? 'Move the lens a few per cent of its focal length nearer to the emitters, or pack them closer.'
        : 'Pack the emitters closer, or use wider collimators.',
      place: { kind: 'part', part: lamp.lens ? 'lens' : 'emitters' },
    },
  ]
}
