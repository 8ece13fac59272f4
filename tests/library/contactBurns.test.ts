import { expect, test } from 'vitest'
import { burningContact, contactWords } from '../../src/library/contactBurns.ts'

// ISO 13732-1:2006 (EN 563:1994), lower ends of its bands, from memory: 1 s, 10 s, 1 min, 10 min, 8 h.
test.each([
  ['metal', [65, 55, 51, 48, 43]],
  ['glass', [80, 66, 56, 48, 43]],
  ['plastic', [85, 71, 60, 48, 43]],
] as const)('%s burns from these temperatures on', (surface, celsius) => {
  const seconds = [1, 10, 60, 600, 28_800]
  for (const [i, c] of celsius.entries()) {
    expect(burningContact(surface, c)!.seconds, `${c} °C`).toBe(seconds[i])
    expect(burningContact(surface, c - 0.01)?.seconds ?? null, `under ${c} °C`).toBe(seconds[i + 1] ?? null)
  }
  expect(burningContact(surface, 500)!.words).toBe('a second or less')
})

test('in words', () => {
  expect(contactWords('metal')).toBe('65 °C for 1 s, 55 °C for 10 s, 51 °C for 1 min, 48 °C for 10 min, 43 °C for 8 h')
  expect(burningContact('plastic', 60)!.words).toBe('a minute')
})
