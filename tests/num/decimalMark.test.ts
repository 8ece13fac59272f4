// Sentences in the decimal mark of their reader. Marks by language: Unicode CLDR 44 (2023), numbers, symbols: de, fr, pl, ru “,”; en, ja, de-CH “.”.
// Semicolons between decimal numbers: Duden, rules of spelling (2006), and usual in Germany and France (from memory).
import { describe, expect, test } from 'vitest'
import { decimalMarkOf, htmlWithDecimalMark, ownWords, withDecimalMark } from '../../src/num/decimalMark.ts'

test.each([
  ['de-DE', ','],
  ['fr', ','],
  ['pl', ','],
  ['ru', ','],
  ['en-US', '.'],
  ['en-GB', '.'],
  ['ja', '.'],
  ['de-CH', '.'],
  ['ar-EG', '.'],
  ['C', '.'],
  ['', '.'],
  ['de_DE.UTF-8', '.'],
])('%s writes %s', (language, mark) => expect(decimalMarkOf(language)).toBe(mark))

describe('a sentence with commas', () => {
  test.each([
    ['5.985 ± 0.040 Mcd', '5,985 ± 0,040 Mcd'],
    ['58\u202f653.5 lm, −6.7 m.', '58\u202f653,5 lm, −6,7 m.'],
    ['at −6.7, −3.8 mm', 'at −6,7; −3,8 mm'],
    ['x 1.5, y 2.5', 'x 1,5, y 2,5'],
    ['boards 3, 5', 'boards 3, 5'],
    ['M2.5 × 12, R0.5 mm, Ø3.2', 'M2,5 × 12, R0,5 mm, Ø3,2'],
    ['f/2.8, 2.5e-3', 'f/2,8; 2,5e-3'],
    ['Ends at 3. 5 boards follow.', 'Ends at 3. 5 boards follow.'],
    ['“Lamp 1.5” has 1.5 mm', '“Lamp 1.5” has 1,5 mm'],
    ['lamp-1.5.json of 1.5 kB', 'lamp-1.5.json of 1,5 kB'],
    ['NFPA 79 table 12.5 and 2.5 mm²', 'NFPA 79 table 12.5 and 2,5 mm²'],
    ['IEC 62471, 4.3.2', 'IEC 62471, 4.3.2'],
    ['Lampwright 0.1.0, v1.5', 'Lampwright 0.1.0, v1.5'],
    ['arXiv:1604.00772; doi 10.1016/j.x', 'arXiv:1604.00772; doi 10.1016/j.x'],
  ])('%s', (text, shown) => {
    expect(withDecimalMark(text, ',')).toBe(shown)
    expect(withDecimalMark(shown, ',')).toBe(shown)
    expect(withDecimalMark(text, '.')).toBe(text)
  })
})

test('of a page only the words', () =>
  expect(htmlWithDecimalMark('<style>a{top:1.5em}</style><p style="top:1.5em">1.5 m</p>', ',')).toBe(
    '<style>a{top:1.5em}</style><p style="top:1.5em">1,5 m</p>',
  ))

test('the text of an element that is not to be translated keeps its points', () =>
  expect(htmlWithDecimalMark('<h1>1.5 <small translate="no">Lamp 1.5</small> 2.5</h1>', ',')).toBe(
    '<h1>1,5 <small translate="no">Lamp 1.5</small> 2,5</h1>',
  ))

// How builders name things: invented.
describe('names keep the points that they were written with', () => {
  const own = ownWords(['Board 1.5 mm', 'Board 1.5 mm, 2', '1.5 A', 'R&D 2.5', 'a.b (1.5)*', '1.5'])
  test.each([
    ['Board 1.5 mm: current 1.5 A', 'Board 1.5 mm: current 1,5 A'],
    ['Of board 1.5 mm, 2 the lens is at 1.5, 2.5', 'Of board 1.5 mm, 2 the lens is at 1,5; 2,5'],
    ['1.5 A: 89 min until 1.5 A flow', '1.5 A: 89 min until 1,5 A flow'],
    ['1.5 A', '1.5 A'],
    ['11.5 A, 1.5 Ah', '11,5 A, 1,5 Ah'],
    ['The a.b (1.5)* is 1.5 wide', 'The a.b (1.5)* is 1,5 wide'],
    ['Board 1.5 mmx and Board 1.5 mm.5', 'Board 1,5 mmx and Board 1,5 mm.5'],
    ['“Board 1.5 mm, 3” is 1.5 wide', '“Board 1.5 mm, 3” is 1,5 wide'],
  ])('%s', (text, shown) => {
    expect(withDecimalMark(text, ',', () => own)).toBe(shown)
    expect(withDecimalMark(shown, ',', () => own)).toBe(shown)
  })
  test('escaped in the text of a page', () =>
    expect(htmlWithDecimalMark('<p>R&amp;D 2.5 has 2.5</p>', ',', () => own)).toBe('<p>R&amp;D 2.5 has 2,5</p>'))
})
