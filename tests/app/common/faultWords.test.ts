import { expect, test } from 'vitest'
import { faultWords } from '../../../src/app/common/faultWords.ts'
import { gannetHead } from '../../../src/library/demos.ts'

test('a path of the file is read out as the page has it, rows by their name; what has none stays', () => {
  const lamp = gannetHead()
  const worded = (fault: string) => faultWords(fault, lamp)
  expect(worded('lens.zMm: too near.')).toBe('Lens, stands at z: too near.')
  expect(worded('boards[3].turnDeg: 400 does not fit: a: b.')).toBe('Board B4, turn: 400 does not fit: a: b.')
  expect(worded('emitterTypes[0].fluxLm: too much.')).toBe('Emitter “5 mm, one small die”, flux when rated: too much.')
  expect(worded('boards: 9 too many.')).toBe('Board: 9 too many.')
  for (const fault of ['No path: here.', 'nothing.like: that', 'words only']) expect(worded(fault)).toBe(fault)
})
