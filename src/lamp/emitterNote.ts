// The line of an emitter's note that says where its light over angle comes from.
import { LIMITS } from './limits.ts'

const LINE = 'Light over angle: '

/** The note with that line replaced, taken out (null), or left out where the note would be too long for the document. */
export function withLightNote(note: string, from: string | null): string {
  const others = note
    .split('\n')
    .filter((line) => !line.startsWith(LINE))
    .join('\n')
  if (from === null) return others
  const line = `${LINE}${from}`.replaceAll('\n', ' ')
  const all = others === '' ? line : `${others}\n${line}`
  return all.length > LIMITS.textChars ? others : all
}
