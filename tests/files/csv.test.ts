import { expect, test } from 'vitest'
import { csvText } from '../../src/files/csv.ts'

// RFC 4180 (2005), section 2: rules 1, 5, 6 and 7.
test('rows end in CR LF; commas, quotes and line breaks stand in quotes, a quote twice', () => {
  expect(
    csvText([
      ['a', 'b,c', 'say "when"', 'two\nlines'],
      [1.5, -2e-7, null, ''],
    ]),
  ).toBe('a,"b,c","say ""when""","two\nlines"\r\n1.5,-2e-7,,\r\n')
})

test('what is no number is an empty cell, never NaN or Infinity', () => {
  expect(csvText([[Number.NaN, Number.POSITIVE_INFINITY, 0]])).toBe(',,0\r\n')
})

test('where the comma is the decimal mark, semicolons separate, and a cell with one stands in quotes', () => {
  expect(
    csvText(
      [
        ['a', 'b,c', 'd; e'],
        [1.5, -2e-7, 1000],
      ],
      ',',
    ),
  ).toBe('a;b,c;"d; e"\r\n1,5;-2e-7;1000\r\n')
})
