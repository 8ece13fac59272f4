// Lenses and covers whose light isn't known place by place: what it does to them isn't judged, which must not pass in silence.
import { elementsOf, mappedElement, unmappedElements } from '../../lamp/assembly.ts'
import { coversPiece } from '../../lamp/body.ts'
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

/** The sun is traced onto the foremost lens alone: what shines past it onto a wider one behind isn't known. */
export function sunBeside(lamp: Lamp): Finding[] {
  const lenses = elementsOf(lamp).filter((e) => e.kind !== 'cover' && e.kind !== 'diffuser')
  const front = lenses.pop()
  const bare = front && lenses.find((under) => !coversPiece(front, under))
  if (!front || !bare) return []
  return [
    {
      rule: 'sun-beside-lens',
      severity: 'warning',
      title: `Sun that shines past ${elementWords(front)} onto ${elementWords(bare)} isn’t traced.`,
      why: 'The sun is followed in through the foremost lens. One behind it that is wider, or stands aside, gathers sunlight by itself as well.',
      cure: 'Cover the whole front in daylight, or trace the lamp once without the lens in front.',
      place: { kind: 'part', part: 'lens' },
    },
  ]
}
