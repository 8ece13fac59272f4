// Sun that is not traced because it shines past the foremost lens.
import { elementsOf } from '../../lamp/assembly.ts'
import { coversPiece } from '../../lamp/body.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { elementWords } from '../../library/lensSystem.ts'
import type { Finding } from '../finding.ts'

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
