// What isn't known of the own material of a lens or a cover: rules then take the weakest material known here, and say so.
import { elementsOf, labelOf, type RowElement } from '../../lamp/assembly.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { materialOf, materialOfPiece, unknownOf } from '../../library/lensMaterial.ts'
import { elementWords } from '../../library/lensSystem.ts'
import type { Finding, Place } from '../finding.ts'

export function lensMaterial(lamp: Lamp): Finding[] {
  return elementsOf(lamp).flatMap((of) => {
    if (of.kind === 'ideal') return []
    const place = { kind: 'part' as const, part: 'lens' as const, of: labelOf(of) }
    if (of.kind === 'diffuser') return [filmUnknown(of, place)]
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
        place,
      },
    ]
  })
}

function filmUnknown(film: RowElement, place: Place): Finding {
  const { sources, ignites } = materialOfPiece(film) ?? {}
  return {
    rule: 'lens-material-unknown',
    severity: 'note',
    title: `What ${elementWords(film)} is made of isn’t in the document: it is judged as the plastic that gives way first.`,
    why: `${sources?.temperature ?? ''}${ignites ? ` ${ignites.source}.` : ''}`,
    cure: 'Stay well below these limits, or enter a film on a glass or a plastic pane as a cover.',
    place,
  }
}
