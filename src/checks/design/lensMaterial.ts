// What isn't known of the own material of a lens or a cover: rules then take the weakest material known here, and say so.
import { elementsOf } from '../../lamp/assembly.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { materialOf, unknownOf } from '../../library/lensMaterial.ts'
import { elementWords } from '../../library/lensSystem.ts'
import type { Finding } from '../finding.ts'

export function lensMaterial(lamp: Lamp): Finding[] {
  return elementsOf(lamp).flatMap((of) => {
    if (of.kind === 'ideal' || of.kind === 'diffuser') return []
    const unknown = unknownOf(of)
    if (unknown.length === 0) return []
    const { label, sources, ignites } = materialOf(of)
    const last = unknown.length > 1 ? `${unknown.slice(0, -1).join(', ')} and ${unknown.at(-1)}` : unknown[0]
    return [
      {
        rule: 'lens-material-unknown',
        severity: 'note' as const,
        title: `Of “${label}”, which ${elementWords(of)} is made of, it isn’t known ${last}.`,
        why: `${sources.temperature}${ignites ? ` ${ignites.source}.` : ''}`,
        cure: 'Take it from the data sheet of the material, or stay well below what is taken.',
        place: { kind: 'part' as const, part: 'lens' as const },
      },
    ]
  })
}
