// Colours of several emitters together.
import { expect, test } from 'vitest'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { emittedColour } from '../../src/library/emittedColour.ts'

/** Two boards: emitters of one line each, 520 and 610 nm. */
function twoLines(): Lamp {
  const lamp = gannetHead()
  const [emitter, board, type] = [lamp.emitterTypes[0]!, lamp.boards[0]!, lamp.boardTypes[0]!]
  const line = (id: string, wavelengthNm: number) => ({
    ...emitter,
    id,
    spectrum: { kind: 'mono' as const, wavelengthNm },
  })
  return {
    ...lamp,
    emitterTypes: [line('green', 520), line('red', 610)],
    boardTypes: ['green', 'red'].map((id) => ({ ...type, id, emitter: id, sites: [{ xMm: 0, yMm: 0 }] })),
    boards: ['green', 'red'].map((id, i) => ({ ...board, id, type: id, xMm: 40 * i })),
  }
}

test('each by its lumens: alone the place of its line, together on the line between them', () => {
  const lamp = twoLines()
  // CIE 1931 2° observer (ISO/CIE 11664-1; from memory): 520 nm 0.0743 0.8338, 610 nm 0.6658 0.3340. The project's matching functions are fits, good to about 0.02.
  const green = emittedColour(lamp, [7, 0])!
  const red = emittedColour(lamp, [0, 7])!
  expect(Math.hypot(green.x - 0.0743, green.y - 0.8338)).toBeLessThan(0.03)
  expect(Math.hypot(red.x - 0.6658, red.y - 0.334)).toBeLessThan(0.03)
  // By centres of gravity (I. Newton 1704): of luminances a and b the mixture lies at the share (b / y_b) / (a / y_a + b / y_b) of the way.
  const both = emittedColour(lamp, [1, 3])!
  const share = 3 / red.y / (1 / green.y + 3 / red.y)
  expect(both.x).toBeCloseTo(green.x + share * (red.x - green.x), 9)
  expect(both.y).toBeCloseTo(green.y + share * (red.y - green.y), 9)
  expect(emittedColour(lamp, [0, 0])).toBeNull()
})
