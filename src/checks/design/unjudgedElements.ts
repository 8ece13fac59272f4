// Lenses and covers whose light isn't known place by place: what it does to them isn't judged, which must not pass in silence.
import { mappedElement, unmappedElements } from '../../lamp/assembly.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { elementWords } from '../../library/lensSystem.ts'
import type { Finding } from '../finding.ts'

export function unjudgedElements(lamp: Lamp): Finding[] {
  const mapped = mappedElement(lamp)
  if (!mapped) return []
  const others = unmappedElements(lamp).filter((e) => e.kind !== 'ideal')
  if (others.length === 0) return []
  const names = others.map(elementWords)
  const all = names.length > 1 ? `${names.slice(0, -1).join(', ')} and ${names.at(-1)}` : names[0]
  return [
    {
      rule: 'element-light-unknown',
      severity: 'warning',
      title: `How hot the light makes ${all} isn’t judged: only that on ${elementWords(mapped)} is known place by place.`,
      why: 'The run maps the light on the lens, or without one on what light from the face meets first. Behind a lens that gathers it, light can be far stronger than on the lens itself. Of the others only the heat of the face is reckoned with.',
      cure: 'Glass there, well outside of any focus; feel it (lamp off) after the first ten minutes.',
      place: { kind: 'part', part: 'lens' },
    },
  ]
}
