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
